// SPDX-License-Identifier: GPL-3.0-or-later
// The one door: complete, deterministic, safe from many threads.
#include "support/close.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/evaluate.hpp>

#include <gtest/gtest.h>

#include <array>
#include <thread>

namespace bellmouth::test {
namespace {

using namespace build;

/// What two evaluations must share to count as the same.
void expect_same(const Evaluation& a, const Evaluation& b) {
  EXPECT_EQ(a.option, b.option);
  EXPECT_EQ(a.path.point.stop, b.path.point.stop);
  EXPECT_EQ(a.path.point.mass_flow_kg_s, b.path.point.mass_flow_kg_s);
  EXPECT_EQ(a.path.point.manifold_pressure_Pa, b.path.point.manifold_pressure_Pa);
  EXPECT_EQ(a.duct_drop_Pa, b.duct_drop_Pa);
  EXPECT_EQ(a.findings, b.findings);
  ASSERT_EQ(a.runs.size(), b.runs.size());
  for (std::size_t i = 0; i < a.runs.size(); ++i) {
    EXPECT_EQ(a.runs[i].length_m, b.runs[i].length_m);
    EXPECT_EQ(a.runs[i].flow.drop_Pa, b.runs[i].flow.drop_Pa);
  }
}

TEST(Evaluate, HoldsEveryRunAndRow) {
  for (const auto& sample : all_sample_builds())
    for (const auto& option : sample.options) {
      const auto evaluation = evaluate(sample, option.id);
      ASSERT_TRUE(evaluation.path.point.usable()) << sample.title;
      ASSERT_EQ(evaluation.runs.size(), option.runs.size());
      for (const auto& run : evaluation.runs) {
        const auto* source = option.find(run.id);
        ASSERT_NE(source, nullptr);
        EXPECT_EQ(run.flow.rows.size(), source->pieces.size());
        EXPECT_EQ(run.fit.rows.size(), source->pieces.size());
        EXPECT_GT(run.length_m, 0);
      }
    }
}

TEST(Evaluate, IsAFunctionOfTheBuildAlone) {
  const auto sample = sample_build();
  expect_same(evaluate(sample, {"small"}), evaluate(sample, {"small"}));
}

TEST(Evaluate, StandsOnItsOwnWhenTheBuildIsGone) {
  auto sample = std::make_unique<Build>(sample_build());
  const auto wanted = evaluate(*sample, {"small"});
  const auto kept = evaluate(*sample, {"small"});
  sample.reset();
  for (const auto& run : kept.runs)
    for (const auto& joint : run.fit.joints)
      if (joint.clamp != nullptr) {
        EXPECT_FALSE(joint.clamp->name.empty());
      }
  expect_same(kept, wanted);
}

TEST(Evaluate, IsSafeFromManyThreads) {
  const auto sample = sample_build();
  const auto wanted = evaluate(sample, {"wide"});
  std::array<std::vector<Evaluation>, 4> found;
  std::vector<std::thread> threads;
  threads.reserve(found.size());
  for (auto& own : found)
    threads.emplace_back([&own, &sample] {
      for (int i = 0; i < 50; ++i)
        own.push_back(evaluate(sample, {"wide"}));
    });
  for (auto& thread : threads)
    thread.join();
  for (const auto& own : found)
    for (const auto& evaluation : own)
      expect_same(evaluation, wanted);
}

// Identity: the whole is the sum of its runs.
TEST(Evaluate, SumsItsRuns) {
  const auto evaluation = evaluate(sample_build(), {"small"});
  double drop = 0, volume = 0;
  for (const auto& run : evaluation.runs) {
    drop += run.flow.drop_Pa;
    volume += run.flow.volume_m3;
  }
  EXPECT_TRUE(close(evaluation.duct_drop_Pa, drop, 1e-12));
  EXPECT_TRUE(close(evaluation.duct_volume_m3, volume, 1e-12));
  ASSERT_TRUE(evaluation.air_lost_to_ducting.has_value());
  EXPECT_GT(*evaluation.air_lost_to_ducting, 0);
  EXPECT_LT(*evaluation.air_lost_to_ducting, 0.2);
}

// Closed form (D8 of the trade's facts): extra volume over displacement flow. Here: air that fills the
// ducting over the air that comes.
TEST(Evaluate, FillTimeIsVolumeTimesRiseOverFlow) {
  const auto sample = sample_build();
  const auto evaluation = evaluate(sample, {"small"});
  const auto ambient = ambient_air(sample.ambient);
  const auto& point = evaluation.path.point;
  const double rise = ambient.air.density_kg_m3(point.manifold_pressure_Pa, point.manifold_temperature_K) -
                      ambient.air.density_kg_m3(ambient.pressure_Pa, ambient.temperature_K);
  ASSERT_TRUE(evaluation.fill_time_s.has_value());
  // The first run lies ahead of the blower and is not filled.
  const double volume = evaluation.runs[1].flow.volume_m3 + evaluation.runs[2].flow.volume_m3;
  EXPECT_TRUE(close(*evaluation.fill_time_s, volume * rise / point.mass_flow_kg_s, 1e-12));
  EXPECT_FALSE(evaluate(natural_build(), {"only"}).fill_time_s.has_value());
}

TEST(Evaluate, ASweepIsTheSameAsItsPoints) {
  const auto sample = sample_build();
  const std::vector<double> speeds{20, 40, 60, 80, 100};
  const auto points = sweep(sample, {"small"}, speeds);
  ASSERT_EQ(points.size(), speeds.size());
  for (std::size_t i = 0; i < speeds.size(); ++i) {
    const auto alone = evaluate(sample, {"small"}, speeds[i]).path.point;
    EXPECT_EQ(points[i].stop, alone.stop);
    EXPECT_TRUE(close(points[i].mass_flow_kg_s, alone.mass_flow_kg_s, 1e-8));
  }
}

// Signs: a wider run costs less pressure, moves slower air and holds more of it.
TEST(Evaluate, SizingTradesSpeedForVolume) {
  const auto sample = sample_build();
  const auto rows = size(sample, {"wide"}, {"cold_side"});
  ASSERT_EQ(rows.size(), stock::tube_sizes(sample).size());
  const SizeRow* before = nullptr;
  for (const auto& row : rows) {
    if (!row.usable)
      continue;
    if (before != nullptr && row.bore_m > before->bore_m) {
      EXPECT_LT(row.peak_velocity_m_s, before->peak_velocity_m_s);
      EXPECT_GT(row.volume_m3, before->volume_m3);
    }
    before = &row;
  }
}

// Identity: the row in which the run is already is the option as it is, in flow and in money.
TEST(Evaluate, SizingKnowsTheSizeThatIsThere) {
  Build sample = sample_build();
  build::Run run = *sample.options[0].runs[2];
  run.pieces = {{Tube{0.0635, 1.65e-3, 0.3, {}}, Material::aluminium, {}, ""},
                {SensorBoss{0.1, 0, "M12x1.5"}, Material::aluminium, {}, "sensor"},
                {Hose{0.0635, 4.5e-3, 0.08, {0.032, 0.032}}, Material::silicone, {}, ""}};
  for (auto& piece : run.pieces)
    if (const auto found = stock::nearest_in_stock(sample, piece); found && !is_fitting(piece.shape))
      piece = *found;
  sample.options[0].runs[2] = run;
  const auto wanted = evaluate(sample, {"small"});
  int there = 0;
  for (const auto& row : size(sample, {"small"}, {"cold_side"})) {
    EXPECT_TRUE(row.usable);
    if (!row.as_it_is)
      continue;
    ++there;
    EXPECT_TRUE(close(row.drop_Pa, wanted.runs[2].flow.drop_Pa, 1e-12));
    const buy::Totals totals = buy::purchase(sample, {"small"}).totals;
    EXPECT_EQ(row.total, totals.total);
    EXPECT_EQ(row.unpriced, totals.unpriced);
  }
  EXPECT_EQ(there, 1);
}

} // namespace
} // namespace bellmouth::test
