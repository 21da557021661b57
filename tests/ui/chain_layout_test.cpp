// SPDX-License-Identifier: GPL-3.0-or-later
// Identities of the drawing: everything is to one scale and lies where the joints put it.
#include "view_sample.hpp"

#include <gtest/gtest.h>

#include <chain_layout.hpp>
#include <piece_text.hpp>
#include <theme.hpp>
#include <units.hpp>

namespace bellmouth::ui {
namespace {

constexpr double scale_px_m = 480;

ChainLayout laid_out(const build::Build& build, double scale = scale_px_m) {
  const Evaluation evaluation = evaluate(build, build.options.front().id);
  return lay_out_chain(build, evaluation, scale, 400, QFontMetricsF(small_font()));
}

TEST(ChainLayout, RunsAreAsLongAsTheirCentrelines) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, build.options.front().id);
  const ChainLayout chain = laid_out(build);
  ASSERT_EQ(chain.runs.size(), evaluation.runs.size());
  for (std::size_t i = 0; i < chain.runs.size(); ++i)
    EXPECT_NEAR(chain.runs[i].right - chain.runs[i].left, evaluation.runs[i].length_m * scale_px_m, 1e-6);
}

TEST(ChainLayout, DimensionTextsAreWholeAndClearOfEachOther) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, build.options.front().id);
  for (const double scale : {60.0, 200.0, 480.0, 1500.0}) {
    const ChainLayout chain = laid_out(build, scale);
    for (std::size_t i = 0; i < chain.runs.size(); ++i) {
      const QString length = show_length(evaluation.runs[i].length_m), name = run_name(chain.runs[i].run),
                    drop = show_pressure_difference(-evaluation.runs[i].flow.drop_Pa);
      const QStringList ways{length, name + "  " + length, name + "  " + length + "  " + drop};
      EXPECT_TRUE(ways.contains(chain.runs[i].dimension)) << chain.runs[i].dimension.toStdString();
      if (scale > 1000) {
        EXPECT_EQ(chain.runs[i].dimension, ways.back()) << "there is room for all";
      }
      if (i > 0 && chain.runs[i].dimension != ways.front()) {
        EXPECT_GE(chain.runs[i].dimension_text.left(), chain.runs[i - 1].dimension_text.right());
      }
    }
  }
}

TEST(ChainLayout, WhatStandsSideBySideSaysSo) {
  const build::Build build = bellmouth::test::geared_build();
  const ChainLayout chain = laid_out(build, 1500);
  QStringList titles;
  for (const ChainItem& item : chain.items)
    if (item.kind == ChainItem::Kind::machine)
      titles << item.title;
  EXPECT_TRUE(titles.contains("left: Water cooler"));
  EXPECT_TRUE(titles.contains("right: Front cooler"));
  EXPECT_TRUE(titles.contains("Throttle"));
  for (const ChainRun& run : chain.runs) {
    const std::string& branch = build.path[run.step].branch.text;
    EXPECT_TRUE(run.dimension.startsWith(QString::fromStdString(branch) + (branch.empty() ? "" : ": ") +
                                         run_name(run.run)))
        << run.dimension.toStdString();
  }
}

TEST(ChainLayout, BodiesAreToScaleBothWays) {
  const build::Build build = test::full_build();
  const ChainLayout chain = laid_out(build);
  int checked = 0;
  for (const ChainItem& item : chain.items) {
    if (item.kind != ChainItem::Kind::piece || item.fitting)
      continue;
    const build::Shape& shape = build.options.front().find(item.run)->pieces[item.row].shape;
    EXPECT_NEAR(item.body.width(), build::full_length_m(shape) * scale_px_m, 1e-6) << build::kind_name(shape);
    EXPECT_NEAR(item.body.height(),
                std::max(build::outer_diameter_in_m(shape), build::outer_diameter_out_m(shape)) * scale_px_m,
                1e-6);
    EXPECT_NEAR(item.body.center().y(), chain.axis_y, 1e-6);
    ++checked;
  }
  EXPECT_EQ(checked, 13);
}

