// SPDX-License-Identifier: GPL-3.0-or-later
#include "columns.hpp"

#include <bellmouth/quantity/csv.hpp>

#include <spdlog/fmt/fmt.h>

#include <cassert>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <utility>

namespace bellmouth::fit {
namespace {

using quantity::Dimension;

constexpr std::uintmax_t most_bytes = std::uintmax_t{64} << 20U;

/// What a reading may be [SI]; wide, to catch a wrong unit.
struct Range {
  double lowest, highest;
  std::string_view words;
};
constexpr Range speeds{1.0 / 60, 500, "an engine speed from 1 to 30000 rpm"};
Range range_of(Dimension dimension) {
  switch (dimension) {
  case Dimension::pressure:
    return {1e3, 2e6, "an absolute pressure from 1 kPa to 2000 kPa"};
  case Dimension::temperature:
    return {200, 1000, "a temperature from 200 K to 1000 K"};
  default:
    return {1e-6, 100, "a mass flow from 0.000001 kg/s to 100 kg/s"};
  }
}

double to_si(double number, Dimension dimension, std::string_view unit) {
  const auto found = quantity::find_unit(dimension, unit);
  assert(found.has_value());
  return number * found->factor + found->offset;
}

build::Weather weather_of(const build::Ambient& ambient) {
  if (const auto* weather = std::get_if<build::Weather>(&ambient))
    return *weather;
  const auto air = build::ambient_air(ambient);
  return {air.pressure_Pa, air.temperature_K, std::get<build::Altitude>(ambient).relative_humidity};
}

class LogReader {
public:
  LogReader(const quantity::CsvTable& table, const build::Build& build, const build::Option& option)
      : table_(table), build_(build), option_(option), weather_(weather_of(build.ambient)) {}

  Result<Log> read() {
    log_.file = table_.file();
    if (auto fault = read_header())
      return fail(*std::move(fault));
    for (std::size_t row = 0; row < table_.rows(); ++row)
      if (auto fault = read_row(row))
        return fail(*std::move(fault));
    return std::move(log_);
  }

private:
  std::optional<Error> read_header() {
    for (std::size_t i = 0; i < table_.columns().size(); ++i) {
      auto column = read_column(table_.columns()[i], build_, option_);
      if (!column)
        return table_.header_complaint(column.error().found, column.error().accepted);
      if (std::holds_alternative<SpeedColumn>(*column))
        speed_ = i;
      else if (const auto* channel = std::get_if<Channel>(&*column))
        log_.channels.push_back(*channel);
      else if (std::holds_alternative<IgnoredColumn>(*column))
        log_.ignored.push_back(table_.columns()[i]);
      columns_.push_back(*std::move(column));
    }
    if (const auto speed = table_.column("engine_speed_rpm"); !speed)
      return speed.error();
    if (log_.channels.empty())
      return table_.header_complaint("no column of measurements",
                                     "at least one pressure, temperature or mass flow");
    if (table_.rows() == 0)
      return table_.header_complaint("no row", "at least one row behind the header");
    return std::nullopt;
  }

  std::optional<Error> read_row(std::size_t row) {
    LogRow& out = log_.rows.emplace_back();
    out.number = row + 1;
    const auto speed = table_.number(row, speed_);
    if (!speed)
      return speed.error();
    out.engine_speed_rev_s = *speed / 60;
    if (!(out.engine_speed_rev_s >= speeds.lowest && out.engine_speed_rev_s <= speeds.highest))
      return table_.complaint(row, speed_, std::string(speeds.words));
    if (auto fault = read_ambient(row, out))
      return fault;
    const double ambient_Pa = out.ambient ? out.ambient->pressure_Pa : weather_.pressure_Pa;
    for (std::size_t i = 0; i < columns_.size(); ++i)
      if (const auto* channel = std::get_if<Channel>(&columns_[i]))
        if (auto fault = read_reading(row, i, *channel, ambient_Pa, out))
          return fault;
    return std::nullopt;
  }

