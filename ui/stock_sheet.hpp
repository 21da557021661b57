// SPDX-License-Identifier: GPL-3.0-or-later
// The sheet of one item of the stock: all its fields, and its offcuts.
#pragma once

#include "session.hpp"
#include "stock_fields.hpp"

#include <QScrollArea>

#include <memory>
#include <optional>

class QToolButton;

namespace bellmouth::ui {

class StockOffcuts;

class StockSheet : public QScrollArea {
  Q_OBJECT

public:
  explicit StockSheet(Session& session, QWidget* parent = nullptr);
  /// Shows an item, or that none is picked.
  void show_item(const std::optional<build::StockId>& id);
  /// What is shown; unset: nothing.
  [[nodiscard]] const std::optional<build::StockId>& item() const { return id_; }
  /// Gives the focus to the first field that is typed.
  void focus_first();

signals:
  void close_requested();

protected:
  void showEvent(QShowEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;

private:
  void refresh();
  [[nodiscard]] QString where_used(const build::StockItem& item) const;
  [[nodiscard]] std::optional<StockEntry> entry() const;
  std::optional<Error> apply(StockEntry next, const QString& key, const QString& label);

  Session& session_;
  std::optional<build::StockId> id_;
  bool stale_ = true; ///< hidden, and behind the build
  QLabel* title_;
  WrappedLabel* where_;
  QToolButton* close_;
  std::unique_ptr<Form<StockEntry>> form_;
  QWidget* offcuts_box_;
  StockOffcuts* offcuts_;
};

} // namespace bellmouth::ui
