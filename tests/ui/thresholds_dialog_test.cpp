// SPDX-License-Identifier: GPL-3.0-or-later
// The table of thresholds. Identities of the contract; that they are the trade's is for trade/ to prove.
#include "view_sample.hpp"

#include <bellmouth/build/thresholds.hpp>

#include <QAbstractItemModelTester>
#include <QCheckBox>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <gtest/gtest.h>

#include <sheet.hpp>
#include <threshold_text.hpp>
#include <thresholds_dialog.hpp>
#include <units.hpp>

namespace bellmouth::ui {
namespace {

enum Column { what, holds, trade_column, source, basis };

class Thresholds : public testing::Test {
protected:
  Session session{test::full_build()};
  ThresholdsDialog dialog{session};

  void SetUp() override { dialog.show(); }
  template <class W> W* find(const QString& name) const {
    W* widget = dialog.findChild<W*>(name);
    EXPECT_NE(widget, nullptr) << name.toStdString();
    return widget;
  }
  SheetModel& model() const { return find<Sheet>("thresholds")->model(); }
  QModelIndex cell(const char* key, Column column) const {
    const QString title = words_of(trade::find(key)->title);
    for (int row = 0; row < model().rowCount(); ++row)
      if (model().index(row, what).data().toString() == title)
        return model().index(row, column);
    ADD_FAILURE() << key;
    return {};
  }
  double limit_m() const { return build::limits_of(session.build()).engagement_caution_m; }
};

TEST_F(Thresholds, AllAreShownWithTheirSources) {
  EXPECT_EQ(static_cast<std::size_t>(model().rowCount()), trade::thresholds().size());
  for (int row = 0; row < model().rowCount(); ++row) {
    EXPECT_FALSE(model().index(row, source).data().toString().isEmpty());
    EXPECT_EQ(model().index(row, holds).data(), model().index(row, trade_column).data());
  }
}

TEST_F(Thresholds, AChangeIsAStepAndStandsOut) {
  const QAbstractItemModelTester tester(&model());
  ASSERT_TRUE(model().setData(cell("engagement_caution_mm", holds), "1 3/4 in"));
  EXPECT_NEAR(limit_m(), 44.45e-3, 1e-12);
  EXPECT_TRUE(cell("engagement_caution_mm", what).data(Qt::FontRole).value<QFont>().bold());
  EXPECT_FALSE(cell("engagement_stop_mm", what).data(Qt::FontRole).value<QFont>().bold());
  EXPECT_TRUE(session.undo_text().startsWith("Change threshold: "));
  session.undo();
  EXPECT_EQ(limit_m(), trade::defaults().engagement_caution_m);
  EXPECT_FALSE(cell("engagement_caution_mm", what).data(Qt::FontRole).value<QFont>().bold());
}

TEST_F(Thresholds, ChecksMeasureByWhatIsTyped) {
  const std::vector<check::Finding> before = session.evaluation().findings;
  ASSERT_TRUE(model().setData(cell("engagement_caution_mm", holds), "150 mm"));
  EXPECT_NE(session.evaluation().findings, before);
}

TEST_F(Thresholds, WrongTextStaysInItsCellWithWhatIsAccepted) {
  const struct {
    const char *text, *said;
  } cases[] = {
      {"much", "found \"much\""}, {"3 kPa", "kPa"}, {"-1 mm", "0 mm to 200 mm"}, {"5 m", "0 mm to 200 mm"}};
  for (const auto& each : cases) {
    const QModelIndex at = cell("engagement_caution_mm", holds);
    EXPECT_FALSE(model().setData(at, each.text)) << each.text;
    EXPECT_EQ(at.data().toString(), each.text);
    EXPECT_TRUE(model().complaint(at).contains(each.said)) << model().complaint(at).toStdString();
    EXPECT_TRUE(find<QLabel>("thresholds_error")->text().contains(each.said));
  }
  EXPECT_FALSE(session.can_undo());
}

TEST_F(Thresholds, GoBackToTheTrades) {
  auto* one = find<QPushButton>("thresholds_restore");
  auto* all = find<QPushButton>("thresholds_restore_all");
  EXPECT_FALSE(one->isEnabled() || all->isEnabled());
  ASSERT_TRUE(model().setData(cell("engagement_caution_mm", holds), "50"));
  ASSERT_TRUE(model().setData(cell("kerf_mm", holds), "1.2"));
  find<Sheet>("thresholds")->show_picked(cell("kerf_mm", what).row());
  emit find<Sheet>("thresholds")->picked(cell("kerf_mm", what).row());
  ASSERT_TRUE(one->isEnabled());
  one->click();
  EXPECT_EQ(session.build().thresholds.size(), 1U);
  all->click();
  EXPECT_TRUE(session.build().thresholds.empty());
  session.undo();
  EXPECT_EQ(session.build().thresholds.size(), 1U) << "one step";
  ASSERT_TRUE(model().setData(cell("engagement_caution_mm", holds), ""));
  EXPECT_TRUE(session.build().thresholds.empty()) << "nothing typed is the trade's";
}

TEST_F(Thresholds, AreFoundByWordsAndGroup) {
  find<QLineEdit>("thresholds_search")->setText("kerf");
  ASSERT_GT(model().rowCount(), 0);
  EXPECT_LT(static_cast<std::size_t>(model().rowCount()), trade::thresholds().size());
  find<QLineEdit>("thresholds_search")->setText("no such word anywhere");
  EXPECT_EQ(model().rowCount(), 0);
  EXPECT_TRUE(find<QLabel>("thresholds_empty")->isVisible());
  find<QLineEdit>("thresholds_search")->clear();
  auto* groups = find<QListWidget>("thresholds_groups");
  int sum = 0;
  for (int group = 1; group < groups->count(); ++group) {
    groups->setCurrentRow(group);
    EXPECT_GT(model().rowCount(), 0);
    sum += model().rowCount();
  }
  EXPECT_EQ(static_cast<std::size_t>(sum), trade::thresholds().size());
  groups->setCurrentRow(0);
  ASSERT_TRUE(model().setData(cell("kerf_mm", holds), "2 mm"));
  find<QCheckBox>("thresholds_only_changed")->setChecked(true);
  EXPECT_EQ(model().rowCount(), 1);
}

/// Identity: what is shown is read back as the same value, in all units.
TEST(ThresholdText, IsReadBack) {
  for (const auto length : {UnitChoice::Length::millimetres, UnitChoice::Length::inches}) {
    UnitChoice choice;
    choice.length = length;
    choice.pressure = length == UnitChoice::Length::inches ? UnitChoice::Pressure::psi : choice.pressure;
    choice.temperature =
        length == UnitChoice::Length::inches ? UnitChoice::Temperature::fahrenheit : choice.temperature;
    use_units(choice);
    for (const trade::Threshold& threshold : trade::thresholds()) {
      const QString text = show_threshold(threshold, trade::defaults());
      const auto read = read_threshold(threshold, text);
      ASSERT_TRUE(std::holds_alternative<double>(read))
          << threshold.key << " " << text.toStdString() << " " << std::get<QString>(read).toStdString();
      const double value = trade::value(threshold, trade::defaults());
      EXPECT_NEAR(std::get<double>(read), value, 1e-5 * std::max(std::abs(value), 1e-3)) << threshold.key;
    }
  }
  use_units({});
}

} // namespace
} // namespace bellmouth::ui
