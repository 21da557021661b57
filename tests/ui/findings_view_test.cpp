// SPDX-License-Identifier: GPL-3.0-or-later
// The findings as a list: order, filter, and where a click leads. Identities of the contract.
#include "view_sample.hpp"

#include <QAbstractItemModelTester>
#include <QComboBox>
#include <QDialog>
#include <QLabel>
#include <QLineEdit>
#include <QListView>
#include <QPushButton>
#include <QSignalSpy>
#include <QTest>
#include <gtest/gtest.h>

#include <findings_view.hpp>

namespace bellmouth::ui {
namespace {

check::Finding finding(check::Severity severity, const char* message) {
  check::Finding made;
  made.rule = "rule";
  made.severity = severity;
  made.message = message;
  return made;
}

class Findings : public testing::Test {
protected:
  Findings() { test::show(view, 700, 500); }
  void wait() {
    ASSERT_TRUE(QTest::qWaitFor([this] { return !session.purchase_is_due() && !session.weighing_is_due(); }));
  }
  /// The first row that offers something.
  [[nodiscard]] QModelIndex offering(FindingAction action) const {
    for (int row = 0; row < list->model()->rowCount(); ++row)
      if (const QModelIndex index = list->model()->index(row, 0);
          std::ranges::count(actions_of(index), action) > 0)
        return index;
    return {};
  }
  void press(const QModelIndex& index, FindingAction action) const {
    list->scrollTo(index);
    QStyleOptionViewItem option;
    option.widget = list;
    option.rect = list->visualRect(index);
    QTest::mouseClick(list->viewport(), Qt::LeftButton, {},
                      FindingsDelegate::button(option, index, action).center());
  }
  [[nodiscard]] static QString message_of(const QModelIndex& index) {
    return index.data(FindingsModel::message_role).toString();
  }
  /// The finding of the session with that message.
  [[nodiscard]] std::optional<check::Finding> said(const QString& message) const {
    for (const check::Finding& each : session.findings())
      if (QString::fromStdString(each.message) == message)
        return each;
    return std::nullopt;
  }
  Session session{test::full_build()};
  FindingsView view{session};
  QListView* list = view.findChild<QListView*>("findings_list");
  QComboBox* least = view.findChild<QComboBox*>("findings_least");
};

TEST(FindingsModel, KeepsTheRulesOfModelsWhileItChanges) {
  FindingsModel model;
  FindingsFilter filter;
  filter.setSourceModel(&model);
  const auto mode = QAbstractItemModelTester::FailureReportingMode::Fatal;
  const QAbstractItemModelTester model_tester(&model, mode), filter_tester(&filter, mode);
  using enum check::Severity;
  model.set_findings({finding(note, "a"), finding(stop, "b"), finding(caution, "c"), finding(stop, "d")});
  filter.set_least(caution);
  EXPECT_EQ(filter.rowCount(), 3);
  model.set_findings({finding(note, "a")});
  EXPECT_EQ(filter.rowCount(), 0);
  filter.set_least(note);
  EXPECT_EQ(filter.rowCount(), 1);
}

TEST(FindingsModel, PutsTheWorstFirstAndKeepsTheOrderWithin) {
  FindingsModel model;
  using enum check::Severity;
  check::Finding waived = finding(stop, "e");
  waived.waived = "a reason";
  model.set_findings(
      {finding(note, "a"), waived, finding(stop, "b"), finding(caution, "c"), finding(stop, "d")});
  QStringList order;
  for (int row = 0; row < model.rowCount(); ++row)
    order << model.index(row, 0).data().toString();
  EXPECT_EQ(order, (QStringList{"b", "d", "c", "a", "e"})) << "what is waived comes last";
  EXPECT_EQ(model.count(stop), 2) << "and does not count";
  EXPECT_EQ(model.waived(), 1);
}

TEST_F(Findings, ShowsAllOfTheEvaluation) {
  wait();
  ASSERT_GT(session.findings().size(), session.evaluation().findings.size()) << "those about money too";
  EXPECT_EQ(static_cast<std::size_t>(list->model()->rowCount()), session.findings().size());
}

TEST_F(Findings, WaivingAsksForAReasonAndGoesInOneStep) {
  wait();
  const QModelIndex index = offering(FindingAction::waive);
  ASSERT_TRUE(index.isValid());
  const QString message = message_of(index);
  const int before = list->model()->rowCount();
  press(index, FindingAction::waive);
  auto* reason = view.findChild<QLineEdit*>("waiver_reason");
  auto* accept = view.findChild<QPushButton*>("waiver_accept");
  ASSERT_TRUE(reason->isVisible());
  EXPECT_FALSE(accept->isEnabled()) << "without a reason";
  reason->setText("   ");
  EXPECT_FALSE(accept->isEnabled());
  EXPECT_FALSE(session.can_undo());
  reason->setText("  held by  a bracket ");
  QTest::mouseClick(accept, Qt::LeftButton);
  EXPECT_FALSE(reason->isVisible());
  wait();
  ASSERT_TRUE(said(message));
  EXPECT_EQ(said(message)->waived, "held by a bracket");
  EXPECT_EQ(list->model()->rowCount(), before) << "it is still shown";
  EXPECT_EQ(message_of(list->model()->index(before - 1, 0)), message) << "below all others";
  EXPECT_TRUE(view.findChild<QLabel*>("findings_count")->text().endsWith("1 waived"));
  EXPECT_TRUE(session.undo_text().startsWith("Waive “"));
  session.undo();
  EXPECT_FALSE(said(message)->waived);
}

TEST_F(Findings, AWaiverIsTakenBack) {
  wait();
  const QString message = message_of(offering(FindingAction::waive));
  press(offering(FindingAction::waive), FindingAction::waive);
  view.findChild<QLineEdit*>("waiver_reason")->setText("seen");
  QTest::keyClick(view.findChild<QLineEdit*>("waiver_reason"), Qt::Key_Return);
  wait();
  ASSERT_TRUE(said(message)->waived);
  const QModelIndex waived = offering(FindingAction::take_back);
  ASSERT_TRUE(waived.isValid());
  EXPECT_EQ(waived.data(FindingsModel::waived_role).toString(), "seen");
  press(waived, FindingAction::take_back);
  EXPECT_FALSE(said(message)->waived);
  EXPECT_FALSE(offering(FindingAction::take_back).isValid());
}

TEST_F(Findings, EscapeThinksBetterOfAWaiver) {
  wait();
  list->setCurrentIndex(offering(FindingAction::waive));
  list->setFocus();
  QTest::keyClick(list, Qt::Key_W);
  auto* reason = view.findChild<QLineEdit*>("waiver_reason");
  ASSERT_TRUE(reason->isVisible());
  reason->setText("half a reason");
  QTest::keyClick(reason, Qt::Key_Escape);
  EXPECT_FALSE(reason->isVisible());
  EXPECT_FALSE(session.can_undo());
}

TEST_F(Findings, AMendIsShownBeforeItIsTaken) {
  wait();
  QCoreApplication::processEvents();
  const QModelIndex index = offering(FindingAction::mend);
  ASSERT_TRUE(index.isValid()) << "the sample has ends without a bead under pressure";
  const QString title = index.data(FindingsModel::mend_role).toString();
  const std::size_t before = session.findings().size();
  press(index, FindingAction::mend);
  auto* dialog = view.findChild<QDialog*>("proposal_dialog");
  ASSERT_NE(dialog, nullptr);
  EXPECT_TRUE(session.previewing());
  dialog->findChild<QPushButton*>("proposal_take")->click();
  EXPECT_FALSE(session.previewing());
  EXPECT_EQ(session.undo_text(), title);
  wait();
  EXPECT_LT(session.findings().size(), before);
}

TEST_F(Findings, AClickPicksWhatItPointsAt) {
  wait();
  const std::vector<check::Finding> all = session.findings();
  int pieces = 0;
  for (int row = 0; row < list->model()->rowCount(); ++row) {
    const QModelIndex index = list->model()->index(row, 0);
    list->scrollTo(index);
    session.select(std::monostate{});
    QTest::mouseClick(list->viewport(), Qt::LeftButton, {}, list->visualRect(index).center());
    const auto found = std::ranges::find_if(all, [&](const check::Finding& f) {
      return QString::fromStdString(f.message) == index.data(FindingsModel::message_role).toString() &&
             QString::fromStdString(f.where.text) == index.data(FindingsModel::where_role).toString();
    });
    ASSERT_NE(found, all.end());
    if (found->where.piece) {
      EXPECT_EQ(session.selection(),
                Selection(PickedPiece{found->where.piece->run, found->where.piece->row}));
      ++pieces;
    } else if (found->where.machine) {
      EXPECT_EQ(session.selection(), Selection(PickedMachine{*found->where.machine}));
    }
  }
  EXPECT_GT(pieces, 3);
}

TEST_F(Findings, TheFilterLeavesOutWhatIsLess) {
  wait();
  least->setCurrentIndex(2);
  for (int row = 0; row < list->model()->rowCount(); ++row)
    EXPECT_EQ(list->model()->index(row, 0).data(FindingsModel::severity_role).toInt(),
              static_cast<int>(check::Severity::stop));
  least->setCurrentIndex(0);
  EXPECT_EQ(static_cast<std::size_t>(list->model()->rowCount()), session.findings().size());
}

TEST_F(Findings, RowsAreAsTallAsTheirWords) {
  const QModelIndex first = list->model()->index(0, 0);
  const int at_full_width = list->visualRect(first).height();
  test::show(view, 320, 500);
  EXPECT_GT(list->visualRect(first).height(), at_full_width) << "wrapped";
}

TEST_F(Findings, TheScrollBarChangesNoHeight) {
  const auto heights = [this] {
    std::vector<int> all;
    for (int row = 0; row < list->model()->rowCount(); ++row)
      all.push_back(list->visualRect(list->model()->index(row, 0)).height());
    return all;
  };
  list->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  test::show(view, 401, 300);
  const auto without = heights();
  list->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOn);
  test::show(view, 400, 300);
  test::show(view, 401, 300);
  EXPECT_EQ(heights(), without);
}

TEST_F(Findings, SaysHowManyThereAre) {
  wait();
  int stops = 0;
  for (const check::Finding& f : session.findings())
    stops += f.severity == check::Severity::stop ? 1 : 0;
  EXPECT_TRUE(view.findChild<QLabel*>("findings_count")->text().startsWith(QString("%1 stop").arg(stops)));
}

} // namespace
} // namespace bellmouth::ui
