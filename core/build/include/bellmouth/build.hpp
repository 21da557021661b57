// SPDX-License-Identifier: GPL-3.0-or-later
// The document as plain values, the edits a user can make, and its files.
#pragma once

#include <bellmouth/build/document.hpp>
#include <bellmouth/build/edits.hpp>
#include <bellmouth/build/files.hpp>
#include <bellmouth/build/pieces.hpp>
#include <bellmouth/build/thresholds.hpp>
