// SPDX-License-Identifier: GPL-3.0-or-later
// The figures as words, and the tiles. Identities with the evaluation they are read from.
#include "view_sample.hpp"

#include <QLabel>
#include <gtest/gtest.h>

#include <figures.hpp>
#include <figures_band.hpp>
#include <units.hpp>

namespace bellmouth::ui {
namespace {

using test::choking_build;
using test::named;

TEST(Figures, AreThoseOfTheEvaluation) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, {"small"});
  ASSERT_TRUE(evaluation.path.point.usable());
  const buy::Purchase purchase = buy::purchase(build, {"small"});
  const auto all = figures(build, {evaluation, nullptr, &purchase});
  EXPECT_DOUBLE_EQ(*named(all, "air_flow").number, evaluation.path.point.mass_flow_kg_s);
  EXPECT_DOUBLE_EQ(*named(all, "ducting_drop").number, evaluation.duct_drop_Pa);
  EXPECT_EQ(named(all, "ducting_drop").text(), show_pressure_difference(evaluation.duct_drop_Pa));
  EXPECT_DOUBLE_EQ(*named(all, "duct_volume").number, evaluation.duct_volume_m3);
  EXPECT_EQ(named(all, "manifold_pressure").detail,
            show_pressure_abs(evaluation.path.point.manifold_pressure_Pa));
  EXPECT_EQ(named(all, "price").text(), show_money(purchase.totals.total));
  for (const Figure& figure : all)
    EXPECT_FALSE(figure.difference) << figure.key.toStdString() << ": there is nothing to compare with";
}

TEST(Figures, DifferencesHaveSignAndMerit) {
  const build::Build build = test::full_build();
  const Evaluation small = evaluate(build, {"small"}), wide = evaluate(build, {"wide"});
  const buy::Purchase small_purchase = buy::purchase(build, {"small"}),
                      wide_purchase = buy::purchase(build, {"wide"});
  const Known one{small, nullptr, &small_purchase}, two{wide, nullptr, &wide_purchase};
  const auto one_way = figures(build, one, &two), other_way = figures(build, two, &one);
  ASSERT_EQ(one_way.size(), other_way.size());
  int unlike = 0;
  for (std::size_t i = 0; i < one_way.size(); ++i) {
    ASSERT_TRUE(one_way[i].difference && other_way[i].difference) << one_way[i].key.toStdString();
    EXPECT_EQ(one_way[i].difference->merit, -other_way[i].difference->merit) << one_way[i].key.toStdString();
    unlike += one_way[i].difference->merit != 0 ? 1 : 0;
  }
  EXPECT_GT(unlike, 2);
  const Difference& drop = *named(one_way, "ducting_drop").difference;
  EXPECT_GT(small.duct_drop_Pa, wide.duct_drop_Pa);
  EXPECT_EQ(drop.merit, -1);
  EXPECT_TRUE(drop.text.startsWith('+'));
  EXPECT_TRUE(drop.marked().startsWith("✗")) << "not told by colour alone";
}

TEST(Figures, AnOptionDoesNotDifferFromItself) {
  const build::Build build = test::full_build();
  const Evaluation small = evaluate(build, {"small"});
  const Known known{small};
  for (const Figure& figure : figures(build, known, &known))
    if (figure.difference) {
      EXPECT_EQ(figure.difference->text, "same");
      EXPECT_EQ(figure.difference->merit, 0);
    }
}

TEST(Figures, SmallDifferencesAreNone) {
  const auto of = [](double value, double other, std::optional<double> counted_from) {
    return difference(value, other, Better::lower, show_power, show_power, counted_from);
  };
  EXPECT_EQ(of(5910, 5900, 0).text, "same") << "0.01 of 5.90 kW";
  EXPECT_EQ(of(5900, 5910, 0).text, "same");
  EXPECT_EQ(of(5950, 5900, 0).text, "+0.0500 kW");
  EXPECT_EQ(of(5950, 5900, 0).merit, -1);
  EXPECT_EQ(of(5910, 5900, std::nullopt).merit, -1) << "every cent and every joint counts";
  EXPECT_EQ(of(5910, 5900, 5800).merit, -1) << "a tenth of what it is counted from";
}

TEST(Figures, FindingsCountNotes) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, {"small"});
  const Figure findings = named(figures(build, {evaluation}), "findings");
  EXPECT_DOUBLE_EQ(*findings.number, static_cast<double>(evaluation.findings.size()));
  const auto notes =
      std::ranges::count(evaluation.findings, check::Severity::note, &check::Finding::severity);
  ASSERT_GT(notes, 0);
  EXPECT_TRUE(findings.detail.endsWith(QString("%1 note%2").arg(notes).arg(notes == 1 ? "" : "s")))
      << findings.detail.toStdString();
}

