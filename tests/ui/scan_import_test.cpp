// SPDX-License-Identifier: GPL-3.0-or-later
// A scan comes into the bay, and stays in it: saving, saving elsewhere, undo, recovery. The mesh is a
// tetrahedron of 100 x 200 x 300 units; where its corners must lie is a closed form.
#include "window_fixture.hpp"

#include <QAbstractButton>
#include <QComboBox>
#include <QFile>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QRadioButton>
#include <QSignalSpy>

#include <photograph_dialog.hpp>
#include <scan_dialog.hpp>

namespace bellmouth::ui {
namespace {

using namespace std::chrono_literals;

QByteArray tetrahedron() {
  const std::array<const char*, 4> at{"0 0 0", "100 0 0", "0 200 0", "0 0 300"};
  const std::array<std::array<std::size_t, 3>, 4> faces{{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}}};
  QByteArray text = "solid part\n";
  for (const auto& face : faces) {
    text += "facet normal 0 0 0\nouter loop\n";
    for (const std::size_t corner : face)
      text += QByteArray("vertex ") + at[corner] + "\n";
    text += "endloop\nendfacet\n";
  }
  return text + "endsolid part\n";
}

void write(const QString& name, const QByteArray& bytes) {
  QFile file(name);
  ASSERT_TRUE(file.open(QIODevice::WriteOnly)) << name.toStdString();
  file.write(bytes);
}

class ScanImport : public testing::Test {
protected:
  QTemporaryDir folder;
  QString build_file = folder.filePath("car/build.json"), scan_file = folder.filePath("car/scans/part.stl");
  std::unique_ptr<Session> session;
  std::unique_ptr<ScanDialog> dialog;

