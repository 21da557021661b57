// SPDX-License-Identifier: GPL-3.0-or-later
// What the window does from the layout to the parcel: joining, thresholds, lists on paper, budget.
// Identities of the contract.
#include "window_fixture.hpp"

#include <QComboBox>
#include <QDialog>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QStatusBar>
#include <QTabWidget>

namespace bellmouth::ui {
namespace {

class Making : public Window {
protected:
  QDialog* dialog(const char* name) const {
    auto* found = window->findChild<QDialog*>(name);
    EXPECT_NE(found, nullptr) << name;
    return found;
  }
};

TEST_F(Making, JoinProposesForThePickedRunOrForAll) {
  trigger("join");
  auto* which = dialog("proposal_dialog")->findChild<QComboBox*>("proposal_which");
  EXPECT_EQ(which->currentText(), "All runs");
  EXPECT_EQ(static_cast<std::size_t>(which->count()),
            session.build().find(session.option())->runs.size() + 1);
  dialog("proposal_dialog")->reject();
  QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
  EXPECT_FALSE(session.previewing());
  EXPECT_FALSE(session.can_undo());
  session.select(PickedPiece{test::first_run(), 0});
  trigger("join");
  which = dialog("proposal_dialog")->findChild<QComboBox*>("proposal_which");
  EXPECT_EQ(which->currentText(), "Run: filter to blower");
  dialog("proposal_dialog")->reject();
}

/// A tube without its hose: what joins it to its neighbours comes back, in one step.
TEST_F(Making, JoinPutsInWhatIsMissing) {
  const auto wrong = [this] {
    int count = 0;
    for (const RunResult& run : session.evaluation().runs)
      for (const joint::Joint& joint : run.fit.joints)
        count += joint.kind == joint::Kind::wrong ? 1 : 0;
    return count;
  };
  const auto pieces = run().pieces.size();
  ASSERT_FALSE(
      session.apply(build::with_piece_removed(session.build(), {session.option(), test::first_run(), 0}),
                    "Remove the hose"));
  ASSERT_LT(run().pieces.size(), pieces);
  const build::Build before = session.build();
  session.select(PickedRun{test::first_run()});
  trigger("join");
  auto* take = dialog("proposal_dialog")->findChild<QPushButton*>("proposal_take");
  ASSERT_TRUE(take->isEnabled())
      << dialog("proposal_dialog")->findChild<QLabel*>("proposal_open")->text().toStdString();
  take->click();
  EXPECT_EQ(wrong(), 0);
  session.undo();
  EXPECT_EQ(session.build(), before);
}

TEST_F(Making, ThresholdsAreALookAway) {
  trigger("thresholds");
  EXPECT_TRUE(dialog("thresholds_dialog")->isVisible());
  dialog("thresholds_dialog")->findChild<QPushButton*>("thresholds_close")->click();
  EXPECT_FALSE(session.can_undo());
}

TEST_F(Making, ListsArePrintedIntoAFile) {
  trigger("print_lists");
  EXPECT_TRUE(errors.isEmpty()) << "nothing was asked for";
  paper = temporary.filePath("lists.pdf");
  trigger("print_lists");
  EXPECT_TRUE(errors.isEmpty());
  EXPECT_TRUE(window->statusBar()->currentMessage().endsWith("pages printed"));
  QFile file(paper);
  ASSERT_TRUE(file.open(QIODevice::ReadOnly));
  EXPECT_TRUE(file.read(5) == "%PDF-");
  paper = temporary.filePath("no/such/folder/lists.pdf");
  trigger("print_lists");
  EXPECT_EQ(errors.size(), 1) << "and the user is told";
}

TEST_F(Making, TheBudgetIsOneClickFromTheShoppingList) {
  trigger("show_tab_lists");
  session.select(PickedPiece{test::first_run(), 0});
  find<QPushButton>("lists_budget")->click();
  EXPECT_TRUE(std::holds_alternative<std::monostate>(session.selection()));
  EXPECT_TRUE(find<QLineEdit>("build_limit_line")->hasFocus());
}

TEST_F(Making, WhatIsWaivedIsNotCounted) {
  const auto settled = [this] { return QTest::qWaitFor([this] { return !session.purchase_is_due(); }); };
  ASSERT_TRUE(settled());
  auto* tabs = find<QTabWidget>("tabs");
  const auto count = [&] {
    for (int i = 0; i < tabs->count(); ++i)
      if (tabs->widget(i)->objectName() == "tab_findings")
        return tabs->tabText(i).section('(', 1).section(')', 0, 0).toInt();
    return -1;
  };
  const std::vector<check::Finding> all = session.findings();
  ASSERT_EQ(count(), static_cast<int>(all.size()));
  const auto at_piece = std::ranges::find_if(
      all, [](const check::Finding& finding) { return finding.where.piece.has_value(); });
  ASSERT_NE(at_piece, all.end());
  const auto alike = std::ranges::count_if(all, [&](const check::Finding& finding) {
    return finding.rule == at_piece->rule && finding.where.piece == at_piece->where.piece;
  });
  ASSERT_FALSE(session.apply(
      build::with_waiver(session.build(), *at_piece->where.piece, std::string(at_piece->rule), "seen"),
      "Waive"));
  ASSERT_TRUE(settled());
  EXPECT_EQ(count(), static_cast<int>(all.size() - static_cast<std::size_t>(alike)));
}

} // namespace
} // namespace bellmouth::ui
