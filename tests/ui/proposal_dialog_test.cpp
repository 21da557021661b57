// SPDX-License-Identifier: GPL-3.0-or-later
// The dialog of a proposed change: shown live, taken as one step, or not at all. Identities of the contract.
#include "view_sample.hpp"

#include <QComboBox>
#include <QLabel>
#include <QPushButton>
#include <gtest/gtest.h>

#include <proposal_dialog.hpp>

namespace bellmouth::ui {
namespace {

/// Says two things and gives the build another title.
join::Proposal titled(const build::Build& build, const std::string& title) {
  return {"Call it " + title,
          {"the title is changed", "and <that> is all"},
          {"the rest, for want of a reason"},
          build::with_title(build, title)};
}
join::Proposal nothing(const build::Build& build) {
  return {"Join suction", {}, {"row 2: there is no coupler of 63.5 mm in stock"}, build};
}

class Proposals : public testing::Test {
protected:
  Session session{test::full_build()};
  const std::string before = session.build().title;
  ProposalDialog dialog{session,
                        "Join",
                        {{"All runs", [](const build::Build& build) { return titled(build, "one"); }},
                         {"suction", [](const build::Build& build) { return titled(build, "two"); }},
                         {"cold side", nothing}}};

  void SetUp() override { dialog.show(); }
  template <class W> W* find(const QString& name) const {
    W* widget = dialog.findChild<W*>(name);
    EXPECT_NE(widget, nullptr) << name.toStdString();
    return widget;
  }
  void press(const char* button) const { find<QPushButton>(button)->click(); }
};

TEST_F(Proposals, AreShownInAllViewsAndSaidInWords) {
  EXPECT_TRUE(session.previewing());
  EXPECT_EQ(session.build().title, "one");
  EXPECT_EQ(find<QLabel>("proposal_summary")->text(), "Call it one");
  EXPECT_TRUE(find<QLabel>("proposal_steps")->text().contains("the title is changed"));
  EXPECT_TRUE(find<QLabel>("proposal_steps")->text().contains("&lt;that&gt;")) << "words are no markup";
  EXPECT_TRUE(find<QLabel>("proposal_open")->text().contains("for want of a reason"));
  EXPECT_TRUE(find<QLabel>("proposal_findings")->text().startsWith("With it the checks say: "));
}

TEST_F(Proposals, AreTakenInOneStep) {
  press("proposal_take");
  EXPECT_FALSE(session.previewing());
  EXPECT_EQ(session.build().title, "one");
  EXPECT_EQ(session.undo_text(), "Call it one");
  session.undo();
  EXPECT_EQ(session.build().title, before);
  EXPECT_FALSE(session.can_undo());
}

TEST_F(Proposals, LeaveNothingBehind) {
  press("proposal_leave");
  EXPECT_FALSE(session.previewing());
  EXPECT_EQ(session.build().title, before);
  EXPECT_FALSE(session.can_undo());
}

TEST_F(Proposals, AreMadeOutOfTheBuildWithoutThePreview) {
  find<QComboBox>("proposal_which")->setCurrentIndex(1);
  EXPECT_EQ(session.build().title, "two");
  press("proposal_take");
  EXPECT_EQ(session.build().title, "two");
  session.undo();
  EXPECT_EQ(session.build().title, before);
}

TEST_F(Proposals, WhereThereIsNothingToDoNothingCanBeTaken) {
  find<QComboBox>("proposal_which")->setCurrentIndex(2);
  EXPECT_FALSE(session.previewing());
  EXPECT_EQ(session.build().title, before);
  EXPECT_FALSE(find<QPushButton>("proposal_take")->isEnabled());
  EXPECT_FALSE(find<QLabel>("proposal_steps")->isVisible());
  EXPECT_TRUE(find<QLabel>("proposal_open")->text().contains("no coupler"));
}

TEST(ProposalDialog, SaysWhatAProposalWasAskedForWhereThereIsOne) {
  Session session(test::full_build());
  {
    ProposalDialog dialog(session, "Mend", {{"The end has no bead.", [](const build::Build& build) {
                                               return titled(build, "beaded");
                                             }}});
    dialog.show();
    EXPECT_TRUE(dialog.findChild<QLabel*>("proposal_intro")->isVisible());
    EXPECT_FALSE(dialog.findChild<QComboBox*>("proposal_which")->isVisible());
    EXPECT_TRUE(session.previewing());
  }
  EXPECT_FALSE(session.previewing()) << "gone with the dialog";
}

} // namespace
} // namespace bellmouth::ui