  std::optional<Error> read_ambient(std::size_t row, LogRow& out) {
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      const auto* column = std::get_if<AmbientColumn>(&columns_[i]);
      if (column == nullptr || table_.is_empty(row, i))
        continue;
      const auto number = table_.number(row, i);
      if (!number)
        return number.error();
      if (!out.ambient)
        out.ambient = weather_;
      switch (column->what) {
      case AmbientColumn::What::pressure:
        out.ambient->pressure_Pa = to_si(*number, Dimension::pressure, column->unit);
        break;
      case AmbientColumn::What::temperature:
        out.ambient->temperature_K = to_si(*number, Dimension::temperature, column->unit);
        break;
      case AmbientColumn::What::relative_humidity:
        out.ambient->relative_humidity = *number;
        break;
      }
      // The same bounds as in a build.
      if (const auto fault = build::validate(build::with_ambient(build_, *out.ambient)))
        return table_.complaint(row, i, fault->accepted);
    }
    return std::nullopt;
  }

  std::optional<Error> read_reading(std::size_t row, std::size_t column, const Channel& channel,
                                    double ambient_Pa, LogRow& out) {
    auto& reading = out.readings.emplace_back();
    if (table_.is_empty(row, column))
      return std::nullopt;
    const auto number = table_.number(row, column);
    if (!number)
      return number.error();
    const double value = to_si(*number, channel.dimension, channel.unit) + (channel.gauge ? ambient_Pa : 0.0);
    const Range range = range_of(channel.dimension);
    if (!(value >= range.lowest && value <= range.highest))
      return table_.complaint(
          row, column,
          channel.gauge ? fmt::format("{}, here above the ambient {:.6g} kPa", range.words, ambient_Pa / 1e3)
                        : std::string(range.words));
    reading = value;
    return std::nullopt;
  }

  const quantity::CsvTable& table_;
  const build::Build& build_;
  const build::Option& option_;
  build::Weather weather_;
  std::vector<Column> columns_;
  std::size_t speed_ = 0;
  Log log_;
};

} // namespace

double in_column(const Channel& channel, double value_si, double ambient_pressure_Pa) {
  return quantity::in_unit(channel.dimension, value_si - (channel.gauge ? ambient_pressure_Pa : 0.0),
                           channel.unit);
}

Result<Log> read_log(std::string_view text, const build::Build& build, const build::OptionId& option_id,
                     std::string file) {
  const build::Option* option = build.find(option_id);
  assert(option != nullptr);
  if (!std::holds_alternative<machine::Engine>(build.demand))
    return fail(Error{
        {std::move(file), 0, 0, {}}, "a log for a build with a fixed flow", "a build with an engine", {}});
  const auto table = quantity::read_csv(text, std::move(file));
  if (!table)
    return fail(table.error());
  return LogReader(*table, build, *option).read();
}

Result<Log> load_log(const std::filesystem::path& file, const build::Build& build,
                     const build::OptionId& option) {
  const auto failed = [&](std::string found) {
    return fail(
        Error{{file.string(), 0, 0, {}}, std::move(found), "the name of a file that can be read", {}});
  };
  std::error_code trouble;
  const auto status = std::filesystem::status(file, trouble);
  if (trouble)
    return failed(trouble.message());
  if (!std::filesystem::is_regular_file(status))
    return failed(std::filesystem::is_directory(status) ? "a folder" : "something that is not a file");
  std::ifstream stream(file, std::ios::binary);
  if (!stream)
    return failed(std::strerror(errno));
  const auto size = std::filesystem::file_size(file, trouble);
  if (trouble)
    return failed(trouble.message());
  if (size > most_bytes)
    return fail(
        Error{{file.string(), 0, 0, {}}, fmt::format("{} bytes", size), "a log of at most 64 MiB", {}});
  std::string text(static_cast<std::size_t>(size), '\0');
  stream.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(stream.gcount()));
  if (stream.bad())
    return failed(std::strerror(errno));
  return read_log(text, build, option, file.string());
}

} // namespace bellmouth::fit
