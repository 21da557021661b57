// SPDX-License-Identifier: GPL-3.0-or-later
#include "budget_fields.hpp"

#include "units.hpp"

#include <QCoreApplication>

#include <cmath>

namespace bellmouth::ui {

namespace {

using build::Build;
using quantity::Dimension;
using quantity::Money;

QString tr(const char* text) {
  return QCoreApplication::translate("BudgetFields", text);
}

constexpr double basis_points = 1e4; ///< in the whole

QString tax_text(const Build& build) {
  return build.budget.tax
             ? QString::fromStdString(quantity::write(Dimension::ratio,
                                                      build.budget.tax->rate_basis_points / basis_points, "%",
                                                      6, decimal_sign()))
             : QString();
}

std::optional<QString> set_tax(Build& build, const QString& text) {
  if (text.trimmed().isEmpty()) {
    build.budget.tax.reset();
    return std::nullopt;
  }
  const auto read = quantity::read(Dimension::ratio, text.trimmed().toStdString(),
                                   {.default_unit = "%", .decimal = decimal_sign(), .ambient_Pa = {}});
  if (!read)
    return complaint(read.error());
  const double rate = *read * basis_points, whole = std::round(rate);
  constexpr double rounding = 1e-6;
  if (!(std::abs(rate - whole) < rounding && whole >= 0 && whole <= basis_points))
    return tr("found %1; accepted: 0 % to 100 %, in hundredths of a percent").arg(text.trimmed());
  const bool include = build.budget.tax && build.budget.tax->prices_include;
  build.budget.tax = build::Tax{static_cast<int>(whole), include};
  return std::nullopt;
}

/// All amounts of the budget are of one currency.
void set_currency(build::Budget& budget, const quantity::Currency& currency) {
  budget.currency = currency;
  if (budget.limit)
    budget.limit->currency = currency;
  for (build::Postage& each : budget.postage) {
    each.price.currency = currency;
    if (each.free_from)
      each.free_from->currency = currency;
  }
}

} // namespace

std::variant<std::optional<Money>, QString> read_amount(const QString& typed,
                                                        const quantity::Currency& currency) {
  const QString text = typed.trimmed();
  if (text.isEmpty())
    return std::optional<Money>();
  const auto read = quantity::read_money(text.toStdString(), currency, decimal_sign());
  if (!read)
    return complaint(read.error());
  if (read->minor < 0)
    return tr("found %1; accepted: an amount from 0").arg(text);
  return std::optional(*read);
}

std::vector<FormRow<Build>> budget_rows() {
  return {
      text_row<Build>(
          "currency", tr("Currency"),
          tr("Three letters of ISO 4217, such as EUR; that of the prices in stock"),
          [](const Build& build) {
            return QString::fromStdString(std::string(build.budget.currency.text()));
          },
          [](Build& build, const QString& text) -> std::optional<QString> {
            const auto read = quantity::read_currency(text.trimmed().toUpper().toStdString());
            if (!read)
              return complaint(read.error());
            set_currency(build.budget, *read);
            return std::nullopt;
          }),
      text_row<Build>(
          "limit", tr("Limit"), tr("What there is to spend, tax and postage in it; empty: no limit"),
          [](const Build& build) { return build.budget.limit ? show_money(*build.budget.limit) : QString(); },
          [](Build& build, const QString& text) -> std::optional<QString> {
            const auto read = read_amount(text, build.budget.currency);
            if (const auto* why = std::get_if<QString>(&read))
              return *why;
            build.budget.limit = std::get<std::optional<Money>>(read);
            return std::nullopt;
          }),
      text_row<Build>("tax", tr("Tax"),
                      tr("Value-added or sales tax on all that is bought, in percent; empty: not spoken of"),
                      tax_text, set_tax),
      only_if<Build>([](const Build& build) { return build.budget.tax.has_value(); },
                     check_row<Build>(
                         "tax_included", tr("In the prices"),
                         tr("Ticked: the prices of the stock and the postage hold the tax already"),
                         [](const Build& build) { return build.budget.tax->prices_include; },
                         [](Build& build, bool on) { build.budget.tax->prices_include = on; }))};
}

} // namespace bellmouth::ui