  void SetUp() override {
    QDir(folder.path()).mkpath("car/scans");
    QDir(folder.path()).mkpath("elsewhere");
    write(scan_file, tetrahedron());
    const build::Build build = test::sample_build();
    ASSERT_TRUE(build::save_build(build_file.toStdString(), build));
    session = std::make_unique<Session>(build, build_file);
    dialog = std::make_unique<ScanDialog>(*session, [this](QWidget*) { return scan_file; });
    dialog->show();
  }
  template <class W> W* find(const QString& name) const {
    W* widget = dialog->findChild<W*>(name);
    EXPECT_NE(widget, nullptr) << name.toStdString();
    return widget;
  }
  void load(const QString& file) const {
    QSignalSpy loaded(dialog.get(), &ScanDialog::loaded);
    dialog->load(file);
    ASSERT_TRUE(loaded.count() > 0 || loaded.wait(10000));
  }
  void fill(const char* name, const QString& text) const { find<QLineEdit>(name)->setText(text); }
  [[nodiscard]] QString state() const { return find<QLabel>("scan_state")->text(); }
  [[nodiscard]] bool can_add() const { return find<QPushButton>("scan_add")->isEnabled(); }
  /// Millimetres, turned a quarter to the left and moved.
  void place_by_points() const {
    find<QRadioButton>("scan_unit_0")->click();
    fill("scan_point_0_in_file", "0 0 0");
    fill("scan_point_1_in_file", "100 0 0");
    fill("scan_point_2_in_file", "0; 200; 0");
    fill("scan_point_0_in_bay", "500 100 50");
    fill("scan_point_1_in_bay", "500 200 50");
    fill("scan_point_2_in_bay", "300 100 50");
  }
  [[nodiscard]] const build::Scan& scan() const {
    return std::get<build::Scan>(session->build().keep_outs.back().shape);
  }
};

TEST_F(ScanImport, AsksForTheUnitAndShowsTheSizeInEach) {
  EXPECT_FALSE(can_add());
  load(scan_file);
  EXPECT_TRUE(find<QLabel>("scan_facts")->text().contains("4 triangles"));
  EXPECT_TRUE(find<QRadioButton>("scan_unit_0")->text().contains("100.0 mm × 200.0 mm × 300.0 mm"))
      << find<QRadioButton>("scan_unit_0")->text().toStdString();
  EXPECT_TRUE(find<QRadioButton>("scan_unit_3")->text().contains("2540.0 mm"));
  EXPECT_FALSE(can_add());
  EXPECT_TRUE(state().contains("unit")) << state().toStdString();
}

TEST_F(ScanImport, LiesWhereItsThreePointsAre) {
  load(scan_file);
  place_by_points();
  ASSERT_TRUE(can_add()) << state().toStdString();
  EXPECT_TRUE(state().contains("agree within"));
  fill("scan_point_0_name", "strut");
  find<QPushButton>("scan_add")->click();
  ASSERT_EQ(session->build().keep_outs.size(), 1U);
  EXPECT_EQ(scan().file, "scans/part.stl");
  EXPECT_EQ(session->undo_text(), "Add scan part.stl");
  EXPECT_EQ(session->selection(), Selection(PickedKeepOut{0}));
  const mesh::Point top = scan().placement().to_bay({0, 0, 300});
  EXPECT_NEAR(top[0], 0.5, 1e-9);
  EXPECT_NEAR(top[1], 0.1, 1e-9);
  EXPECT_NEAR(top[2], 0.35, 1e-9);
  const auto& survey = session->build().keep_outs.back().survey;
  ASSERT_TRUE(survey);
  EXPECT_TRUE(survey->measured);
  EXPECT_EQ(survey->note, "placed by strut");
}

TEST_F(ScanImport, SaysWhenTheUnitMustBeWrong) {
  load(scan_file);
  place_by_points();
  find<QRadioButton>("scan_unit_3")->click();
  EXPECT_FALSE(can_add());
  EXPECT_FALSE(state().isEmpty());
}

TEST_F(ScanImport, TakesPointsByTheirNumber) {
  load(scan_file);
  place_by_points();
  fill("scan_point_0_in_file", "#99");
  EXPECT_FALSE(can_add());
  EXPECT_TRUE(state().contains("from 1 to 4")) << state().toStdString();
  fill("scan_point_0_in_file", "here");
  EXPECT_TRUE(state().contains("three numbers")) << state().toStdString();
}

TEST_F(ScanImport, LiesByItsOriginAndTurns) {
  load(scan_file);
  find<QRadioButton>("scan_unit_1")->click();
  find<QComboBox>("scan_way")->setCurrentIndex(1);
  EXPECT_FALSE(can_add());
  fill("scan_origin", "100 mm up from the origin");
  auto* left = find<QLineEdit>("scan_turned_left_line");
  left->selectAll();
  QTest::keyClicks(left, "90 deg");
  QTest::keyClick(left, Qt::Key_Return);
  ASSERT_TRUE(can_add()) << state().toStdString();
  find<QPushButton>("scan_add")->click();
  const mesh::Point corner = scan().placement().to_bay({100, 0, 0});
  EXPECT_NEAR(corner[0], 0, 1e-9);
  EXPECT_NEAR(corner[1], 1, 1e-9);
  EXPECT_NEAR(corner[2], 0.1, 1e-9);
}

TEST_F(ScanImport, ABrokenFileLosesNothing) {
  load(scan_file);
  place_by_points();
  const QString broken = folder.filePath("broken.stl");
  write(broken, tetrahedron().left(200));
  const build::Build before = session->build();
  load(broken);
  EXPECT_FALSE(find<QLabel>("scan_error")->text().isEmpty());
  EXPECT_EQ(session->build(), before);
  EXPECT_TRUE(find<QLabel>("scan_facts")->text().contains("4 triangles")) << "what was read before stays";
  load(folder.filePath("none.stl"));
  EXPECT_TRUE(find<QLabel>("scan_error")->text().contains("none.stl"));
}

TEST_F(ScanImport, SurvivesSavingElsewhereAndUndo) {
  load(scan_file);
  place_by_points();
  find<QPushButton>("scan_add")->click();
  ASSERT_FALSE(session->apply(build::with_title(session->build(), "Later"), "Change title"));
  ASSERT_FALSE(session->save(build_file));
  EXPECT_EQ(scan().file, "scans/part.stl");
  const QString moved = folder.filePath("elsewhere/build.json");
  ASSERT_FALSE(session->save(moved));
  EXPECT_FALSE(session->modified());
  EXPECT_EQ(scan().file, scan_file.toStdString());
  const auto read = build::load_build(moved.toStdString());
  ASSERT_TRUE(read) << read.error().text();
  const auto& there = std::get<build::Scan>(read->keep_outs.back().shape);
  ASSERT_TRUE(there.loaded) << there.problem;
  EXPECT_EQ(there.loaded->digest, scan().digest);
  session->undo();
  EXPECT_EQ(session->build().title, test::sample_build().title);
  EXPECT_EQ(scan().file, scan_file.toStdString()) << "seen from the new folder in every step";
  EXPECT_TRUE(scan().loaded);
}

TEST_F(ScanImport, EveryFieldHasANameToBeSpoken) {
  load(scan_file);
  for (const QWidget* widget : dialog->findChildren<QWidget*>()) {
    if (!widget->isVisibleTo(dialog.get()) || (widget->focusPolicy() & Qt::TabFocus) == 0)
      continue;
    const auto* button = qobject_cast<const QAbstractButton*>(widget);
    EXPECT_TRUE(!widget->accessibleName().isEmpty() || (button != nullptr && !button->text().isEmpty()))
        << widget->objectName().toStdString() << " " << widget->metaObject()->className();
  }
}

TEST_F(Window, RestoresScansOfWhatWasLeftBehind) {
  QDir(temporary.path()).mkpath("car");
  write(temporary.filePath("car/part.stl"), tetrahedron());
  build::Build lost = test::sample_build();
  lost.keep_outs.push_back(
      {.name = "part",
       .clearance_m = {},
       .shape = build::Scan{.file = "part.stl", .digest = {}, .loaded = {}, .problem = {}}});
  {
    Session other(lost);
    other.restore(lost, temporary.filePath("car/build.json"));
    Recovery kept(other, QDir(temporary.filePath("recovery")), 1h);
    kept.keep();
    ASSERT_TRUE(QFile::copy(kept.copy(), temporary.filePath("recovery/left.json")));
  }
  left_behind = Dialogs::LeftBehind::restore;
  window->offer_left_behind();
  ASSERT_EQ(session.build().keep_outs.size(), 1U);
  const auto& scan = std::get<build::Scan>(session.build().keep_outs.front().shape);
  EXPECT_TRUE(scan.loaded) << scan.problem;
}

TEST(Photographs, AreAddedByTwoClickedPoints) {
  const QTemporaryDir folder;
  const QString file = folder.filePath("above.png");
  QImage image(400, 200, QImage::Format_RGB32);
  image.fill(Qt::gray);
  ASSERT_TRUE(image.save(file));
  Session session(test::sample_build());
  PhotographDialog dialog(session, [&](QWidget*) { return file; });
  dialog.resize(700, 600);
  dialog.show();
  dialog.load(folder.filePath("none.png"));
  EXPECT_FALSE(dialog.findChild<QLabel*>("photograph_error")->text().isEmpty());
  auto* add = dialog.findChild<QPushButton*>("photograph_add");
  EXPECT_FALSE(add->isEnabled());
  dialog.findChild<QPushButton*>("photograph_choose")->click();
  auto* picture = dialog.findChild<PictureView*>("photograph_picture");
  QTest::mouseClick(picture, Qt::LeftButton, {}, picture->on_widget({100, 50}).toPoint());
  QTest::mouseClick(picture, Qt::LeftButton, {}, picture->on_widget({300, 150}).toPoint());
  dialog.findChild<QLineEdit*>("photograph_point_0_in_bay")->setText("0 0 0");
  EXPECT_FALSE(add->isEnabled());
  dialog.findChild<QLineEdit*>("photograph_point_1_in_bay")->setText("800 mm ahead of the origin");
  ASSERT_TRUE(add->isEnabled()) << dialog.findChild<QLabel*>("photograph_state")->text().toStdString();
  add->click();
  ASSERT_EQ(session.build().photographs.size(), 1U);
  const build::Photograph& made = session.build().photographs.front();
  EXPECT_EQ(made.file, file.toStdString());
  constexpr double click_px = 1.5; // the picture is shown smaller or larger than it is
  EXPECT_NEAR(made.first_px[0], 100, click_px);
  EXPECT_NEAR(made.first_px[1], 50, click_px);
  EXPECT_NEAR(made.second_px[0], 300, click_px);
  EXPECT_NEAR(made.second_m[0], 0.8, 1e-12);
  EXPECT_EQ(session.undo_text(), "Add photograph above.png");
}

} // namespace
} // namespace bellmouth::ui
