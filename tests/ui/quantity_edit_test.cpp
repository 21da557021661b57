// SPDX-License-Identifier: GPL-3.0-or-later
// Typing a quantity. Expected values are exact by the definition of the units (1 in = 25.4 mm, NIST SP 811).
#include <QLineEdit>
#include <QLocale>
#include <QSignalSpy>
#include <QTest>
#include <gtest/gtest.h>
#include <quantity_edit.hpp>

#include <units.hpp>

namespace bellmouth::ui {
namespace {

using quantity::Dimension;

void type(QuantityEdit& edit, const QString& text) {
  edit.line()->selectAll();
  QTest::keyClicks(edit.line(), text);
}

TEST(QuantityEdit, ReadsWhatPeopleType) {
  struct Case {
    QuantityKind kind;
    const char* text;
    double value;
  };
  const Case cases[] = {
      {{}, "57", 0.057},
      {{}, "57 mm", 0.057},
      {{}, "2 1/4 in", 0.05715},
      {{}, "2.25\"", 0.05715},
      {{.dimension = Dimension::ratio, .unit = "%"}, "85", 0.85},
      {{.dimension = Dimension::rotational_speed}, "6000", 100.0},
      {{.dimension = Dimension::temperature}, "20 C", 293.15},
      {{.dimension = Dimension::pressure, .reference = quantity::Reference::absolute, .ambient_Pa = 100e3},
       "50 kPa gauge",
       150e3},
  };
  for (const Case& each : cases) {
    QuantityEdit edit(each.kind);
    QSignalSpy edited(&edit, &QuantityEdit::edited);
    type(edit, each.text);
    QTest::keyClick(edit.line(), Qt::Key_Return);
    ASSERT_TRUE(edit.value()) << each.text << ": " << edit.error().toStdString();
    EXPECT_NEAR(*edit.value(), each.value, 1e-12 * (1 + each.value)) << each.text;
    EXPECT_EQ(edited.count(), 1) << each.text;
  }
}

TEST(QuantityEdit, ReadsAUnitOfItsOwn) {
  QuantityEdit edit(in_own_unit({.symbol = "kJ/kg", .factor = 1e3, .step = 10e3}));
  edit.set_value(980e3);
  EXPECT_EQ(edit.line()->text(), "980 kJ/kg");
  for (const auto& [text, value] :
       {std::pair{"950", 950e3}, {"940 kJ/kg", 940e3}, {"930kj/kg", 930e3}, {"1.02e3 kJ/kg", 1020e3}}) {
    type(edit, text);
    QTest::keyClick(edit.line(), Qt::Key_Return);
    ASSERT_TRUE(edit.value());
    EXPECT_DOUBLE_EQ(*edit.value(), value) << text;
    EXPECT_TRUE(edit.error().isEmpty()) << text;
  }
  QTest::keyClick(edit.line(), Qt::Key_Up);
  EXPECT_DOUBLE_EQ(*edit.value(), 1030e3);
  for (const char* text : {"50 %", "12 kW", "", "much"}) {
    type(edit, text);
    if (*text == 0)
      QTest::keyClick(edit.line(), Qt::Key_Delete);
    QTest::keyClick(edit.line(), Qt::Key_Return);
    EXPECT_TRUE(edit.error().endsWith("accepted: a number in kJ/kg")) << text;
    EXPECT_DOUBLE_EQ(*edit.value(), 1030e3) << text;
  }
}

TEST(QuantityEdit, KeepsWhatItCannotReadAndSaysWhere) {
  QuantityEdit edit({});
  edit.set_value(0.057);
  QSignalSpy edited(&edit, &QuantityEdit::edited);
  type(edit, "57 furlong");
  QTest::keyClick(edit.line(), Qt::Key_Return);
  EXPECT_EQ(edited.count(), 0);
  EXPECT_EQ(edit.line()->text(), "57 furlong");
  EXPECT_EQ(edit.value(), 0.057);
  EXPECT_TRUE(edit.error().contains("At character 4")) << edit.error().toStdString();
  EXPECT_EQ(edit.line()->cursorPosition(), 3);
}

TEST(QuantityEdit, EscapeBringsBackWhatWasThere) {
  QuantityEdit edit({});
  edit.set_value(0.057);
  type(edit, "rubbish");
  QTest::keyClick(edit.line(), Qt::Key_Return);
  ASSERT_FALSE(edit.error().isEmpty());
  QTest::keyClick(edit.line(), Qt::Key_Escape);
  EXPECT_EQ(edit.line()->text(), "57 mm");
  EXPECT_TRUE(edit.error().isEmpty());
}

TEST(QuantityEdit, AcceptsOnLeaving) {
  QWidget window;
  QuantityEdit edit({}, &window);
  QLineEdit other(&window);
  window.show();
  ASSERT_TRUE(QTest::qWaitForWindowActive(&window));
  edit.line()->setFocus();
  type(edit, "60");
  other.setFocus();
  EXPECT_EQ(edit.value(), 0.060);
}

TEST(QuantityEdit, UntouchedTextIsNoEdit) {
  QuantityEdit edit({});
  edit.set_value(0.0571234567891);
  QSignalSpy edited(&edit, &QuantityEdit::edited);
  QTest::keyClick(edit.line(), Qt::Key_Return);
  EXPECT_EQ(edited.count(), 0);
  EXPECT_EQ(edit.value(), 0.0571234567891) << "the value was rounded to what is shown";
}

TEST(QuantityEdit, ArrowsNudgeToWholeSteps) {
  QuantityEdit edit({});
  edit.set_value(0.05715);
  QTest::keyClick(edit.line(), Qt::Key_Up);
  EXPECT_NEAR(*edit.value(), 0.058, 1e-12);
  QTest::keyClick(edit.line(), Qt::Key_Down);
  EXPECT_NEAR(*edit.value(), 0.057, 1e-12);
  QTest::keyClick(edit.line(), Qt::Key_PageUp);
  EXPECT_NEAR(*edit.value(), 0.067, 1e-12);
}

TEST(QuantityEdit, NudgesTemperaturesOnTheirOwnScale) {
  QuantityEdit edit({.dimension = Dimension::temperature});
  edit.set_value(293.15);
  QTest::keyClick(edit.line(), Qt::Key_Up);
  EXPECT_NEAR(*edit.value(), 294.15, 1e-9);
}

TEST(QuantityEdit, EmptyIsAValueOnlyWhereAllowed) {
  QuantityEdit may({.dimension = Dimension::ratio, .optional = true});
  may.set_value(0.6);
  type(may, " ");
  QTest::keyClick(may.line(), Qt::Key_Return);
  EXPECT_FALSE(may.value());
  EXPECT_TRUE(may.error().isEmpty());
  QuantityEdit must({.dimension = Dimension::ratio});
  must.set_value(0.6);
  type(must, " ");
  QTest::keyClick(must.line(), Qt::Key_Return);
  EXPECT_EQ(must.value(), 0.6);
  EXPECT_FALSE(must.error().isEmpty());
}

TEST(QuantityEdit, CountsAreWhole) {
  QuantityEdit edit({.dimension = Dimension::ratio, .whole = true});
  edit.set_value(3);
  type(edit, "2.5");
  QTest::keyClick(edit.line(), Qt::Key_Return);
  EXPECT_EQ(edit.value(), 3.0);
  EXPECT_TRUE(edit.error().contains("whole number"));
}

TEST(QuantityEdit, TakesTheDecimalSignOfTheLocale) {
  const QLocale before;
  QLocale::setDefault(QLocale(QLocale::German, QLocale::Germany));
  QuantityEdit edit({});
  type(edit, "57,5");
  QTest::keyClick(edit.line(), Qt::Key_Return);
  EXPECT_NEAR(edit.value().value_or(0), 0.0575, 1e-12);
  EXPECT_EQ(edit.line()->text(), "57,5 mm");
  QLocale::setDefault(before);
}

TEST(QuantityEdit, ShowsTheChosenUnits) {
  const UnitChoice before = units();
  use_units({.length = UnitChoice::Length::inches});
  QuantityEdit edit({});
  edit.set_value(0.05715);
  EXPECT_EQ(edit.line()->text(), "2.25 in");
  type(edit, "3");
  QTest::keyClick(edit.line(), Qt::Key_Return);
  EXPECT_NEAR(edit.value().value_or(0), 0.0762, 1e-12);
  use_units(before);
}

} // namespace
} // namespace bellmouth::ui
