// SPDX-License-Identifier: GPL-3.0-or-later
#include "comparison.hpp"

#include "findings_model.hpp"
#include "piece_text.hpp"
#include "units.hpp"

#include <QLocale>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace bellmouth::ui {

namespace {

TextCell number(const QString& text, int merit = 0) {
  return {text, merit, true};
}
TextCell cell_of(const std::optional<Difference>& difference) {
  return difference ? number(difference->marked(), difference->merit) : number({});
}

/// "137 to 159 kPa gauge" without its unit.
QString band_numbers(const QString& band) {
  return band.section(' ', 0, 2);
}

struct Amounts {
  double shown = 0, rival = 0;
  build::Per per = build::Per::each;
};

void add_needs(std::map<std::string, Amounts>& amounts, const buy::Purchase& purchase,
               double Amounts::*side) {
  for (const buy::ShoppingLine& line : purchase.shopping) {
    Amounts& amount = amounts[line.description];
    amount.*side += line.needed;
    amount.per = line.per;
  }
}

/// What of a kind is planned to be bought.
std::int64_t planned_minor(const buy::Totals& totals, const std::string& group) {
  const auto found = std::ranges::find(totals.categories, group, &buy::Category::group);
  return found == totals.categories.end() ? 0 : found->planned.minor;
}

QString amount_text(double amount, build::Per per) {
  if (amount == 0)
    return "–";
  return per == build::Per::metre ? QLocale().toString(amount, 'f', 2) + " m" : show_count(amount);
}

bool says(const Known& known, const check::Finding& finding) {
  return std::ranges::any_of(known.all_findings(), [&](const check::Finding& other) {
    return other.rule == finding.rule && other.where.text == finding.where.text &&
           other.severity == finding.severity;
  });
}

} // namespace

TextTable Comparison::figures() const {
  TextTable table{{"Figure", option_name(shown.evaluation.option), option_name(rival.evaluation.option),
                   "Difference (left − right)"},
                  {}};
  const auto mine = ui::figures(build, shown, &rival), others = ui::figures(build, rival);
  const auto with_band = [](const Figure& figure) {
    return number(figure.band.isEmpty() ? figure.text()
                                        : QString("%1 (%2)").arg(figure.text(), band_numbers(figure.band)));
  };
  for (std::size_t i = 0; i < std::min(mine.size(), others.size()); ++i)
    table.rows.push_back(
        {{mine[i].title}, with_band(mine[i]), with_band(others[i]), cell_of(mine[i].difference)});
  return table;
}

TextTable Comparison::runs() const {
  TextTable table{{"Run", "Measure", option_name(shown.evaluation.option),
                   option_name(rival.evaluation.option), "Difference (left − right)"},
                  {}};
  for (const RunResult& run : shown.evaluation.runs) {
    const RunResult* other = find_run(rival.evaluation, run.id);
    if (!other)
      continue;
    QString name = run_name(run.id);
    const auto add = [&](const char* measure, bool known, double value, double other_value,
                         const ShowNumber& show, std::optional<double> counted_from = 0) {
      const auto change =
          known ? std::optional(difference(value, other_value, Better::lower, show, show, counted_from))
                : std::optional<Difference>();
      table.rows.push_back({{std::exchange(name, QString())},
                            {measure},
                            number(known ? show(value) : "–"),
                            number(known ? show(other_value) : "–"),
                            cell_of(change)});
    };
    const bool flows = shown.evaluation.path.point.usable() && rival.evaluation.path.point.usable();
    add("drop", flows, run.flow.drop_Pa, other->flow.drop_Pa, show_pressure_difference);
    add("length", true, run.length_m, other->length_m, show_length);
    add("volume", flows, run.flow.volume_m3, other->flow.volume_m3, show_volume);
    add("joints", true, run.joints, other->joints, show_count, std::nullopt);
  }
  return table;
}

TextTable Comparison::money() const {
  TextTable table{{"Money", option_name(shown.evaluation.option), option_name(rival.evaluation.option),
                   "Difference (left − right)"},
                  {}};
  if (shown.purchase == nullptr || rival.purchase == nullptr)
    return table;
  const buy::Totals &mine = shown.purchase->totals, &other = rival.purchase->totals;
  const quantity::Currency currency = build.budget.currency;
  const auto show = [currency](double minor) { return show_money({std::llround(minor), currency}); };
  const auto add = [&](const QString& what, std::int64_t one, std::int64_t two, Better better) {
    if (one == 0 && two == 0)
      return;
    const Difference change =
        difference(static_cast<double>(one), static_cast<double>(two), better, show, show, std::nullopt);
    table.rows.push_back({{what},
                          number(show_money({one, currency})),
                          number(show_money({two, currency})),
                          number(change.marked(), change.merit)});
  };
  std::vector<std::string> groups;
  for (const buy::Totals* totals : {&mine, &other})
    for (const buy::Category& category : totals->categories)
      if (std::ranges::find(groups, category.group) == groups.end())
        groups.push_back(category.group);
  for (const std::string& group : groups)
    add(QString::fromStdString(group), planned_minor(mine, group), planned_minor(other, group),
        Better::lower);
  add("postage", mine.postage.minor, other.postage.minor, Better::lower);
  add("tax", mine.tax.minor, other.tax.minor, Better::lower);
  add("still to buy", mine.total.minor, other.total.minor, Better::lower);
  add("spent", mine.spent.minor, other.spent.minor, Better::neither);
  add("in all", mine.in_all.minor, other.in_all.minor, Better::lower);
  if (mine.left && other.left)
    add("left of the budget", mine.left->minor, other.left->minor, Better::higher);
  return table;
}

TextTable Comparison::needs() const {
  TextTable table{{"To be had", option_name(shown.evaluation.option), option_name(rival.evaluation.option)},
                  {}};
  std::map<std::string, Amounts> amounts;
  if (shown.purchase == nullptr || rival.purchase == nullptr)
    return table;
  add_needs(amounts, *shown.purchase, &Amounts::shown);
  add_needs(amounts, *rival.purchase, &Amounts::rival);
  for (const auto& [what, amount] : amounts)
    if (std::abs(amount.shown - amount.rival) > 1e-9)
      table.rows.push_back({{QString::fromStdString(what)},
                            number(amount_text(amount.shown, amount.per)),
                            number(amount_text(amount.rival, amount.per))});
  return table;
}

TextTable Comparison::findings() const {
  TextTable table{{"Only", "Severity", "Where", "What"}, {}};
  const auto add = [&](const Known& one, const Known& other) {
    for (const check::Finding& finding : one.all_findings())
      if (!finding.waived && !says(other, finding))
        table.rows.push_back(
            {{option_name(one.evaluation.option)},
             {severity_word(finding.severity), finding.severity == check::Severity::stop ? -1 : 0},
             {QString::fromStdString(finding.where.text)},
             {QString::fromStdString(finding.message)}});
  };
  add(shown, rival);
  add(rival, shown);
  return table;
}

} // namespace bellmouth::ui