TEST(ChainLayout, FollowsTheFlowFromLeftToRight) {
  const ChainLayout chain = laid_out(test::full_build());
  double x = 0;
  for (const ChainItem& item : chain.items) {
    if (item.fitting)
      continue;
    EXPECT_GE(item.body.center().x(), x);
    x = item.body.center().x();
  }
  EXPECT_EQ(chain.items.front().kind, ChainItem::Kind::machine);
  EXPECT_EQ(chain.items.back().kind, ChainItem::Kind::demand);
}

TEST(ChainLayout, HosesCoverTheirSpigotsByTheEngagement) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, build.options.front().id);
  const ChainLayout chain = laid_out(build);
  std::size_t hose_joints = 0;
  for (const RunResult& run : evaluation.runs)
    for (const joint::Joint& joint : run.fit.joints)
      if (joint.kind == joint::Kind::hose) {
        ASSERT_LT(hose_joints, chain.covers.size());
        EXPECT_NEAR(chain.covers[hose_joints].spigot.width(), joint.engagement_m * scale_px_m, 1e-6);
        ++hose_joints;
      }
  EXPECT_EQ(chain.covers.size(), hose_joints);
  // Each cover lies within some hose's body.
  for (const ChainCover& cover : chain.covers) {
    const bool inside = std::ranges::any_of(chain.items, [&](const ChainItem& item) {
      return item.flexible && item.body.left() <= cover.spigot.left() + 1e-6 &&
             item.body.right() >= cover.spigot.right() - 1e-6;
    });
    EXPECT_TRUE(inside) << cover.spigot.left();
  }
}

TEST(ChainLayout, FittingsSitOnTheirHost) {
  const build::Build build = test::full_build();
  const ChainLayout chain = laid_out(build);
  int fittings = 0;
  for (std::size_t i = 0; i < chain.items.size(); ++i) {
    const ChainItem& item = chain.items[i];
    if (!item.fitting)
      continue;
    std::size_t host = i - 1;
    while (chain.items[host].fitting)
      --host;
    EXPECT_GE(item.on_host.x(), chain.items[host].body.left());
    EXPECT_LE(item.on_host.x(), chain.items[host].body.right());
    EXPECT_EQ(chain.item_at(item.body.center()), i) << "a fitting lies over what it sits on";
    ++fittings;
  }
  EXPECT_EQ(fittings, 3);
}

TEST(ChainLayout, FittingScaleFillsTheWidth) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, build.options.front().id);
  for (const double width : {900.0, 1280.0, 1920.0, 3840.0}) {
    const double scale = fitting_scale_px_m(build, evaluation, width);
    if (scale > lowest_scale_px_m && scale < highest_fitted_px_m)
      EXPECT_NEAR(laid_out(build, scale).width, width, 1.0);
    else
      EXPECT_TRUE(scale == lowest_scale_px_m || scale == highest_fitted_px_m);
  }
}

TEST(ChainLayout, LabelsDoNotOverlap) {
  for (const build::Build& build : {test::full_build(), bellmouth::test::compressor_build()})
    for (const double scale : {120.0, 300.0, 480.0, 900.0}) {
      const ChainLayout chain = laid_out(build, scale);
      for (std::size_t a = 0; a < chain.items.size(); ++a)
        for (std::size_t b = a + 1; b < chain.items.size(); ++b)
          EXPECT_FALSE(!chain.items[a].label.isNull() &&
                       chain.items[a].label.intersects(chain.items[b].label))
              << chain.items[a].title.toStdString() << " and " << chain.items[b].title.toStdString() << " at "
              << scale;
    }
}

TEST(ChainLayout, EmptyRunHasOnePlaceForAPiece) {
  const ChainLayout chain = laid_out(test::with_empty_run(test::full_build(), test::hot_side));
  const auto empty = std::ranges::find(chain.items, ChainItem::Kind::empty_run, &ChainItem::kind);
  ASSERT_NE(empty, chain.items.end());
  const auto place = chain.place_at(empty->body.center());
  ASSERT_TRUE(place);
  EXPECT_EQ(place->run, test::hot_side);
  EXPECT_EQ(place->before_row, 0U);
}

} // namespace
} // namespace bellmouth::ui
