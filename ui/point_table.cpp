// SPDX-License-Identifier: GPL-3.0-or-later
#include "point_table.hpp"

#include "theme.hpp"
#include "wrapped_label.hpp"

#include <QGridLayout>
#include <QLabel>
#include <QToolButton>
#include <QVBoxLayout>

namespace bellmouth::ui {

PointTable::PointTable(Column first, Column second, QWidget* parent)
    : QWidget(parent), first_(std::move(first)), second_(std::move(second)), column_(new QVBoxLayout(this)),
      grid_(new QGridLayout), add_(nullptr), error_(new WrappedLabel(this)) {
  column_->setContentsMargins(0, 0, 0, 0);
  column_->setSpacing(gap);
  grid_->setHorizontalSpacing(gap);
  grid_->setVerticalSpacing(2);
  int at = 0;
  for (const Column* each : {&first_, &second_}) {
    auto* title = new QLabel(each->title, this);
    title->setFont(small_font());
    title->setForegroundRole(QPalette::PlaceholderText);
    grid_->addWidget(title, 0, at++);
  }
  column_->addLayout(grid_);
  auto* add = new QToolButton(this);
  add->setText(tr("Add a point"));
  add->setToolButtonStyle(Qt::ToolButtonTextOnly);
  connect(add, &QToolButton::clicked, this, &PointTable::add_row);
  add_ = add;
  column_->addWidget(add);
  error_->hide();
  column_->addWidget(error_);
}

void PointTable::use_files(Csv csv) {
  const auto write = [this, write = std::move(csv.write)] { return write(points_); };
  const auto take = [this, read = std::move(csv.read)](const std::string& text,
                                                       const std::string& file) -> std::optional<Error> {
    auto points = read(text, file);
    if (!points)
      return points.error();
    set_points(*std::move(points));
    emit edited();
    return std::nullopt;
  };
  bar_ = new TableFileBar(std::move(csv.files), std::move(csv.proposed), take, write, this);
  column_->insertWidget(column_->indexOf(error_), bar_);
}

void PointTable::set_names(const QString& object_name, const QString& accessible_name) {
  setObjectName(object_name);
  accessible_name_ = accessible_name;
  add_->setObjectName(object_name + "_add");
  add_->setAccessibleName(tr("Add a point to %1").arg(accessible_name));
  error_->setObjectName(object_name + "_error");
  if (bar_ != nullptr)
    bar_->set_names(object_name, accessible_name);
}

void PointTable::set_points(std::vector<Point> points) {
  points_ = std::move(points);
  fit_rows();
  for (std::size_t i = 0; i < points_.size(); ++i) {
    rows_[i].first->set_value(points_[i].first);
    rows_[i].second->set_value(points_[i].second);
  }
  set_error({});
  if (bar_ != nullptr)
    bar_->complain({});
}

void PointTable::set_error(const QString& text) {
  show_complaint(*error_, text);
}

void PointTable::fit_rows() {
  while (rows_.size() > points_.size()) {
    for (QWidget* widget :
         std::initializer_list<QWidget*>{rows_.back().first, rows_.back().second, rows_.back().remove}) {
      grid_->removeWidget(widget);
      widget->hide();
      widget->deleteLater(); // it may be the one whose signal is being handled
    }
    rows_.pop_back();
  }
  while (rows_.size() < points_.size()) {
    const std::size_t row = rows_.size();
    const int grid_row = static_cast<int>(row) + 1;
    auto* first = new QuantityEdit(first_.kind, this);
    auto* second = new QuantityEdit(second_.kind, this);
    auto* remove = new QToolButton(this);
    remove->setText(QString(QChar(0x2212)));
    remove->setToolTip(tr("Take this point away"));
    const QString name = QString("%1_%2").arg(objectName()).arg(row);
    const QString spoken = tr("%1, point %2, %3");
    first->set_names(name + "_first", spoken.arg(accessible_name_).arg(row + 1).arg(first_.title));
    second->set_names(name + "_second", spoken.arg(accessible_name_).arg(row + 1).arg(second_.title));
    remove->setObjectName(name + "_remove");
    remove->setAccessibleName(tr("Take point %1 away from %2").arg(row + 1).arg(accessible_name_));
    connect(first, &QuantityEdit::edited, this, [this, row, first] {
      points_[row].first = first->value().value_or(0);
      emit edited();
    });
    connect(second, &QuantityEdit::edited, this, [this, row, second] {
      points_[row].second = second->value().value_or(0);
      emit edited();
    });
    connect(remove, &QToolButton::clicked, this, [this, row] { remove_row(row); });
    grid_->addWidget(first, grid_row, 0, Qt::AlignTop);
    grid_->addWidget(second, grid_row, 1, Qt::AlignTop);
    grid_->addWidget(remove, grid_row, 2, Qt::AlignTop);
    rows_.push_back({first, second, remove});
  }
  for (const Row& row : rows_)
    row.remove->setEnabled(rows_.size() > 1);
}

void PointTable::add_row() {
  std::vector<Point> points = points_;
  // Half as far again as the last point: a place to start typing from that keeps the order.
  const Point last = points.empty() ? Point{0, 0} : points.back();
  points.emplace_back(1.5 * last.first, last.second);
  set_points(std::move(points));
  emit edited();
}

void PointTable::remove_row(std::size_t row) {
  std::vector<Point> points = points_;
  points.erase(points.begin() + static_cast<std::ptrdiff_t>(row));
  set_points(std::move(points));
  emit edited();
}

} // namespace bellmouth::ui
