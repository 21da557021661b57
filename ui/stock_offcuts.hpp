// SPDX-License-Identifier: GPL-3.0-or-later
// What is left over of one item of the stock.
#pragma once

#include "session.hpp"
#include "sheet.hpp"

class QPushButton;

namespace bellmouth::ui {

/// Lengths of tube or hose; of bends what is left of the arc, with its straights.
class StockOffcuts : public QWidget {
  Q_OBJECT

public:
  explicit StockOffcuts(Session& session, QWidget* parent = nullptr);
  /// Shows the offcuts of an item, which there is.
  void show_item(const build::StockId& id);

private:
  [[nodiscard]] std::vector<SheetColumn> columns();
  [[nodiscard]] const build::StockItem* item() const;
  [[nodiscard]] std::vector<build::Offcut> offcuts() const;
  std::optional<QString> put(std::vector<build::Offcut> offcuts, const QString& what);
  SheetColumn quantity_column(const QString& title, const QString& tip, double build::Offcut::*member,
                              quantity::Dimension dimension);
  void add();
  void remove();

  Session& session_;
  build::StockId id_;
  bool bent_ = false;
  Sheet* sheet_;
  QPushButton *add_, *remove_;
};

} // namespace bellmouth::ui
