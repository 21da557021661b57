// SPDX-License-Identifier: GPL-3.0-or-later
// How far a plan that is not proven may be from the least.
#pragma once

#include <bellmouth/buy.hpp>

#include <string>

namespace bellmouth::buy {

/// Plan::bound in the words of the aim: "312.40 EUR", "2 suppliers", "3 offcuts".
[[nodiscard]] std::string bound_text(const Purchase& purchase);

} // namespace bellmouth::buy
