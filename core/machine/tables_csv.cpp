// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/machine/maps.hpp>
#include <bellmouth/machine/tables_csv.hpp>
#include <bellmouth/quantity/csv.hpp>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <span>
#include <tuple>

namespace bellmouth::machine {

namespace {

/// A column of a table: its name, and the field it fills. The number in the file over `divisor` is the
/// field's.
template <class Point> struct Column {
  std::string_view name;
  double Point::*field;
  double lowest, highest; ///< of the number in the file; `lowest` itself is accepted
  double divisor = 1;
};

constexpr double per_minute = 60;
constexpr double least = 1e-6; ///< of what must be more than nothing

constexpr std::array<Column<BlowerMapPoint>, 4> blower_columns{{
    {"speed_rpm", &BlowerMapPoint::speed_rev_s, 1, 500e3, per_minute},
    {"pressure_ratio", &BlowerMapPoint::pressure_ratio, 0.5, 20},
    {"volumetric_efficiency", &BlowerMapPoint::volumetric_efficiency, 0.01, 1.2},
    {"adiabatic_efficiency", &BlowerMapPoint::adiabatic_efficiency, 0.01, 1},
}};
constexpr std::array<Column<CompressorMapPoint>, 4> compressor_columns{{
    {"corrected_speed_rpm", &CompressorMapPoint::corrected_speed_rev_s, 1, 500e3, per_minute},
    {"corrected_flow_kg_s", &CompressorMapPoint::corrected_flow_kg_s, least, 100},
    {"pressure_ratio", &CompressorMapPoint::pressure_ratio, 0.5, 20},
    {"adiabatic_efficiency", &CompressorMapPoint::adiabatic_efficiency, 0.01, 1},
}};
constexpr std::array<Column<RatedPoint>, 2> restriction_columns{{
    {"volume_flow_m3_s", &RatedPoint::volume_flow_m3_s, least, 100},
    {"drop_Pa", &RatedPoint::drop_Pa, least, 100e3},
}};
constexpr std::array<Column<EfficiencyPoint>, 2> efficiency_columns{{
    {"speed_rpm", &EfficiencyPoint::speed_rev_s, 1, 30e3, per_minute},
    {"volumetric_efficiency", &EfficiencyPoint::volumetric_efficiency, 0.01, 1.2},
}};
constexpr std::array<Column<EffectivenessPoint>, 2> effectiveness_columns{{
    {"charge_flow_kg_s", &EffectivenessPoint::charge_flow_kg_s, least, 100},
    {"effectiveness", &EffectivenessPoint::effectiveness, 0, 1},
}};

/// A double with as many digits as bring it back.
std::string digits(double value) {
  std::array<char, 32> text{};
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value).ptr;
  return {text.data(), end};
}

template <class Point> std::string names(std::span<const Column<Point>> columns) {
  std::string text;
  for (const auto& column : columns)
    text.append(text.empty() ? "" : ",").append(column.name);
  return text;
}

template <class Point>
Result<std::vector<Point>> read_points(std::string_view text, std::string file,
                                       std::span<const Column<Point>> columns) {
  auto table = quantity::read_csv(text, std::move(file));
  if (!table)
    return fail(std::move(table).error());
  for (const std::string& name : table->columns())
    if (std::ranges::find(columns, name, &Column<Point>::name) == columns.end())
      return fail(table->header_complaint("a column \"" + name + "\"", "the columns " + names(columns)));
  std::vector<Point> points(table->rows());
  for (const auto& column : columns) {
    const auto at = table->column(column.name);
    if (!at)
      return fail(table->header_complaint("no column \"" + std::string(column.name) + "\"",
                                          "the columns " + names(columns)));
    for (std::size_t row = 0; row < points.size(); ++row) {
      const auto number = table->number(row, *at);
      if (!number)
        return fail(number.error());
      if (*number < column.lowest || *number > column.highest)
        return fail(table->complaint(
            row, *at, "a number from " + digits(column.lowest) + " to " + digits(column.highest)));
      points[row].*column.field = *number / column.divisor;
    }
  }
  if (points.empty())
    return fail(table->header_complaint("no rows below the header", "at least one row of " + names(columns)));
  return points;
}

/// The complaint about a table as a whole.
Error whole_table(std::string file, std::string found, std::string accepted) {
  Error error;
  error.place.file = std::move(file);
  error.found = std::move(found);
  error.accepted = std::move(accepted);
  return error;
}

/// By rising `key`, no value twice.
template <class Point>
Result<std::vector<Point>> in_order(std::vector<Point> points, double Point::*key, std::string_view key_name,
                                    std::string file) {
  std::ranges::stable_sort(points, {}, key);
  if (std::ranges::adjacent_find(points, {}, key) != points.end())
    return fail(whole_table(std::move(file), "two rows with one " + std::string(key_name),
                            "one row for each " + std::string(key_name)));
  return points;
}

template <class Point>
std::string write_points(const std::vector<Point>& points, std::span<const Column<Point>> columns) {
  std::string text = names(columns) + "\n";
  for (const Point& point : points) {
    std::string row;
    for (const auto& column : columns) {
      const double field = point.*column.field;
      double number = field * column.divisor;
      if (const double rounded = std::round(number * 1e6) / 1e6; rounded / column.divisor == field)
        number = rounded; // as it was typed
      row.append(row.empty() ? "" : ",").append(digits(number));
    }
    text += row + "\n";
  }
  return text;
}

} // namespace

