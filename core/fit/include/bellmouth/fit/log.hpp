// SPDX-License-Identifier: GPL-3.0-or-later
// A log of measurements over engine speed, and the file that it comes in. shared/logs/README.md describes the
// file.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/quantity.hpp>

#include <cmath>
#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::fit {

/// Where along the path something was measured.
struct Place {
  enum class Kind {
    manifold,       ///< the plenum; for a mass flow the air that the engine draws
    before_machine, ///< at its inlet spigot
    behind_machine, ///< at its outlet spigot
    boss            ///< at a sensor boss
  } kind = Kind::manifold;
  std::size_t step = 0; ///< of the build's path: the machine, or the boss's run
  std::size_t row = 0;  ///< of that run
  friend bool operator==(const Place&, const Place&) = default;
};

/// Standard deviation of a reading: both parts are added in squares. It holds what the sensor is off by from
/// row to row and what the model cannot follow, not the last digit of the display.
struct Sigma {
  double absolute = 0; ///< [SI]
  double relative = 0; ///< of the reading
  [[nodiscard]] double of(double reading) const { return std::hypot(absolute, relative * reading); }
  friend bool operator==(const Sigma&, const Sigma&) = default;
};
/// What is taken where nothing else is said (trade practice, no source found: a shop's gauge or sensor, read
/// while the engine holds a speed): 0.5 kPa, 2 K, 2 % of a mass flow.
[[nodiscard]] Sigma usual_sigma(quantity::Dimension dimension);

/// A column of measurements.
struct Channel {
  std::string column;                                            ///< as the header has it
  quantity::Dimension dimension = quantity::Dimension::pressure; ///< pressure, temperature or mass flow
  std::string unit;   ///< in which the column is written, by its symbol
  bool gauge = false; ///< written as pressure above the ambient one
  Place place;
  Sigma sigma;
  friend bool operator==(const Channel&, const Channel&) = default;
};

/// A value as the column would write it: in its unit, above the ambient pressure if it is gauge.
[[nodiscard]] double in_column(const Channel& channel, double value_si, double ambient_pressure_Pa);

struct LogRow {
  std::size_t number = 0; ///< as messages count it: the first behind the header is 1
  double engine_speed_rev_s = 0;
  std::optional<build::Weather> ambient; ///< where the log has ambient columns; unset: the build's
  /// One per channel [SI], pressures absolute; unset: not measured. Pressures are static, as a tapping in the
  /// wall reads them; temperatures total, which a probe in the stream reads to within a fraction of v^2 / (2
  /// cp).
  std::vector<std::optional<double>> readings;
  friend bool operator==(const LogRow&, const LogRow&) = default;
};

struct Log {
  std::string file;
  std::vector<Channel> channels;
  std::vector<LogRow> rows;
  std::vector<std::string> ignored; ///< columns that the header says not to read
  friend bool operator==(const Log&, const Log&) = default;
};

/// Reads a log for an option of a build, which must have it (an assertion). `file` is the name to speak of.
/// Errors, each with line, column and cell: all of quantity::read_csv(), a build without an engine, a column
/// that nobody knows, a unit of something else, a place that the build does not have or has several times, no
/// engine speed, no measurement at all, no row, a cell that is no number or out of range.
[[nodiscard]] Result<Log> read_log(std::string_view text, const build::Build& build,
                                   const build::OptionId& option, std::string file = {});
/// Reads a file of at most 64 MiB; what the system says of an unreadable one comes as an error too.
[[nodiscard]] Result<Log> load_log(const std::filesystem::path& file, const build::Build& build,
                                   const build::OptionId& option);

} // namespace bellmouth::fit
