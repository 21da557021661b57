// SPDX-License-Identifier: GPL-3.0-or-later
// Measured points of a curve: two quantities a row, rows to add and take away.
#pragma once

#include "quantity_edit.hpp"

#include <QWidget>

#include <utility>
#include <vector>

class QGridLayout;

namespace bellmouth::ui {

class WrappedLabel;

class PointTable : public QWidget {
  Q_OBJECT

public:
  /// One column: what it is called and what it holds.
  struct Column {
    QString title;
    QuantityKind kind;
  };
  using Point = std::pair<double, double>;

  PointTable(Column first, Column second, QWidget* parent = nullptr);

  [[nodiscard]] const std::vector<Point>& points() const { return points_; }
  void set_points(std::vector<Point> points);
  void set_error(const QString& text);
  void set_names(const QString& object_name, const QString& accessible_name);

signals:
  void edited();

private:
  struct Row {
    QuantityEdit* first;
    QuantityEdit* second;
    QWidget* remove;
  };
  void fit_rows();
  void add_row();
  void remove_row(std::size_t row);

  Column first_, second_;
  std::vector<Point> points_;
  std::vector<Row> rows_;
  QGridLayout* grid_;
  QWidget* add_;
  WrappedLabel* error_;
  QString accessible_name_;
};

} // namespace bellmouth::ui
