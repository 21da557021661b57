// SPDX-License-Identifier: GPL-3.0-or-later
// A heading with a read-only table under it.
#pragma once

#include "comparison.hpp"

#include <QWidget>

class QLabel;
class QStackedWidget;
class QTableView;

namespace bellmouth::ui {

class TitledTable : public QWidget {
  Q_OBJECT

public:
  /// `empty` is shown in place of a table without rows.
  TitledTable(const QString& name, const QString& title, const QString& empty, QWidget* parent = nullptr);
  void show_table(TextTable table);
  /// The last column holds sentences and takes the room that is left.
  void set_words_last();
  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] QSize minimumSizeHint() const override;

protected:
  void changeEvent(QEvent* event) override;

private:
  [[nodiscard]] int natural_height() const;

  TextTableModel* model_;
  QLabel* title_;
  QTableView* view_;
  QLabel* empty_;
  QStackedWidget* stack_;
  bool words_last_ = false;
};

} // namespace bellmouth::ui
