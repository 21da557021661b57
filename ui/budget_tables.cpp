// SPDX-License-Identifier: GPL-3.0-or-later
#include "budget_tables.hpp"

#include "budget_fields.hpp"
#include "fact_list.hpp"
#include "quantity_edit.hpp"
#include "theme.hpp"
#include "threshold_text.hpp"
#include "units.hpp"

#include <bellmouth/stock.hpp>

#include <QVBoxLayout>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

using quantity::Money;

QString kind_words(build::StockKind kind) {
  QString words = words_of(stock::kind_name(kind)).replace('_', ' ');
  words[0] = words[0].toUpper();
  return words;
}

/// As tall as its rows, up to a point.
void fit_height(Sheet& sheet, int rows) {
  constexpr int most_rows = 8, room_px = 8;
  const int row_px = QFontMetrics(sheet.font()).height() + room_px;
  sheet.setFixedHeight((std::clamp(rows, 2, most_rows) + 2) * row_px);
}

} // namespace

BudgetTables::BudgetTables(Session& session, QWidget* parent) : QWidget(parent), session_(session) {
  setObjectName("budget_tables");
  postage_ = new Sheet(
      "postage", tr("Postage"), tr("No item of the stock says who sells it."),
      [this] { return postage_columns(); }, [this] { return suppliers_; }, this);
  spares_ = new Sheet(
      "spares", tr("Spares"), tr("There is no stock."), [this] { return spare_columns(); },
      [this] {
        QStringList keys;
        for (const build::StockKind kind : kinds_)
          keys << kind_words(kind);
        return keys;
      },
      this);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, gap);
  column->setSpacing(gap);
  column->addWidget(heading(tr("Postage"), this));
  column->addWidget(postage_);
  column->addWidget(heading(tr("Spares"), this));
  column->addWidget(spares_);
}

void BudgetTables::refresh() {
  const build::Build& build = session_.build();
  suppliers_.clear();
  kinds_.clear();
  const auto add_supplier = [this](const std::string& name) {
    if (const QString text = QString::fromStdString(name); !text.isEmpty() && !suppliers_.contains(text))
      suppliers_ << text;
  };
  for (const build::StockItem& item : *build.stock) {
    add_supplier(item.supplier);
    if (std::ranges::find(kinds_, item.kind) == kinds_.end())
      kinds_.push_back(item.kind);
  }
  // Postage of one who sells nothing any more is still the user's own entry.
  for (const build::Postage& each : build.budget.postage)
    add_supplier(each.supplier);
  suppliers_.sort(Qt::CaseInsensitive);
  std::ranges::sort(kinds_);
  postage_->refresh();
  spares_->refresh();
  fit_height(*postage_, static_cast<int>(suppliers_.size()));
  fit_height(*spares_, static_cast<int>(kinds_.size()));
}

const build::Postage* BudgetTables::postage(int row) const {
  const auto& all = session_.build().budget.postage;
  const auto found = std::ranges::find(all, suppliers_[row].toStdString(), &build::Postage::supplier);
  return found == all.end() ? nullptr : &*found;
}

std::vector<SheetColumn> BudgetTables::postage_columns() {
  return {{.title = tr("Supplier"),
           .tip = tr("As the items of the stock name it"),
           .text = [this](int row) { return suppliers_[row]; }},
          {.title = tr("Parcel"),
           .tip = tr("What a parcel costs; empty: nothing"),
           .text =
               [this](int row) {
                 const build::Postage* here = postage(row);
                 return here == nullptr ? QString() : show_money(here->price);
               },
           .set = [this](int row, const QString& typed) { return set_postage(row, typed); },
           .number = true},
          {.title = tr("Free from"),
           .tip = tr("Goods in one parcel from which it is sent for nothing; empty: never"),
           .text =
               [this](int row) {
                 const build::Postage* here = postage(row);
                 return here == nullptr || !here->free_from ? QString() : show_money(*here->free_from);
               },
           .set = [this](int row, const QString& typed) { return set_free_from(row, typed); },
           .number = true}};
}

