// SPDX-License-Identifier: GPL-3.0-or-later
// Measured points of a curve: two quantities a row, rows to add and take away.
#pragma once

#include "quantity_edit.hpp"
#include "table_files.hpp"

#include <QWidget>

#include <functional>
#include <string>
#include <utility>
#include <vector>

class QGridLayout;
class QVBoxLayout;

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
  /// How the points stand in a file.
  struct Csv {
    TableFiles files;
    QString proposed; ///< what a new file is called
    std::function<Result<std::vector<Point>>(const std::string& text, const std::string& file)> read;
    std::function<std::string(const std::vector<Point>&)> write;
  };

  PointTable(Column first, Column second, QWidget* parent = nullptr);

  [[nodiscard]] const std::vector<Point>& points() const { return points_; }
  void set_points(std::vector<Point> points);
  void set_error(const QString& text);
  /// Offers to read the points from a file and to write them to one; before set_names().
  void use_files(Csv csv);
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
  QVBoxLayout* column_;
  QGridLayout* grid_;
  QWidget* add_;
  TableFileBar* bar_ = nullptr;
  WrappedLabel* error_;
  QString accessible_name_;
};

} // namespace bellmouth::ui
