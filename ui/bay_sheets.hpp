// SPDX-License-Identifier: GPL-3.0-or-later
// The columns of the two tables of the bay: ports and keep-outs. What is typed becomes an edit of the
// session.
#pragma once

#include "session.hpp"
#include "sheet.hpp"

namespace bellmouth::ui {

[[nodiscard]] std::vector<SheetColumn> port_columns(Session& session);
[[nodiscard]] QStringList port_keys(const Session& session);
[[nodiscard]] std::vector<SheetColumn> keep_out_columns(Session& session);
/// Change when keep-outs come or go, so that no complaint moves to another one.
[[nodiscard]] QStringList keep_out_keys(const Session& session);

/// Reads what is typed into a cell of one length.
[[nodiscard]] Result<double> typed_length(const QString& typed);

} // namespace bellmouth::ui