std::optional<QString> BudgetTables::set_postage(int row, const QString& typed) {
  const auto read = read_amount(typed, session_.build().budget.currency);
  if (const auto* why = std::get_if<QString>(&read))
    return *why;
  const auto& price = std::get<std::optional<Money>>(read);
  build::Budget budget = session_.build().budget;
  const std::string supplier = suppliers_[row].toStdString();
  const auto found = std::ranges::find(budget.postage, supplier, &build::Postage::supplier);
  if (!price && found != budget.postage.end())
    budget.postage.erase(found);
  else if (price && found != budget.postage.end())
    found->price = *price;
  else if (price)
    budget.postage.push_back({supplier, *price, std::nullopt});
  return apply(std::move(budget), tr("Change postage of %1").arg(suppliers_[row]));
}

std::optional<QString> BudgetTables::set_free_from(int row, const QString& typed) {
  const auto read = read_amount(typed, session_.build().budget.currency);
  if (const auto* why = std::get_if<QString>(&read))
    return *why;
  build::Budget budget = session_.build().budget;
  const auto found =
      std::ranges::find(budget.postage, suppliers_[row].toStdString(), &build::Postage::supplier);
  if (found == budget.postage.end())
    return typed.trimmed().isEmpty() ? std::nullopt
                                     : std::optional(tr("say first what a parcel costs below that"));
  found->free_from = std::get<std::optional<Money>>(read);
  return apply(std::move(budget), tr("Change from where %1 sends for nothing").arg(suppliers_[row]));
}

std::vector<SheetColumn> BudgetTables::spare_columns() {
  return {{.title = tr("Kind"),
           .tip = {},
           .text = [this](int row) { return kind_words(kinds_.at(static_cast<std::size_t>(row))); }},
          {.title = tr("More than needed"),
           .tip = tr("In percent of what is needed of each item, rounded up to whole pieces; empty: none"),
           .text =
               [this](int row) {
                 const int percent = spare_percent(kinds_.at(static_cast<std::size_t>(row)));
                 return percent == 0 ? QString() : QString("%1 %").arg(percent);
               },
           .set = [this](int row, const QString& typed) { return set_spare(row, typed); },
           .number = true}};
}

int BudgetTables::spare_percent(build::StockKind kind) const {
  const auto& all = session_.build().budget.spares;
  const auto found = std::ranges::find(all, kind, &build::Spare::kind);
  return found == all.end() ? 0 : found->percent;
}

std::optional<QString> BudgetTables::set_spare(int row, const QString& typed) {
  double percent = 0;
  if (!typed.trimmed().isEmpty()) {
    const auto read = quantity::read(quantity::Dimension::ratio, typed.trimmed().toStdString(),
                                     {.default_unit = "%", .decimal = decimal_sign(), .ambient_Pa = {}});
    if (!read)
      return complaint(read.error());
    percent = *read * 100;
  }
  const double whole = std::round(percent);
  constexpr double most = 1000, rounding = 1e-6;
  if (!(std::abs(percent - whole) < rounding && whole >= 0 && whole <= most))
    return tr("found %1; accepted: 0 % to 1000 %, whole percents").arg(typed.trimmed());
  const build::StockKind kind = kinds_.at(static_cast<std::size_t>(row));
  build::Budget budget = session_.build().budget;
  std::erase_if(budget.spares, [&](const build::Spare& each) { return each.kind == kind; });
  if (whole > 0)
    budget.spares.push_back({kind, static_cast<int>(whole)});
  std::ranges::sort(budget.spares, {}, &build::Spare::kind);
  return apply(std::move(budget), tr("Change spares: %1").arg(kind_words(kind).toLower()));
}

std::optional<QString> BudgetTables::apply(build::Budget budget, const QString& what) {
  const auto error = session_.apply(build::with_budget(session_.build(), std::move(budget)), what);
  return error ? std::optional(complaint(*error)) : std::nullopt;
}

} // namespace bellmouth::ui
