// SPDX-License-Identifier: GPL-3.0-or-later
// The example log in shared/logs: made by the model with known factors and noise, and fit for showing.
#include "simulated.hpp"

#include <spdlog/fmt/fmt.h>

#include <cmath>
#include <filesystem>
#include <fstream>

namespace bellmouth::test {
namespace {

using build::Coefficient;

const build::OptionId option{"smooth bends"};
/// What the example was made with; shared/logs/README.md says so.
const std::vector<build::Measured> truth{{Coefficient::engine_volumetric_efficiency, 0.95, 0},
                                         {Coefficient::blower_volumetric_efficiency, 0.97, 0},
                                         {Coefficient::blower_adiabatic_efficiency, 0.92, 0},
                                         {Coefficient::filter_drop, 1.8, 0},
                                         {Coefficient::cooler_drop, 1.25, 0},
                                         {Coefficient::cooler_effectiveness, 0.88, 0},
                                         {Coefficient::duct_losses, 1.3, 0}};
constexpr std::size_t spoiled_row = 8, spoiled_column = 6; ///< the manifold gauge stuck there
constexpr double spoiled_kPa = 96;

build::Build demo() {
  const auto build =
      build::load_build(std::filesystem::path(BELLMOUTH_DEMO_DIR) / "1-hill-road-hatchback.json");
  EXPECT_TRUE(build.has_value()) << (build ? "" : build.error().text());
  return build.value_or(build::Build{});
}

/// The text of the example.
std::string example(const build::Build& build) {
  const std::string columns = "engine_speed_rpm,ambient_pressure_kPa,ambient_temperature_C,"
                              "blower_inlet_pressure_kPa_gauge,blower_outlet_temperature_C,"
                              "cooler_inlet_pressure_kPa_gauge,cooler_outlet_pressure_kPa_gauge,"
                              "pressure_kPa_gauge behind filter,temperature_C at charge temperature,"
                              "manifold_pressure_kPa,mass_flow_g_s,ignore coolant_C\n";
  std::string blank = columns;
  std::vector<std::string> beginnings;
  for (int i = 0; i < 20; ++i) {
    beginnings.push_back(fmt::format("{},{:.1f},{:.1f}", 2000 + 200 * i, 99.2 - 0.02 * i, 17 + 0.15 * i));
    blank += beginnings.back() + ",,,,,,,,," + fmt::format("{}", 82 + i / 2) + "\n";
  }
  auto log = fit::read_log(blank, build, option).value_or(fit::Log{});
  auto with_truth = build;
  with_truth.measured = truth;
  log = simulated(log, with_truth, 20, 1, option);
  std::string text = "# Invented: made by the model itself, with noise, for demo build 1, option \"smooth "
                     "bends\"; see README.md.\n";
  text += columns;
  for (std::size_t i = 0; i < log.rows.size(); ++i) {
    text += beginnings[i];
    for (std::size_t c = 0; c < log.channels.size(); ++c) {
      const auto& channel = log.channels[c];
      double number =
          fit::in_column(channel, log.rows[i].readings[c].value_or(NAN), log.rows[i].ambient->pressure_Pa);
      if (i == spoiled_row && c == spoiled_column)
        number = spoiled_kPa;
      const bool not_read = channel.dimension == quantity::Dimension::mass_flow && i % 5 == 3;
      text += not_read ? std::string(",") : fmt::format(",{:.1f}", number);
    }
    text += fmt::format(",{}\n", 82 + i / 2);
  }
  return text;
}

/// What the example promises of a fit of everything.
testing::AssertionResult keeps_its_promise(const build::Build& build, const fit::Log& log) {
  fit::Options options;
  options.free.assign(fit::all_coefficients.begin(), fit::all_coefficients.end());
  const auto found = fit_of(build, log, options, option);
  if (!found.usable() || !found.build)
    return testing::AssertionFailure() << fit::text(found.stop);
  int held = 0;
  for (const auto& wanted : truth) {
    const auto& one = fitted(found, wanted.coefficient);
    held += one.low <= wanted.factor && wanted.factor <= one.high;
  }
  if (held < 6) // 95 % each
    return testing::AssertionFailure()
           << "only " << held << " of 7 intervals hold what the log was made with";
  if (!(found.scatter > 0.8 && found.scatter < 1.25))
    return testing::AssertionFailure() << "scatter " << found.scatter;
  const auto& gauge = found.rows[spoiled_row].readings[spoiled_column];
  if (!gauge || !gauge->outlier() || gauge->weight > 0.2)
    return testing::AssertionFailure() << "the stuck gauge was not found";
  return testing::AssertionSuccess();
}

// Identity: what the log was made with comes out of it.
TEST(ExampleLog, TellsWhatItWasMadeWith) {
  const auto build = demo();
  const std::string anew = example(build);
  const auto made = fit::read_log(anew, build, option, "anew");
  ASSERT_TRUE(made.has_value()) << made.error().text();
  EXPECT_TRUE(keeps_its_promise(build, *made));
  const auto kept = fit::load_log(
      std::filesystem::path(BELLMOUTH_SHARED_DIR) / "logs" / "hill-road-hatchback.csv", build, option);
  const bool fine = kept && keeps_its_promise(build, *kept);
  if (!fine) {
    const auto file = std::filesystem::path(testing::TempDir()) / "hill-road-hatchback.csv";
    std::ofstream(file) << anew;
    FAIL() << (kept ? keeps_its_promise(build, *kept).message() : kept.error().text().c_str())
           << "\nThe model has changed: copy " << file << " to shared/logs.";
  }
}

} // namespace
} // namespace bellmouth::test
