// SPDX-License-Identifier: GPL-3.0-or-later
// The dialog that makes a run meet its port. A straight run of hose, tube and hump hose: by how much the tube
// must grow is a closed form.
#include "sample.hpp"
#include "units.hpp"

#include <QAbstractButton>
#include <QAbstractItemModelTester>
#include <QCheckBox>
#include <QLabel>
#include <QPushButton>
#include <QTableView>
#include <gtest/gtest.h>

#include <meet_dialog.hpp>
#include <sheet.hpp>

namespace bellmouth::ui {
namespace {

enum Column { piece, size, now, least, most };
constexpr std::size_t tube_row = 1;
constexpr double short_of_m = 30e-3;

/// The first run ends straight ahead of its port, short of it.
build::Build short_run() {
  build::Build build = test::sample_build();
  const build::OptionId option = build.options.front().id;
  const auto place = [&](const build::PortId& id, const build::Pose& pose) {
    build::Port port = *build.find(id);
    port.pose = pose;
    build = build::with_port(build, port);
  };
  const build::Run& run = *build.find(option)->find(test::first_run());
  const build::PortId from = run.from, to = run.to;
  place(from, {{0, 0, 0}, {1, 0, 0}});
  place(to, {{10, 0, 0}, {-1, 0, 0}});
  const Evaluation evaluation = evaluate(build, option);
  place(to, {{10 - evaluation.runs.front().meeting->gap_m + short_of_m, 0, 0}, {-1, 0, 0}});
  return build;
}

class Meeting : public testing::Test {
protected:
  Session session{short_run()};
  const build::Build before = session.build();
  std::unique_ptr<MeetDialog> dialog = std::make_unique<MeetDialog>(session, test::first_run());

  void SetUp() override { dialog->show(); }
  template <class W> W* find(const QString& name) const {
    W* widget = dialog->findChild<W*>(name);
    EXPECT_NE(widget, nullptr) << name.toStdString();
    return widget;
  }
  SheetModel& model() const { return find<Sheet>("meet_freedoms")->model(); }
  int row_of_tube() const {
    for (int row = 0; row < model().rowCount(); ++row)
      if (model().index(row, piece).data().toString().startsWith(QString::number(tube_row + 1)))
        return row;
    ADD_FAILURE();
    return 0;
  }
  void only_the_tube_may_move() const {
    find<QPushButton>("meet_none")->click();
    ASSERT_TRUE(model().setData(model().index(row_of_tube(), piece), Qt::Checked, Qt::CheckStateRole));
  }
  double tube_m(const build::Build& build) const {
    const build::PieceRef tube{session.option(), test::first_run(), tube_row};
    return std::get<build::Tube>(build::find(build, tube)->shape).length_m;
  }
  QString summary() const { return find<QLabel>("meet_summary")->text(); }
  bool can_accept() const { return find<QPushButton>("meet_accept")->isEnabled(); }
};

TEST_F(Meeting, IsShownLiveAndAcceptedInOneStep) {
  QAbstractItemModelTester tester(&model());
  only_the_tube_may_move();
  EXPECT_EQ(summary(), "It meets the port.");
  EXPECT_TRUE(session.previewing());
  EXPECT_NEAR(tube_m(session.build()), tube_m(before) + short_of_m, 0.1e-3);
  EXPECT_LT(session.evaluation().runs.front().meeting->gap_m, 0.1e-3);
  EXPECT_TRUE(find<QLabel>("meet_figures")->text().contains("30.00 mm"))
      << find<QLabel>("meet_figures")->text().toStdString();
  ASSERT_TRUE(can_accept());
  find<QPushButton>("meet_accept")->click();
  EXPECT_FALSE(session.previewing());
  EXPECT_EQ(session.undo_text(), "Meet the port: filter to blower");
  EXPECT_NEAR(tube_m(session.build()), tube_m(before) + short_of_m, 0.1e-3);
  session.undo();
  EXPECT_EQ(session.build(), before);
}

TEST_F(Meeting, LeavesNothingWhenItIsClosed) {
  only_the_tube_may_move();
  ASSERT_TRUE(session.previewing());
  find<QPushButton>("meet_close")->click();
  EXPECT_FALSE(session.previewing());
  EXPECT_EQ(session.build(), before);
  EXPECT_FALSE(session.can_undo());
}

TEST_F(Meeting, LeavesNothingWhenItIsDestroyed) {
  only_the_tube_may_move();
  ASSERT_TRUE(session.previewing());
  dialog.reset();
  EXPECT_EQ(session.build(), before);
}

TEST_F(Meeting, SaysWhatHoldsItBackAndWhatWouldHelp) {
  only_the_tube_may_move();
  const QString limit = show(quantity::Dimension::length, tube_m(before) + 10e-3, 6);
  ASSERT_TRUE(model().setData(model().index(row_of_tube(), most), limit));
  EXPECT_EQ(dialog->met().stop, route::Stop::out_of_reach);
  ASSERT_FALSE(dialog->met().binding.empty());
  EXPECT_TRUE(find<QPushButton>("meet_accept")->text().contains("as near as it comes"));
  ASSERT_FALSE(dialog->met().help.empty());
  find<QPushButton>("meet_help_0")->click();
  EXPECT_TRUE(summary().contains("meets the port")) << summary().toStdString();
  EXPECT_LT(session.evaluation().runs.front().meeting->gap_m, 0.1e-3);
}

TEST_F(Meeting, NothingMayMove) {
  find<QPushButton>("meet_none")->click();
  EXPECT_FALSE(dialog->met().met());
  EXPECT_FALSE(can_accept());
  EXPECT_FALSE(session.previewing());
}

TEST_F(Meeting, RefusesLimitsThatCross) {
  const int row = row_of_tube();
  EXPECT_FALSE(model().setData(model().index(row, most), "1 mm"));
  EXPECT_EQ(model().index(row, most).data().toString(), "1 mm");
  EXPECT_FALSE(find<QLabel>("meet_freedoms_error")->text().isEmpty());
  EXPECT_FALSE(model().setData(model().index(row, most), "long"));
}

TEST_F(Meeting, EveryFieldHasANameToBeSpoken) {
  for (const QWidget* widget : dialog->findChildren<QWidget*>()) {
    if (!widget->isVisibleTo(dialog.get()) || (widget->focusPolicy() & Qt::TabFocus) == 0)
      continue;
    const auto* button = qobject_cast<const QAbstractButton*>(widget);
    EXPECT_TRUE(!widget->accessibleName().isEmpty() || (button != nullptr && !button->text().isEmpty()))
        << widget->objectName().toStdString() << " " << widget->metaObject()->className();
  }
}

} // namespace
} // namespace bellmouth::ui
