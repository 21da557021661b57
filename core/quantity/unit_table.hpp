// SPDX-License-Identifier: GPL-3.0-or-later
// What the readers need of the units beyond the public face.
#pragma once

#include <bellmouth/quantity.hpp>

#include <string_view>

namespace bellmouth::quantity::detail {

/// "length", "mass flow" and so on, for messages.
[[nodiscard]] std::string_view name(Dimension dimension);

/// The unit behind a symbol or another usual spelling; null if the dimension has none such.
[[nodiscard]] const Unit* unit_by_spelling(Dimension dimension, std::string_view spelling);

/// A dimension that has such a unit, for "that is a unit of ..."; nullopt if none has.
[[nodiscard]] std::optional<Dimension> dimension_by_spelling(std::string_view spelling);

} // namespace bellmouth::quantity::detail