TEST(Figures, WhatIsWaivedIsCountedApart) {
  const build::Build build = test::full_build();
  Evaluation evaluation = evaluate(build, {"small"});
  const auto before = evaluation.findings.size();
  ASSERT_GT(before, 1U);
  evaluation.findings.front().waived = "seen, and lived with";
  const Figure findings = named(figures(build, {evaluation}), "findings");
  EXPECT_DOUBLE_EQ(*findings.number, static_cast<double>(before - 1));
  EXPECT_TRUE(findings.detail.endsWith("1 waived")) << findings.detail.toStdString();
}

TEST(Figures, MoneyWaitsForThePurchase) {
  const build::Build build = test::full_build();
  const Evaluation evaluation = evaluate(build, {"small"});
  EXPECT_FALSE(named(figures(build, {evaluation}), "price").number);
  EXPECT_EQ(named(figures(build, {evaluation}), "price").value, "–");
}

TEST(Figures, ChokedFlowIsSaidInWords) {
  const build::Build build = choking_build();
  const Evaluation evaluation = evaluate(build, {"small"});
  ASSERT_EQ(evaluation.path.point.stop, flow::Stop::chokes);
  const QString words = trouble(evaluation);
  EXPECT_TRUE(words.contains(QString::fromStdString(evaluation.path.point.choke_where)))
      << words.toStdString();
  EXPECT_TRUE(words.contains(show_mass_flow(evaluation.path.point.max_mass_flow_kg_s)))
      << words.toStdString();
  const buy::Purchase purchase = buy::purchase(build, {"small"});
  const auto all = figures(build, {evaluation, nullptr, &purchase});
  EXPECT_FALSE(named(all, "air_flow").number);
  EXPECT_EQ(named(all, "air_flow").value, "–");
  EXPECT_TRUE(named(all, "price").number) << "money does not hang on the flow";
}

TEST(FiguresBand, HasATileForEachFigureWithinItsWidth) {
  Session session(test::full_build());
  FiguresBand band(session);
  for (const int width : {500, 1280, 1920}) {
    test::show(band, width, band.heightForWidth(width));
    const auto tiles = band.findChildren<FigureTile*>();
    ASSERT_EQ(static_cast<std::size_t>(tiles.size()),
              figures(session.build(), {session.evaluation()}).size());
    for (const FigureTile* tile : tiles) {
      EXPECT_TRUE(band.rect().contains(tile->geometry()))
          << tile->objectName().toStdString() << " at " << width;
      for (const FigureTile* other : tiles)
        EXPECT_TRUE(tile == other || !tile->geometry().intersects(other->geometry()));
      EXPECT_FALSE(tile->accessibleName().isEmpty());
    }
  }
}

TEST(FiguresBand, FollowsEditsAndOptions) {
  Session session(test::full_build());
  FiguresBand band(session);
  test::show(band, 1280, 160);
  const auto* tile = band.findChild<FigureTile*>("figure_ducting_drop");
  ASSERT_NE(tile, nullptr);
  const QString before = tile->figure().text();
  session.show_option({"wide"});
  EXPECT_NE(tile->figure().text(), before);
  EXPECT_EQ(tile->figure().text(), show_pressure_difference(session.evaluation().duct_drop_Pa));
  session.compare_with(std::nullopt);
  EXPECT_FALSE(tile->figure().difference);
}

TEST(FiguresBand, NamesTheOptionComparedWith) {
  Session session(test::full_build());
  FiguresBand band(session);
  test::show(band, 1280, band.heightForWidth(1280));
  const auto* against = band.findChild<QLabel*>("figures_against");
  const auto* tile = band.findChild<FigureTile*>("figure_ducting_drop");
  ASSERT_TRUE(against && tile);
  EXPECT_TRUE(against->isVisible());
  EXPECT_TRUE(against->text().endsWith("wide"));
  EXPECT_TRUE(band.rect().contains(against->geometry()));
  for (const FigureTile* other : band.findChildren<FigureTile*>())
    EXPECT_FALSE(against->geometry().intersects(other->geometry()));
  EXPECT_TRUE(tile->toolTip().contains("against wide"));
  session.compare_with(std::nullopt);
  EXPECT_FALSE(against->isVisible());
  EXPECT_FALSE(tile->toolTip().contains("against"));
}

TEST(FiguresBand, SaysWhyThereAreNoFigures) {
  Session session(choking_build());
  FiguresBand band(session);
  test::show(band, 1280, 220);
  const auto* words = band.findChild<QLabel*>("figures_trouble");
  ASSERT_NE(words, nullptr);
  EXPECT_TRUE(words->isVisible());
  EXPECT_TRUE(words->text().startsWith("The air chokes"));
  ASSERT_FALSE(session.apply(test::full_build(), "widen"));
  EXPECT_FALSE(words->isVisible());
}

} // namespace
} // namespace bellmouth::ui
