// SPDX-License-Identifier: GPL-3.0-or-later
// Postage of each supplier, and how much more of each kind is bought than is needed.
#pragma once

#include "session.hpp"
#include "sheet.hpp"

#include <QWidget>

namespace bellmouth::ui {

class BudgetTables : public QWidget {
  Q_OBJECT

public:
  explicit BudgetTables(Session& session, QWidget* parent = nullptr);
  void refresh();

private:
  [[nodiscard]] std::vector<SheetColumn> postage_columns();
  [[nodiscard]] std::vector<SheetColumn> spare_columns();
  /// The postage of the supplier in a row, if there is any.
  [[nodiscard]] const build::Postage* postage(int row) const;
  std::optional<QString> set_postage(int row, const QString& typed);
  std::optional<QString> set_free_from(int row, const QString& typed);
  [[nodiscard]] int spare_percent(build::StockKind kind) const;
  std::optional<QString> set_spare(int row, const QString& typed);
  std::optional<QString> apply(build::Budget budget, const QString& what);

  Session& session_;
  QStringList suppliers_;               ///< rows of the one
  std::vector<build::StockKind> kinds_; ///< and of the other
  Sheet *postage_ = nullptr, *spares_ = nullptr;
};

} // namespace bellmouth::ui
