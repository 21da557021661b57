// SPDX-License-Identifier: GPL-3.0-or-later
// The rows of the budget in the form of the build: currency, limit, tax.
#pragma once

#include "form.hpp"

#include <bellmouth/build.hpp>

namespace bellmouth::ui {

[[nodiscard]] std::vector<FormRow<build::Build>> budget_rows();

/// Reads an amount in the currency of the budget, not below nothing; empty: none. Or a complaint.
[[nodiscard]] std::variant<std::optional<quantity::Money>, QString>
read_amount(const QString& typed, const quantity::Currency& currency);

} // namespace bellmouth::ui
