// SPDX-License-Identifier: GPL-3.0-or-later
// Where each saw cut goes on what is bought.
#pragma once

#include <bellmouth/buy.hpp>

namespace bellmouth::buy {

/// What comes out of each bought or owned thing that is sawn, as a table "sawing": one row for each piece and
/// for each offcut worth naming, in order from the inlet end of the thing. Places are counted in mm along the
/// centreline from that end; between neighbours lies a kerf. The purchase must be one of that build.
[[nodiscard]] list::Table sawing(const build::Build& build, const Purchase& purchase);

} // namespace bellmouth::buy
