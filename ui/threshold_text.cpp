// SPDX-License-Identifier: GPL-3.0-or-later
#include "threshold_text.hpp"

#include "quantity_edit.hpp"
#include "units.hpp"

#include <QCoreApplication>
#include <spdlog/fmt/fmt.h>

#include <array>
#include <cmath>

namespace bellmouth::ui {

namespace {

using quantity::Dimension;

/// A word behind the numbers that is no unit of quantity/.
const QString bores = QStringLiteral("bores");

Dimension dimension_of(const trade::Threshold& threshold) {
  constexpr std::array<std::pair<std::string_view, Dimension>, 7> dimensions{{{"mm", Dimension::length},
                                                                              {"deg", Dimension::angle},
                                                                              {"Pa", Dimension::pressure},
                                                                              {"N m", Dimension::torque},
                                                                              {"N", Dimension::force},
                                                                              {"kg/s", Dimension::mass_flow},
                                                                              {"m/s", Dimension::velocity}}};
  const std::string_view unit = trade::unit_text(threshold);
  for (const auto& [symbol, dimension] : dimensions)
    if (symbol == unit)
      return dimension;
  // A point on the scale is never accepted as low as a difference is.
  if (unit == "K")
    return threshold.least > 0 ? Dimension::temperature : Dimension::temperature_difference;
  return Dimension::ratio;
}

/// The unit it is shown in: that of the dimension, or where this would be all zeros one that is not.
std::string_view unit_of(const trade::Threshold& threshold) {
  const Dimension dimension = dimension_of(threshold);
  return dimension == Dimension::mass_flow && units().flow == UnitChoice::Flow::metric
             ? std::string_view("kg/h")
             : shown_unit(dimension);
}

bool counts_bores(const trade::Threshold& threshold) {
  return trade::unit_text(threshold) == bores.toStdString();
}

QString show_value(const trade::Threshold& threshold, double value_si) {
  constexpr int digits = 6;
  const QString text = QString::fromStdString(
      quantity::write(dimension_of(threshold), value_si, unit_of(threshold), digits, decimal_sign()));
  return counts_bores(threshold) ? text + " " + bores : text;
}

double in_si(const trade::Threshold& threshold, double value) {
  trade::Limits limits;
  trade::set(threshold, limits, value);
  return limits.*threshold.limit;
}

} // namespace

QString words_of(std::string_view text) {
  return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size()));
}

QString show_threshold(const trade::Threshold& threshold, const trade::Limits& limits) {
  return show_value(threshold, limits.*threshold.limit);
}

QString accepted_words(const trade::Threshold& threshold) {
  return QCoreApplication::translate("Thresholds", "%1 to %2")
      .arg(show_value(threshold, in_si(threshold, threshold.least)),
           show_value(threshold, in_si(threshold, threshold.most)));
}

std::variant<double, QString> read_threshold(const trade::Threshold& threshold, const QString& typed) {
  QString text = typed.trimmed();
  if (counts_bores(threshold) && text.endsWith(bores, Qt::CaseInsensitive))
    text = text.chopped(bores.size()).trimmed();
  const auto read = quantity::read(dimension_of(threshold), text.toStdString(),
                                   {.default_unit = unit_of(threshold),
                                    .decimal = decimal_sign(),
                                    .reference = quantity::Reference::difference,
                                    .ambient_Pa = {}});
  if (!read)
    return complaint(read.error());
  trade::Limits limits;
  limits.*threshold.limit = *read;
  // As typed: the last digits are those of the change of unit.
  const double value = std::stod(fmt::format("{:.12g}", trade::value(threshold, limits)));
  if (!(value >= threshold.least && value <= threshold.most))
    return QCoreApplication::translate("Thresholds", "Found %1; accepted is %2.")
        .arg(show_value(threshold, *read), accepted_words(threshold));
  return value;
}

} // namespace bellmouth::ui
