// SPDX-License-Identifier: GPL-3.0-or-later
// The lists on paper: rendered to PDF, and what it says. Identities with what is printed.
#include "view_sample.hpp"

#include <QBuffer>
#include <QPdfWriter>
#include <QTextDocument>
#include <gtest/gtest.h>

#include <list_tables.hpp>
#include <paper.hpp>
#include <units.hpp>

namespace bellmouth::ui {
namespace {

class OnPaper : public testing::Test {
protected:
  build::Build build = test::full_build();
  Evaluation evaluation = evaluate(build, {"small"});
  buy::Purchase purchase = buy::purchase(build, {"small"});
  const QDate date{2031, 5, 4};

  Paper paper() const { return {build, {evaluation, nullptr, &purchase}, date, 100}; }
  QString text() const {
    QTextDocument document;
    document.setHtml(paper_html(paper()));
    return document.toPlainText();
  }
};

TEST_F(OnPaper, HasPages) {
  QByteArray file;
  QBuffer buffer(&file);
  ASSERT_TRUE(buffer.open(QIODevice::WriteOnly));
  QPdfWriter writer(&buffer);
  writer.setPageSize(QPageSize(QPageSize::A4));
  writer.setPageOrientation(QPageLayout::Landscape);
  const int pages = print_paper(paper(), writer);
  EXPECT_GT(pages, 2);
  EXPECT_TRUE(file.startsWith("%PDF-"));
  // Every page is an object of this type (ISO 32000-1, 7.7.3.3); "/Pages" is their tree.
  EXPECT_EQ(file.count("/Type /Page\n"), pages);
}

TEST_F(OnPaper, SaysWhatItIsAbout) {
  const QString said = text();
  for (const QString& each :
       {QString::fromStdString(build.title), QString("Option: small"), QString("4 May 2031"),
        show_engine_speed(100), QString("It does not certify anything")})
    EXPECT_TRUE(said.contains(each)) << each.toStdString();
}

TEST_F(OnPaper, HoldsAllLists) {
  const QString said = text();
  for (const ListTable& list : list_tables(build, evaluation, &purchase)) {
    EXPECT_TRUE(said.contains(list.title)) << list.title.toStdString();
    for (const ListRow& row : list.rows)
      for (const QString& cell : row.cells)
        EXPECT_TRUE(said.contains(cell.simplified())) << list.key.toStdString() << ": " << cell.toStdString();
  }
  for (const QString& line : money_words(build, purchase))
    EXPECT_TRUE(said.contains(line)) << line.toStdString();
}

TEST_F(OnPaper, HoldsFindingsAndWaiversWithTheirReasons) {
  ASSERT_GT(evaluation.findings.size(), 2U);
  evaluation.findings[1].waived = "it <never> gets warm here";
  const QString said = text();
  for (const check::Finding& finding : evaluation.findings) {
    EXPECT_TRUE(said.contains(QString::fromStdString(finding.message))) << finding.message;
    EXPECT_EQ(said.contains(QString::fromStdString(finding.reason)) || finding.waived.has_value(), true);
  }
  EXPECT_TRUE(said.contains("Findings that are waived"));
  EXPECT_TRUE(said.contains("it <never> gets warm here"));
}

TEST_F(OnPaper, HoldsChangedThresholds) {
  EXPECT_FALSE(text().contains("Thresholds that this build has changed"));
  build = build::with_threshold(build, "kerf_mm", 1.2);
  const QString said = text();
  EXPECT_TRUE(said.contains("Thresholds that this build has changed"));
  EXPECT_TRUE(said.contains("1.2 mm"));
  EXPECT_TRUE(said.contains("2.5 mm"));
}

} // namespace
} // namespace bellmouth::ui
