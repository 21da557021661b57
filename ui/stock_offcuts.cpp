// SPDX-License-Identifier: GPL-3.0-or-later
#include "stock_offcuts.hpp"

#include "quantity_edit.hpp"
#include "stock_edits.hpp"
#include "stock_text.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <QHBoxLayout>
#include <QPushButton>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

using build::Offcut;
using quantity::Dimension;

StockOffcuts::StockOffcuts(Session& session, QWidget* parent)
    : QWidget(parent), session_(session),
      sheet_(new Sheet(
          "stock_offcuts", tr("Offcuts"),
          tr("Nothing left over. Offcuts are used before anything is bought."), [this] { return columns(); },
          [this] {
            QStringList keys;
            const std::size_t count = offcuts().size();
            for (std::size_t i = 0; i < count; ++i)
              keys << QString("%1/%2/%3").arg(QString::fromStdString(id_.text)).arg(count).arg(i);
            return keys;
          },
          this)),
      add_(new QPushButton(tr("Add an offcut"), this)), remove_(new QPushButton(tr("Remove"), this)) {
  setObjectName("stock_offcut_list");
  add_->setObjectName("add_offcut");
  add_->setToolTip(tr("Then type its sizes"));
  remove_->setObjectName("remove_offcut");
  remove_->setAccessibleName(tr("Remove the picked offcut"));
  constexpr int height_px = 96;
  sheet_->setMinimumHeight(height_px);
  auto* buttons = new QHBoxLayout;
  buttons->setSpacing(gap);
  buttons->addWidget(add_);
  buttons->addWidget(remove_);
  buttons->addStretch(1);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  column->addWidget(sheet_);
  column->addLayout(buttons);
  connect(add_, &QPushButton::clicked, this, &StockOffcuts::add);
  connect(remove_, &QPushButton::clicked, this, &StockOffcuts::remove);
}

void StockOffcuts::show_item(const build::StockId& id) {
  const bool other = id != id_;
  id_ = id;
  bent_ = item() != nullptr && leaves_bent_offcuts(item()->kind);
  sheet_->refresh();
  if (other)
    sheet_->show_picked(std::nullopt);
  remove_->setEnabled(!offcuts().empty());
}

const build::StockItem* StockOffcuts::item() const {
  return session_.build().find(id_);
}
std::vector<Offcut> StockOffcuts::offcuts() const {
  return offcuts_of(session_.build(), id_);
}

std::optional<QString> StockOffcuts::put(std::vector<Offcut> offcuts, const QString& what) {
  const auto error = session_.apply(with_offcuts_of(session_.build(), id_, std::move(offcuts)), what);
  return error ? std::optional(complaint(*error)) : std::nullopt;
}

SheetColumn StockOffcuts::quantity_column(const QString& title, const QString& tip, double Offcut::*member,
                                          Dimension dimension) {
  return {.title = title,
          .tip = tip,
          .text =
              [this, member, dimension](int row) {
                return ui::show(dimension, offcuts().at(static_cast<std::size_t>(row)).*member, 5);
              },
          .set = [this, member, dimension, title](int row, const QString& typed) -> std::optional<QString> {
            const auto read = quantity::read(
                dimension, typed.toStdString(),
                {.default_unit = shown_unit(dimension), .decimal = decimal_sign(), .ambient_Pa = {}});
            if (!read)
              return complaint(read.error());
            std::vector<Offcut> all = offcuts();
            all.at(static_cast<std::size_t>(row)).*member = *read;
            return put(std::move(all),
                       tr("Change %1 of an offcut of %2").arg(title.toLower(), stock_title(*item())));
          },
          .number = true};
}

std::vector<SheetColumn> StockOffcuts::columns() {
  std::vector<SheetColumn> columns{
      {.title = tr("Count"),
       .tip = tr("How many of this size"),
       .text = [this](int row) { return QString::number(offcuts().at(static_cast<std::size_t>(row)).count); },
       .set = [this](int row, const QString& typed) -> std::optional<QString> {
         bool number = false;
         const int count = typed.toInt(&number);
         if (!number)
           return tr("found \"%1\"; accepted: a whole number from 1").arg(typed);
         std::vector<Offcut> all = offcuts();
         all.at(static_cast<std::size_t>(row)).count = count;
         return put(std::move(all), tr("Change the count of an offcut of %1").arg(stock_title(*item())));
       },
       .number = true}};
  if (!bent_) {
    columns.push_back(
        quantity_column(tr("Length"), tr("End to end"), &Offcut::straight_in_m, Dimension::length));
    return columns;
  }
  columns.push_back(
      quantity_column(tr("Straight"), tr("Before the arc"), &Offcut::straight_in_m, Dimension::length));
  columns.push_back(quantity_column(tr("Angle"), tr("What is left of the arc; 0 of a straight leg"),
                                    &Offcut::angle_rad, Dimension::angle));
  columns.push_back(quantity_column(tr("Straight behind"), tr("Behind the arc"), &Offcut::straight_out_m,
                                    Dimension::length));
  return columns;
}

void StockOffcuts::add() {
  const build::StockItem& of = *item();
  // To start from: half of what is bought, or a hand's breadth and more of what comes by the metre.
  constexpr double usual_length_m = 0.3, usual_arc_rad = 0.7853981633974483;
  Offcut made{.stock = id_};
  if (bent_) {
    made.straight_in_m = of.leg_in_m.value_or(0);
    made.angle_rad = of.angle_rad ? *of.angle_rad / 2 : usual_arc_rad;
  } else {
    made.straight_in_m = of.length_m ? *of.length_m / 2 : usual_length_m;
  }
  std::vector<Offcut> all = offcuts();
  all.push_back(std::move(made));
  const auto last = static_cast<int>(all.size()) - 1;
  if (!put(std::move(all), tr("Add an offcut of %1").arg(stock_title(of))))
    sheet_->show_picked(last);
}

void StockOffcuts::remove() {
  std::vector<Offcut> all = offcuts();
  if (all.empty())
    return;
  all.erase(all.begin() + sheet_->picked_row().value_or(static_cast<int>(all.size()) - 1));
  // Nothing that is taken away can make a build wrong.
  [[maybe_unused]] const auto why =
      put(std::move(all), tr("Remove an offcut of %1").arg(stock_title(*item())));
}

} // namespace bellmouth::ui
