// SPDX-License-Identifier: GPL-3.0-or-later
// The panel that finds routes, fed by a search that the test holds in its hand. Identities of the contract.
#include "route_sample.hpp"

#include <QAbstractButton>
#include <QApplication>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QSlider>
#include <QStackedWidget>
#include <QTest>
#include <QToolButton>

#include <piece_text.hpp>
#include <route_list.hpp>
#include <route_panel.hpp>
#include <units.hpp>

namespace bellmouth::ui {
namespace {

using State = RouteSearch::State;
using Ghost = std::shared_ptr<const RouteGhost>;

class Routes : public testing::Test {
protected:
  test::MadeUp made_up;
  Session session{test::full_build()};
  std::unique_ptr<RoutePanel> panel;
  Ghost ghost;
  int compares = 0;

  void SetUp() override {
    panel = std::make_unique<RoutePanel>(session, made_up.source());
    QObject::connect(panel.get(), &RoutePanel::ghost_changed, panel.get(),
                     [this](const Ghost& shown) { ghost = shown; });
    QObject::connect(panel.get(), &RoutePanel::compare_requested, panel.get(), [this] { ++compares; });
    test::show(*panel, 360, 620);
  }
  template <class W> W* find(const QString& name) const {
    W* widget = panel->findChild<W*>(name);
    EXPECT_NE(widget, nullptr) << name.toStdString();
    return widget;
  }
  RouteList& list() const { return *find<RouteList>("route_list"); }
  [[nodiscard]] State state() const { return panel->search().state(); }
  void press(const QString& name) const { QTest::mouseClick(find<QWidget>(name), Qt::LeftButton); }
  void run_to_end() const {
    press("route_find");
    ASSERT_TRUE(test::comes_true([&] { return state() == State::ended; }));
  }
  [[nodiscard]] QStringList titles() const {
    QStringList all;
    for (int row = 0; row < list().model()->rowCount(); ++row)
      all << list().model()->index(row, 0).data().toString();
    return all;
  }
  [[nodiscard]] bool is_shown(const QString& name) const { return find<QWidget>(name)->isVisible(); }
  void choose(const build::RunId& run) const {
    auto* runs = find<QComboBox>("route_run");
    const int index = runs->findData(QString::fromStdString(run.text));
    runs->setCurrentIndex(index);
    emit runs->activated(index);
  }
  void hover(int row) const {
    const QPoint at = list().visualRect(list().model()->index(row, 0)).center();
    QTest::mouseMove(list().viewport(), at);
  }
  /// The number that the ghost was made up from.
  [[nodiscard]] int ghost_number() const {
    const auto& pieces = ghost->build.find(ghost->evaluation.option)->find(ghost->run)->pieces;
    return static_cast<int>(std::lround((std::get<build::Tube>(pieces[0].shape).length_m - 0.100) / 0.020));
  }
};

TEST_F(Routes, SaysWhatToDoAndThenShowsRoutesAsTheyCome) {
  EXPECT_TRUE(is_shown("route_empty_words"));
  made_up.steps = {test::found_of({2, 1})};
  made_up.goes_on = true;
  press("route_find");
  ASSERT_TRUE(test::comes_true([&] { return titles().size() == 2; }));
  EXPECT_EQ(titles(), (QStringList{"Made up 1", "Made up 2"})) << "the best first";
  EXPECT_TRUE(is_shown("route_list"));
  EXPECT_TRUE(is_shown("route_progress"));
  EXPECT_TRUE(find<QLabel>("route_progress_words")->text().contains("best cost"));
  EXPECT_EQ(find<QPushButton>("route_find")->text(), "&Stop");
  press("route_find");
  ASSERT_TRUE(test::comes_true([&] { return state() == State::ended; }));
  EXPECT_FALSE(is_shown("route_progress"));
  EXPECT_EQ(find<QPushButton>("route_find")->text(), "Search &again");
}

TEST_F(Routes, EachHasAPictureAndItsFigures) {
  made_up.steps = {test::found_of({1})};
  run_to_end();
  const QModelIndex index = list().model()->index(0, 0);
  const QString words = index.data(RouteModel::lines_role).toStringList().join('\n');
  const find::Proposal& route = panel->search().routes().front();
  for (const QString& figure :
       {show_money(route.price), show_pressure_difference(route.drop_Pa), QString("2 joints"),
        show_length(route.length_m), show_volume(route.volume_m3)})
    EXPECT_TRUE(words.contains(figure)) << figure.toStdString() << " in " << words.toStdString();
  EXPECT_FALSE(index.data(RouteModel::picture_role).value<QImage>().isNull());
  EXPECT_TRUE(index.data(Qt::AccessibleTextRole).toString().contains(show_money(route.price)));
}

TEST_F(Routes, ShowsTheOnePointedAtAndLetsGoOfIt) {
  made_up.steps = {test::found_of({1, 2})};
  run_to_end();
  EXPECT_EQ(ghost, nullptr) << "none before one is pointed at";
  hover(1);
  ASSERT_NE(ghost, nullptr);
  EXPECT_EQ(ghost_number(), 2);
  QEvent leave(QEvent::Leave);
  QApplication::sendEvent(list().viewport(), &leave);
  EXPECT_EQ(ghost, nullptr);
  // By keys: the current one stays until it is let go of.
  list().setFocus();
  QTest::keyClick(&list(), Qt::Key_Home);
  ASSERT_NE(ghost, nullptr);
  EXPECT_EQ(ghost_number(), 1);
  QTest::keyClick(&list(), Qt::Key_Down);
  EXPECT_EQ(ghost_number(), 2);
  hover(0);
  EXPECT_EQ(ghost_number(), 1) << "the pointer goes before";
  QApplication::sendEvent(list().viewport(), &leave);
  EXPECT_EQ(ghost_number(), 2);
  QTest::keyClick(&list(), Qt::Key_Escape);
  EXPECT_EQ(ghost, nullptr);
}

TEST_F(Routes, NoneIsShownWhileThePanelIsHidden) {
  made_up.steps = {test::found_of({1})};
  run_to_end();
  list().setCurrentIndex(list().model()->index(0, 0));
  ASSERT_NE(ghost, nullptr);
  panel->hide();
  EXPECT_EQ(ghost, nullptr);
  panel->show();
  EXPECT_NE(ghost, nullptr);
}

TEST_F(Routes, TheCurrentOneStaysCurrentWhenOthersCome) {
  made_up.steps = {test::found_of({1, 2, 3})};
  run_to_end();
  list().setCurrentIndex(list().model()->index(2, 0));
  ASSERT_EQ(ghost_number(), 3);
  made_up.goes_on = false;
  find<QSlider>("route_matters_price")->setValue(0); // the longer the dearer now
  EXPECT_EQ(titles(), (QStringList{"Made up 3", "Made up 2", "Made up 1"}));
  EXPECT_EQ(list().current(), 0U);
  QEvent leave(QEvent::Leave); // the pointer may have been left over the list
  QApplication::sendEvent(list().viewport(), &leave);
  EXPECT_EQ(ghost_number(), 3);
}

TEST_F(Routes, TheCurrentOneIsNeverDropped) {
  made_up.steps = {test::found_of({0, 1, 2, 3, 4, 5, 6})};
  run_to_end();
  ASSERT_EQ(titles().size(), 5);
  list().setCurrentIndex(list().model()->index(0, 0));
  made_up.steps = {};
  find<QSlider>("route_matters_price")->setValue(0); // number 0 is the longest
  EXPECT_EQ(titles(),
            (QStringList{"Made up 6", "Made up 5", "Made up 4", "Made up 3", "Made up 2", "Made up 0"}));
  EXPECT_EQ(list().current(), 5U);
  QEvent leave(QEvent::Leave); // the pointer may have been left over the list
  QApplication::sendEvent(list().viewport(), &leave);
  EXPECT_EQ(ghost_number(), 0);
  QTest::keyClick(&list(), Qt::Key_Escape);
  find<QSlider>("route_matters_length")->setValue(20);
  EXPECT_EQ(titles().size(), 5) << "once it is let go of, it goes the way of the others";
}

TEST_F(Routes, SlidersReorderAtOnce) {
  made_up.steps = {test::found_of({0, 1, 2})};
  run_to_end();
  EXPECT_EQ(titles().front(), "Made up 0");
  find<QSlider>("route_matters_price")->setValue(0);
  EXPECT_EQ(titles().front(), "Made up 2");
  EXPECT_EQ(panel->search().question()->ask.matters.price, 0);
  EXPECT_EQ(panel->search().question()->ask.matters.length, 1) << "the middle is the usual";
  ASSERT_TRUE(test::comes_true([&] { return state() == State::ended; }));
  EXPECT_EQ(made_up.searches, 2) << "it searched on";
}

TEST_F(Routes, SomethingHasToMatter) {
  made_up.steps = {test::found_of({0, 1, 2})};
  run_to_end();
  for (const char* key : {"price", "drop", "joints", "length"})
    find<QSlider>(QString("route_matters_") + key)->setValue(0);
  EXPECT_TRUE(is_shown("route_error"));
  EXPECT_NE(panel->search().question()->ask.matters, (find::Matters{0, 0, 0, 0}));
  find<QSlider>("route_matters_joints")->setValue(10);
  EXPECT_FALSE(is_shown("route_error"));
}

TEST_F(Routes, EnterTakesTheCurrentOneAndOffersToCompare) {
  made_up.steps = {test::found_of({1, 2})};
  run_to_end();
  EXPECT_FALSE(find<QPushButton>("route_take")->isEnabled());
  EXPECT_FALSE(is_shown("route_compare"));
  list().setFocus();
  QTest::keyClick(&list(), Qt::Key_Home);
  EXPECT_TRUE(find<QPushButton>("route_take")->isEnabled());
  QTest::keyClick(&list(), Qt::Key_Return);
  EXPECT_EQ(session.option().text, "small route 1");
  EXPECT_EQ(titles().size(), 2) << "the panel is ready for another";
  EXPECT_EQ(ghost, nullptr) << "what is shown already needs no ghost";
  ASSERT_TRUE(is_shown("route_compare"));
  EXPECT_EQ(find<QPushButton>("route_compare")->text(), "&Compare with " + option_name({"small"}));
  session.show_option({"wide"});
  press("route_compare");
  EXPECT_EQ(compares, 1);
  EXPECT_EQ(session.option().text, "small route 1");
  EXPECT_EQ(session.rival(), build::OptionId{"small"});
  session.undo();
  EXPECT_FALSE(is_shown("route_compare"));
  EXPECT_EQ(session.build(), test::full_build());
}

TEST_F(Routes, ADoubleClickTakesOne) {
  made_up.steps = {test::found_of({1, 2})};
  run_to_end();
  const QPoint at = list().visualRect(list().model()->index(1, 0)).center();
  QTest::mouseClick(list().viewport(), Qt::LeftButton, {}, at);
  QTest::mouseDClick(list().viewport(), Qt::LeftButton, {}, at);
  ASSERT_EQ(session.option().text, "small route 1");
  EXPECT_EQ(session.build().find(session.option())->find(*panel->run())->pieces,
            panel->search().routes()[1].run.pieces);
}

TEST_F(Routes, AnEditMakesThemOld) {
  made_up.steps = {test::found_of({1})};
  run_to_end();
  list().setCurrentIndex(list().model()->index(0, 0));
  ASSERT_FALSE(session.apply(build::with_keep_out_removed(session.build(), 0), "Remove keep-out"));
  EXPECT_TRUE(is_shown("route_stale"));
  EXPECT_EQ(ghost, nullptr);
  EXPECT_TRUE(list().model()->index(0, 0).data(RouteModel::faded_role).toBool());
  EXPECT_FALSE(find<QPushButton>("route_take")->isEnabled());
  const build::Build before = session.build();
  QTest::keyClick(&list(), Qt::Key_Return);
  EXPECT_EQ(session.build(), before) << "nothing old is taken";
  session.undo();
  EXPECT_FALSE(is_shown("route_stale"));
  EXPECT_TRUE(find<QPushButton>("route_take")->isEnabled());
}

TEST_F(Routes, WithoutARouteItSaysWhyAndOffersWhatHelps) {
  made_up.steps = {test::found_of({})};
  find::Ask relaxed = panel->search().usual(*panel->run());
  relaxed.cut_bends = false;
  relaxed.most_bends = 3;
  made_up.reasons = {{"The clearance at the battery leaves no room.", {}, {}},
                     {"With 3 bends there is one.", relaxed, {}}};
  run_to_end();
  EXPECT_TRUE(is_shown("route_reason_0"));
  EXPECT_EQ(find<QLabel>("route_reason_1")->text(), "With 3 bends there is one.");
  EXPECT_EQ(panel->findChild<QWidget*>("route_try_0"), nullptr) << "nothing can be asked in its place";
  made_up.steps = {test::found_of({1})};
  made_up.asked.clear();
  press("route_try_1");
  ASSERT_TRUE(test::comes_true([&] { return titles().size() == 1; }));
  ASSERT_EQ(made_up.asked.size(), 1U);
  EXPECT_EQ(made_up.asked.front().most_bends, 3U);
  EXPECT_FALSE(made_up.asked.front().cut_bends);
  EXPECT_EQ(find<QComboBox>("route_most_bends")->currentText(), "3") << "the options say so too";
}

TEST_F(Routes, ComplainsWhereThereIsNoQuestion) {
  made_up.refused =
      Error{.place = {}, .found = "a port without a place", .accepted = "measured ports", .line = {}};
  press("route_find");
  EXPECT_TRUE(find<QLabel>("route_error")->text().contains("a port without a place"));
  EXPECT_EQ(state(), State::idle);
}

TEST_F(Routes, TheBayPicksTheRun) {
  EXPECT_EQ(panel->run(), test::suction);
  session.select(PickedPiece{test::hot_side, 0});
  EXPECT_EQ(panel->run(), test::hot_side);
  made_up.steps = {test::found_of({1})};
  run_to_end();
  session.select(PickedPiece{test::suction, 0});
  EXPECT_EQ(panel->run(), test::hot_side) << "what was found is not thrown away for a look";
  session.select(PickedPort{{"cooler_out"}});
  EXPECT_EQ(panel->run(), test::hot_side);
  session.select(PickedPort{{"throttle_in"}});
  EXPECT_EQ(panel->run(), test::cold_side) << "both its ends were clicked on";
  EXPECT_EQ(titles().size(), 0);
}

TEST_F(Routes, OptionsAreAsked) {
  build::Build two_sizes = session.build();
  std::vector<build::StockItem> stock = *two_sizes.stock;
  stock.push_back(*two_sizes.find(build::StockId{"tube-63"}));
  stock.back().id = {"tube-70"};
  stock.back().outer_diameter_m = 70e-3;
  two_sizes.stock = stock;
  ASSERT_FALSE(session.apply(two_sizes, "Add stock"));
  choose(test::cold_side);
  press("route_options_button");
  ASSERT_TRUE(is_shown("route_options"));
  const auto pick = [&](const QString& name, int index) {
    auto* box = find<QComboBox>(name);
    ASSERT_LT(index, box->count());
    box->setCurrentIndex(index);
    emit box->activated(index);
  };
  pick("route_tube", 1);
  pick("route_most_bends", 1);
  pick("route_keep_first", 2);
  pick("route_keep_last", 1);
  find<QAbstractButton>("route_cut_bends")->click();
  find<QAbstractButton>("route_use_owned")->click();
  pick("route_pass_side", 0);
  press("route_pass_add");
  auto* point = find<QLineEdit>("route_point");
  QTest::keyClicks(point, "somewhere");
  QTest::keyClick(point, Qt::Key_Return);
  EXPECT_TRUE(is_shown("route_point_error"));
  point->clear();
  QTest::keyClicks(point, "300; -150; 350 mm");
  QTest::keyClick(point, Qt::Key_Return);
  EXPECT_FALSE(is_shown("route_point_error"));
  made_up.asked.clear();
  made_up.steps = {test::found_of({1})};
  run_to_end();
  ASSERT_EQ(made_up.asked.size(), 1U);
  const find::Ask& ask = made_up.asked.front();
  EXPECT_EQ(ask.run, test::cold_side);
  EXPECT_EQ(ask.tube, stock::tube_sizes(session.build())[1]);
  EXPECT_EQ(ask.most_bends, 2U);
  EXPECT_EQ(ask.keep_first, 2U);
  EXPECT_EQ(ask.keep_last, 1U);
  EXPECT_FALSE(ask.cut_bends);
  EXPECT_FALSE(ask.use_owned);
  ASSERT_EQ(ask.through.size(), 2U);
  EXPECT_TRUE(ask.through[0].name.starts_with("over "));
  const auto* ball = std::get_if<build::Sphere>(&ask.through[1].shape);
  ASSERT_NE(ball, nullptr);
  EXPECT_NEAR(ball->centre_m[1], -0.150, 1e-12);
  EXPECT_NEAR(ball->radius_m, 0.050, 1e-12);
  press("route_options_button");
  press("route_place_remove_0");
  made_up.asked.clear();
  run_to_end();
  ASSERT_EQ(made_up.asked.size(), 1U);
  EXPECT_EQ(made_up.asked.front().through.size(), 1U);
}

TEST_F(Routes, RowsThatStayNeverOverlap) {
  choose(test::cold_side);
  press("route_options_button");
  const auto rows = static_cast<int>(test::pieces_of(session, test::cold_side).size());
  const auto pick = [&](const QString& name, int index) {
    auto* box = find<QComboBox>(name);
    box->setCurrentIndex(index);
    emit box->activated(index);
  };
  pick("route_keep_first", rows);
  pick("route_keep_last", 2);
  EXPECT_EQ(find<QComboBox>("route_keep_first")->currentIndex(), rows - 2);
}

TEST_F(Routes, FollowsTheUnitsAndTheLook) {
  made_up.steps = {test::found_of({1})};
  run_to_end();
  const auto words = [&] {
    return list().model()->index(0, 0).data(RouteModel::lines_role).toStringList().join(' ');
  };
  const auto picture = [&] {
    return list().model()->index(0, 0).data(RouteModel::picture_role).value<QImage>();
  };
  EXPECT_TRUE(words().contains(" mm"));
  const QImage light = picture();
  use_units({.length = UnitChoice::Length::inches});
  session.show_everything_anew();
  EXPECT_TRUE(words().contains(" in"));
  EXPECT_FALSE(panel->search().stale());
  use_units({});
  use_look(Look::dark);
  QCoreApplication::processEvents();
  EXPECT_NE(picture(), light);
  use_look(Look::light);
}

TEST_F(Routes, EveryFieldHasANameToBeSpoken) {
  made_up.steps = {test::found_of({1})};
  run_to_end();
  press("route_options_button");
  for (const QWidget* widget : panel->findChildren<QWidget*>()) {
    if (!widget->isVisibleTo(panel.get()) || (widget->focusPolicy() & Qt::TabFocus) == 0)
      continue;
    const auto* button = qobject_cast<const QAbstractButton*>(widget);
    EXPECT_TRUE(!widget->accessibleName().isEmpty() || (button != nullptr && !button->text().isEmpty()))
        << widget->objectName().toStdString() << " " << widget->metaObject()->className();
  }
}

} // namespace
} // namespace bellmouth::ui