Result<std::vector<BlowerMapPoint>> read_blower_map_csv(std::string_view text, std::string file) {
  auto points = read_points<BlowerMapPoint>(text, file, blower_columns);
  if (!points)
    return points;
  std::ranges::stable_sort(*points, {}, [](const BlowerMapPoint& point) {
    return std::tuple(point.speed_rev_s, point.pressure_ratio);
  });
  if (auto fault = map_fault(*points))
    return fail(whole_table(std::move(file), *std::move(fault),
                            "every speed with every pressure ratio, two of each at least"));
  return points;
}

Result<std::vector<CompressorMapPoint>> read_compressor_map_csv(std::string_view text, std::string file) {
  auto points = read_points<CompressorMapPoint>(text, file, compressor_columns);
  if (!points)
    return points;
  CompressorMap map{rating_temperature_K, rating_pressure_Pa, *std::move(points)};
  std::ranges::stable_sort(map.points, {}, [](const CompressorMapPoint& point) {
    return std::tuple(point.corrected_speed_rev_s, point.corrected_flow_kg_s);
  });
  if (auto fault = map_fault(map))
    return fail(whole_table(std::move(file), *std::move(fault),
                            "two lines of constant speed at least, each of two different flows at least, its "
                            "first point above a pressure ratio of one"));
  return std::move(map.points);
}

Result<std::vector<RatedPoint>> read_restriction_csv(std::string_view text, std::string file) {
  return read_points<RatedPoint>(text, std::move(file), restriction_columns);
}

Result<std::vector<EfficiencyPoint>> read_efficiency_csv(std::string_view text, std::string file) {
  return read_points<EfficiencyPoint>(text, file, efficiency_columns).and_then([&](auto points) {
    return in_order(std::move(points), &EfficiencyPoint::speed_rev_s, "speed_rpm", file);
  });
}

Result<std::vector<EffectivenessPoint>> read_effectiveness_csv(std::string_view text, std::string file) {
  return read_points<EffectivenessPoint>(text, file, effectiveness_columns).and_then([&](auto points) {
    return in_order(std::move(points), &EffectivenessPoint::charge_flow_kg_s, "charge_flow_kg_s", file);
  });
}

std::string write_csv(const std::vector<BlowerMapPoint>& map) {
  return write_points<BlowerMapPoint>(map, blower_columns);
}
std::string write_csv(const std::vector<CompressorMapPoint>& map) {
  return write_points<CompressorMapPoint>(map, compressor_columns);
}
std::string write_csv(const std::vector<RatedPoint>& points) {
  return write_points<RatedPoint>(points, restriction_columns);
}
std::string write_csv(const std::vector<EfficiencyPoint>& points) {
  return write_points<EfficiencyPoint>(points, efficiency_columns);
}
std::string write_csv(const std::vector<EffectivenessPoint>& points) {
  return write_points<EffectivenessPoint>(points, effectiveness_columns);
}

} // namespace bellmouth::machine
