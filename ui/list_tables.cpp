// SPDX-License-Identifier: GPL-3.0-or-later
#include "list_tables.hpp"

#include "units.hpp"

#include <bellmouth/buy/sawing.hpp>

#include <QCoreApplication>
#include <QLocale>

#include <algorithm>
#include <array>

namespace bellmouth::ui {

namespace {

using quantity::Money;

QString tr(const char* text) {
  return QCoreApplication::translate("ListTables", text);
}
QString text_of(const std::string& text) {
  return QString::fromStdString(text);
}
QString capital(const QString& text) {
  return text.isEmpty() ? text : text.at(0).toUpper() + text.mid(1);
}

/// What a table of the core is called on the screen, and what it is for.
struct Words {
  const char *key, *title, *about;
};
constexpr std::array words{
    Words{"sawing", QT_TRANSLATE_NOOP("ListTables", "Sawing"),
          QT_TRANSLATE_NOOP("ListTables",
                            "Which piece comes out of which bought length or bend. A is the inlet "
                            "end of the thing; all is marked from there before anything is sawn")},
    Words{"cut", QT_TRANSLATE_NOOP("ListTables", "Cuts"),
          QT_TRANSLATE_NOOP("ListTables", "Each piece as it is cut, and how its ends are made ready")},
    Words{"bends", QT_TRANSLATE_NOOP("ListTables", "Bends"),
          QT_TRANSLATE_NOOP("ListTables", "Where the saw goes on a bend, to be measured with a tape along "
                                          "its inside or outside from where the arc begins")},
    Words{"wedges", QT_TRANSLATE_NOOP("ListTables", "Wedges"),
          QT_TRANSLATE_NOOP("ListTables", "Pieces of segmented bends. Joints are welds; there is one piece "
                                          "more than joints, and the two end pieces are cut on one side")},
    Words{"marks", QT_TRANSLATE_NOOP("ListTables", "Clocking marks"),
          QT_TRANSLATE_NOOP("ListTables", "Marks at the inlet of each bend, clockwise looking downstream, in "
                                          "degrees and in millimetres round the tube")},
    Words{"joints", QT_TRANSLATE_NOOP("ListTables", "Joints"),
          QT_TRANSLATE_NOOP("ListTables", "Every meeting of two ends, with what pulls it apart and what "
                                          "holds it")},
    Words{"clamps", QT_TRANSLATE_NOOP("ListTables", "Clamps"),
          QT_TRANSLATE_NOOP("ListTables", "By size. Tighten again after the first warm run")},
    Words{"beads", QT_TRANSLATE_NOOP("ListTables", "Beads"),
          QT_TRANSLATE_NOOP("ListTables", "To be rolled before anything is welded on")},
    Words{"welds", QT_TRANSLATE_NOOP("ListTables", "Welds"),
          QT_TRANSLATE_NOOP("ListTables", "Every seam with its length")},
    Words{"reducers", QT_TRANSLATE_NOOP("ListTables", "Changes of bore"),
          QT_TRANSLATE_NOOP("ListTables", "Tapers and steps along the path")},
    Words{"fittings", QT_TRANSLATE_NOOP("ListTables", "Bosses and flanges"),
          QT_TRANSLATE_NOOP("ListTables", "Thread, hole, and place along and round the tube")},
    Words{"mass", QT_TRANSLATE_NOOP("ListTables", "Mass"),
          QT_TRANSLATE_NOOP("ListTables", "Of walls alone; clamps and fittings are not weighed")},
};

/// The header with its units less loud: "length [mm]" is "Length, mm".
QString head(const std::string& text) {
  QString shown = capital(text_of(text));
  return shown.replace(" [", ", ").remove(']');
}

ListTable table_of(const list::Table& core) {
  const auto found = std::ranges::find_if(words, [&](const Words& each) { return core.name == each.key; });
  ListTable table;
  table.key = text_of(core.name);
  table.title = found == words.end() ? capital(table.key) : tr(found->title);
  table.about = found == words.end() ? QString() : tr(found->about);
  table.empty = tr("Nothing on this list.");
  for (const std::string& each : core.header)
    table.header << head(each);
  for (std::size_t i = 0; i < core.rows.size(); ++i) {
    ListRow row;
    for (const std::string& cell : core.rows[i])
      row.cells << text_of(cell);
    if (i < core.pieces.size())
      row.pieces = core.pieces[i];
    table.rows.push_back(std::move(row));
  }
  return table;
}

/// The sawing plan with each thing that is sawn as a heading over what comes out of it.
ListTable sawing_table(const list::Table& core) {
  constexpr int of_thing = 3; // its name, number and length
  ListTable flat = table_of(core);
  ListTable table = flat;
  table.rows.clear();
  table.header = flat.header.mid(of_thing);
  QStringList before;
  for (ListRow& row : flat.rows) {
    const QStringList thing = row.cells.mid(0, of_thing);
    row.cells = row.cells.mid(of_thing);
    if (thing != before) {
      ListRow heading;
      heading.heading = true;
      heading.cells = QStringList(row.cells.size());
      heading.cells[0] = tr("%1, no. %2: %3 mm").arg(thing[0], thing[1], thing[2]);
      table.rows.push_back(std::move(heading));
      before = thing;
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

QString amount(double value, build::Per per) {
  if (value == 0)
    return {};
  return per == build::Per::metre ? QLocale().toString(value, 'f', 3) + " m" : show_count(value);
}
QString to_buy(const buy::ShoppingLine& line) {
  const QString count = amount(line.to_buy, line.per);
  return line.pack > 1 && !count.isEmpty() ? tr("%1 × %2").arg(count).arg(line.pack) : count;
}
QString money(const std::optional<Money>& amount) {
  return amount ? show_money(*amount) : QString();
}

QString price_of_one(const buy::ShoppingLine& line) {
  if (!line.unit_price)
    return tr("no price");
  return line.per == build::Per::metre ? tr("%1/m").arg(money(line.unit_price)) : money(line.unit_price);
}

const build::Owned* owned_of(const build::Build& build, const std::optional<build::StockId>& stock) {
  const auto found = stock ? std::ranges::find(build.owned, *stock, &build::Owned::stock) : build.owned.end();
  return found == build.owned.end() ? nullptr : &*found;
}

enum ShoppingColumn { what, needed, owned, used_column, buy_column, each, price, paid, supplier };

ListRow shopping_row(const build::Build& build, const buy::ShoppingLine& line) {
  const build::Owned* mine = owned_of(build, line.stock);
  QString count = amount(line.needed, line.per);
  if (line.spare > 0)
    count += tr(" (%1 spare)").arg(show_count(line.spare));
  ListRow row;
  row.cells = {text_of(line.description),
               count,
               mine == nullptr ? QString() : QLocale().toString(mine->quantity, 'g', 6),
               amount(line.owned, line.per),
               to_buy(line),
               price_of_one(line),
               line.price && line.to_buy > 0 ? money(line.price) : QString(),
               mine == nullptr ? QString() : money(mine->paid),
               text_of(line.supplier)};
  row.pieces = line.pieces;
  row.stock = line.stock;
  return row;
}

ListTable shopping_table(const build::Build& build, const buy::Purchase* purchase) {
  ListTable table;
  table.key = "shopping";
  table.title = tr("Shopping");
  table.about = tr("What to buy once. What you own and what you paid for it can be typed");
  table.empty = purchase == nullptr ? tr("The purchase is being planned.") : tr("Nothing has to be bought.");
  table.header = {tr("What"), tr("Needed"), tr("Owned"), tr("Used"),    tr("To buy"),
                  tr("Each"), tr("Price"),  tr("Paid"),  tr("Supplier")};
  table.owned_column = owned;
  table.paid_column = paid;
  if (purchase == nullptr)
    return table;
  std::string group;
  for (const buy::ShoppingLine& line : purchase->shopping) {
    if (line.group != group) {
      ListRow heading;
      for (int column = 0; column < table.header.size(); ++column)
        heading.cells << QString();
      heading.cells[what] = capital(text_of(line.group));
      const auto category = std::ranges::find(purchase->totals.categories, line.group, &buy::Category::group);
      if (category != purchase->totals.categories.end())
        heading.cells[price] = show_money(category->planned);
      heading.heading = true;
      table.rows.push_back(std::move(heading));
      group = line.group;
    }
    table.rows.push_back(shopping_row(build, line));
  }
  const bool all_unnamed =
      std::ranges::all_of(purchase->shopping, &std::string::empty, &buy::ShoppingLine::supplier);
  if (all_unnamed) {
    table.header.removeLast();
    for (ListRow& row : table.rows)
      row.cells.removeLast();
  }
  return table;
}

/// "12.5", or an amount of money or of metres.
bool is_number(const QString& cell) {
  bool number = false;
  QLocale().toDouble(cell.section(' ', 0, 0), &number);
  if (!number)
    cell.section(' ', 0, 0).toDouble(&number);
  return number && cell.count(' ') <= 1;
}

QString bound_words(const build::Build& build, const buy::Purchase& purchase) {
  const buy::Plan& plan = purchase.plan;
  switch (purchase.task.question.aim) {
  case buy::Aim::money:
    return plan.proven ? tr("proven: no plan costs less")
                       : tr("the time for planning was over: no plan costs less than %1")
                             .arg(show_money({static_cast<std::int64_t>(plan.bound), build.budget.currency}));
  case buy::Aim::suppliers:
    return plan.proven ? tr("proven: no plan has fewer suppliers")
                       : tr("the time for planning was over: no plan has fewer than %1 suppliers")
                             .arg(show_count(plan.bound));
  case buy::Aim::offcuts:
    break;
  }
  return plan.proven ? tr("proven: no plan has fewer offcuts")
                     : tr("the time for planning was over: no plan has fewer than %1 offcuts")
                           .arg(show_count(plan.bound));
}

QString counted(int count, const char* one, const char* many) {
  return QString("%1 %2").arg(count).arg(tr(count == 1 ? one : many));
}

} // namespace

int ListTable::lines() const {
  return static_cast<int>(std::ranges::count(rows, false, &ListRow::heading));
}

std::vector<bool> ListTable::number_columns() const {
  std::vector<bool> numbers(static_cast<std::size_t>(header.size()), false);
  for (int column = 0; column < header.size(); ++column) {
    bool any = false, all = true;
    for (const ListRow& row : rows)
      if (const QString& cell = row.cells[column]; !cell.isEmpty()) {
        any = true;
        all = all && is_number(cell);
      }
    numbers[static_cast<std::size_t>(column)] = any && all;
  }
  if (key == "shopping")
    for (const int column : {needed, owned, buy_column, each, price, paid})
      numbers[static_cast<std::size_t>(column)] = true;
  return numbers;
}

std::vector<ListTable> list_tables(const build::Build& build, const Evaluation& evaluation,
                                   const buy::Purchase* purchase) {
  std::vector<ListTable> tables{shopping_table(build, purchase)};
  const buy::Purchase none;
  tables.push_back(sawing_table(buy::sawing(build, purchase == nullptr ? none : *purchase)));
  const std::vector<list::Table> core = list::tables(evaluation.lists);
  for (const Words& each : words)
    for (const list::Table& table : core)
      if (table.name == each.key)
        tables.push_back(table_of(table));
  return tables;
}

std::vector<list::Table> file_tables(const build::Build& build, const Evaluation& evaluation,
                                     const buy::Purchase& purchase) {
  std::vector<list::Table> tables = buy::tables(purchase);
  tables.push_back(buy::sawing(build, purchase));
  for (list::Table& table : list::tables(evaluation.lists))
    if (std::ranges::find(words, table.name, &Words::key) != words.end())
      tables.push_back(std::move(table));
  return tables;
}

QString aim_words(buy::Aim aim) {
  switch (aim) {
  case buy::Aim::money:
    return tr("Least money");
  case buy::Aim::suppliers:
    return tr("Fewest suppliers");
  case buy::Aim::offcuts:
    break;
  }
  return tr("Fewest offcuts");
}

QString plan_words(const buy::Purchase& purchase) {
  QStringList parts{show_money(purchase.totals.total)};
  // None where the stock does not say who sells.
  if (purchase.totals.suppliers > 0)
    parts << counted(purchase.totals.suppliers, "supplier", "suppliers");
  parts << counted(purchase.totals.offcuts, "offcut", "offcuts");
  return parts.join(", ");
}

QStringList money_words(const build::Build& build, const buy::Purchase& purchase) {
  const buy::Totals& totals = purchase.totals;
  QStringList parts{tr("goods %1").arg(show_money(totals.goods))};
  if (totals.postage.minor != 0)
    parts << tr("postage %1").arg(show_money(totals.postage));
  if (build.budget.tax)
    parts << (build.budget.tax->prices_include ? tr("tax in them %1") : tr("tax on top %1"))
                 .arg(show_money(totals.tax));
  QStringList lines{tr("Still to buy: %1").arg(show_money(totals.total)), parts.join(", ")};
  if (totals.spent.minor != 0)
    lines << tr("spent %1, in all %2").arg(show_money(totals.spent), show_money(totals.in_all));
  if (totals.left && build.budget.limit)
    lines << tr("budget %1: %2 %3")
                 .arg(show_money(*build.budget.limit),
                      show_money({std::abs(totals.left->minor), totals.left->currency}),
                      totals.left->minor < 0 ? tr("over") : tr("left"));
  if (totals.owned_value.minor != 0)
    lines << tr("owned and used: worth %1").arg(show_money(totals.owned_value));
  if (totals.unpriced > 0)
    lines << counted(totals.unpriced, "line has no price", "lines have no price");
  lines << bound_words(build, purchase);
  return lines;
}

} // namespace bellmouth::ui
