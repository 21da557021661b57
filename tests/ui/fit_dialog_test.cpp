// SPDX-License-Identifier: GPL-3.0-or-later
// Fitting to a log from the window. The logs are made by the model itself, so that the answer is known:
// closed form or other method. Tables and chart: identities with the fit they show.
#include "view_sample.hpp"

#include <QAction>
#include <QCheckBox>
#include <QFile>
#include <QLabel>
#include <QProgressBar>
#include <QSignalSpy>
#include <QTabWidget>
#include <QTemporaryDir>
#include <QTest>
#include <QThread>
#include <gtest/gtest.h>

#include <algorithm>
#include <fit_dialog.hpp>
#include <fit_tables.hpp>
#include <main_window.hpp>
#include <readings_chart.hpp>
#include <recovery.hpp>

namespace bellmouth::ui {
namespace {

using build::Coefficient;

constexpr int patience_ms = 60'000;
constexpr double true_volumetric_efficiency = 0.93, true_cooler_drop = 1.4;
const QStringList columns{"manifold_pressure_kPa", "blower_outlet_temperature_C", "cooler_inlet_pressure_kPa",
                          "cooler_outlet_pressure_kPa", "mass_flow_g_s"};

/// What a build with known factors would read at some speeds. `spoilt`: a row whose manifold pressure is 12
/// kPa too high.
std::string log_text(int spoilt = -1) {
  const build::Build truth = build::with_measured(
      test::full_build(), {{Coefficient::engine_volumetric_efficiency, true_volumetric_efficiency, 0.01},
                           {Coefficient::cooler_drop, true_cooler_drop, 0.01}});
  constexpr int rows = 12;
  const auto speed = [](int row) { return QString::number(1500 + 400 * row); };
  QStringList lines{"engine_speed_rpm," + columns.join(',')};
  for (int row = 0; row < rows; ++row)
    lines << speed(row) + QString(columns.size(), ',');
  const auto blank = fit::read_log(lines.join('\n').toStdString(), truth, {"small"}, "blank.csv");
  EXPECT_TRUE(blank) << (blank ? "" : blank.error().text());
  const auto predicted = fit::predict(truth, {"small"}, *blank);
  lines = lines.mid(0, 1);
  for (int row = 0; row < rows; ++row) {
    QStringList cells{speed(row)};
    for (std::size_t c = 0; c < blank->channels.size(); ++c) {
      const fit::Channel& channel = blank->channels[c];
      const double value =
          quantity::in_unit(channel.dimension, (*predicted[static_cast<std::size_t>(row)])[c], channel.unit);
      cells << QString::number(row == spoilt && c == 0 ? value + 12 : value, 'f', 6);
    }
    lines << cells.join(',');
  }
  return lines.join('\n').toStdString();
}

class FitWindow : public testing::Test {
protected:
  QTemporaryDir folder;
  Session session{test::full_build()};
  QString chosen;
  std::unique_ptr<FitDialog> dialog;

  void SetUp() override {
    dialog = std::make_unique<FitDialog>(session, [this](QWidget*) { return chosen; });
    test::show(*dialog, 1060, 680);
  }
  template <class W> W* find(const QString& name) const {
    W* widget = dialog->findChild<W*>(name);
    EXPECT_NE(widget, nullptr) << name.toStdString();
    return widget;
  }
  [[nodiscard]] bool enabled(const QString& name) const { return find<QWidget>(name)->isEnabled(); }
  void click(const QString& name) const { QTest::mouseClick(find<QWidget>(name), Qt::LeftButton); }
  QString write(const QString& name, const std::string& text) const {
    const QString path = folder.filePath(name);
    QFile file(path);
    EXPECT_TRUE(file.open(QIODevice::WriteOnly));
    file.write(text.data(), static_cast<qint64>(text.size()));
    return path;
  }
  void choose(const std::string& text) {
    chosen = write("held speeds.csv", text);
    click("fit_choose");
  }
  void fit() const {
    QSignalSpy ended(dialog.get(), &FitDialog::ended);
    click("fit_run");
    ASSERT_TRUE(ended.wait(patience_ms) || ended.count() == 1);
  }
  void free_only(const std::vector<Coefficient>& coefficients) const {
    find<QCheckBox>("fit_by_itself")->setChecked(false);
    for (const Coefficient coefficient : coefficients)
      find<QCheckBox>(QString("fit_free_%1").arg(static_cast<int>(coefficient)))->setChecked(true);
  }
  [[nodiscard]] QString cell(const QString& table, const QString& row, int column) const {
    const auto* model = find<RankedTable>(table)->model();
    for (int i = 0; i < model->rowCount(); ++i)
      if (model->index(i, 0).data().toString() == row)
        return model->index(i, column).data().toString();
    ADD_FAILURE() << "no row " << row.toStdString();
    return {};
  }
};

TEST_F(FitWindow, SaysWhatALogLooksLike) {
  const auto* empty = find<QLabel>("fit_empty");
  EXPECT_TRUE(empty->isVisible());
  EXPECT_TRUE(empty->text().contains("shared/logs/README.md"));
  EXPECT_FALSE(enabled("fit_run"));
  EXPECT_FALSE(enabled("fit_apply"));
  EXPECT_FALSE(enabled("fit_cancel"));
  // The log in the words is one that this build can read.
  const QString text = empty->text();
  const qsizetype from = text.indexOf("<pre>") + 5, to = text.indexOf("</pre>");
  const auto log = fit::read_log(text.mid(from, to - from).toStdString(), session.build(), {"small"});
  EXPECT_TRUE(log) << (log ? "" : log.error().text());
}

TEST_F(FitWindow, ListsTheChannelsOfALog) {
  choose(log_text());
  const auto* channels = find<RankedTable>("fit_channels");
  ASSERT_EQ(channels->model()->rowCount(), columns.size());
  for (int row = 0; row < columns.size(); ++row)
    EXPECT_EQ(channels->model()->index(row, channel_name).data().toString(), columns[row])
        << "in the log's order";
  EXPECT_EQ(cell("fit_channels", columns[0], channel_readings), "12");
  EXPECT_TRUE(find<QLabel>("fit_file")->text().contains("60 readings in 12 rows, 1500 rpm to 5900 rpm"))
      << find<QLabel>("fit_file")->text().toStdString();
  EXPECT_FALSE(find<QLabel>("fit_empty")->isVisible());
  EXPECT_TRUE(enabled("fit_run"));
}

TEST_F(FitWindow, SaysWhereALogIsWrong) {
  choose("engine_speed_rpm,manifold_pressure_kPa\n2000,120\n3000,much\n");
  const auto* error = find<QLabel>("fit_error");
  EXPECT_TRUE(error->isVisible());
  const auto reason = fit::load_log(chosen.toStdString(), session.build(), {"small"});
  ASSERT_FALSE(reason);
  EXPECT_EQ(error->text(), QString::fromStdString(reason.error().text()));
  EXPECT_TRUE(error->text().contains("much")) << error->text().toStdString();
  EXPECT_FALSE(enabled("fit_run"));
  choose(log_text());
  EXPECT_FALSE(error->isVisible()) << "put right";
  EXPECT_TRUE(enabled("fit_run"));
}

TEST_F(FitWindow, ThinkingBetterOfItChangesNothing) {
  choose(log_text());
  chosen.clear();
  click("fit_choose");
  EXPECT_TRUE(enabled("fit_run"));
  EXPECT_FALSE(find<QLabel>("fit_error")->isVisible());
}

TEST_F(FitWindow, FindsWhatTheLogWasMadeWithAndAppliesIt) {
  choose(log_text());
  free_only({Coefficient::engine_volumetric_efficiency, Coefficient::cooler_drop});
  fit();
  EXPECT_NEAR(cell("fit_coefficients", "Engine volumetric efficiency", fitted_factor).toDouble(),
              true_volumetric_efficiency, 0.0011);
  EXPECT_NEAR(cell("fit_coefficients", "Cooler drop", fitted_factor).toDouble(), true_cooler_drop, 0.0011);
  EXPECT_EQ(cell("fit_coefficients", "Cooler drop", fitted_before), "1.000");
  EXPECT_EQ(find<QTabWidget>("fit_pages")->currentIndex(), 1);
  EXPECT_FALSE(find<QLabel>("fit_summary")->text().isEmpty());
  ASSERT_TRUE(enabled("fit_apply"));
  const build::Build before = session.build();
  click("fit_apply");
  ASSERT_EQ(session.build().measured.size(), 2U);
  EXPECT_NEAR(session.build().find(Coefficient::cooler_drop)->factor, true_cooler_drop, 1e-3);
  EXPECT_EQ(session.undo_text(), "Fit to held speeds.csv");
  EXPECT_FALSE(enabled("fit_apply")) << "once is enough";
  session.undo();
  EXPECT_EQ(session.build(), before) << "one step";
}

TEST_F(FitWindow, ChannelsShowWhatTheFitGained) {
  choose(log_text());
  free_only({Coefficient::engine_volumetric_efficiency, Coefficient::cooler_drop});
  fit();
  const auto* channels = find<RankedTable>("fit_channels");
  const auto rank = [&](int row, int column) {
    return channels->model()->index(row, column).data(RankedModel::rank_role).toDouble();
  };
  EXPECT_LT(rank(0, channel_after), 0.01 * rank(0, channel_before));
  const auto* chart = find<ReadingsChart>("fit_chart");
  EXPECT_EQ(chart->curves().title, columns[0]);
  EXPECT_EQ(chart->curves().measured.size(), 12);
  EXPECT_EQ(chart->curves().after.size(), 12);
  // Picking a row shows that channel.
  find<QTabWidget>("fit_pages")->setCurrentIndex(0);
  QTest::mouseClick(channels->viewport(), Qt::LeftButton, {},
                    channels->visualRect(channels->model()->index(3, 0)).center());
  EXPECT_EQ(chart->curves().title, columns[3]);
}

TEST_F(FitWindow, MarksOutliers) {
  constexpr int spoilt = 5;
  choose(log_text(spoilt));
  free_only({Coefficient::engine_volumetric_efficiency, Coefficient::cooler_drop});
  fit();
  const auto& curves = find<ReadingsChart>("fit_chart")->curves();
  ASSERT_EQ(curves.outliers.size(), 1);
  EXPECT_NEAR(curves.outliers.front().x(), 1500 + 400 * spoilt, 1e-6);
  EXPECT_EQ(curves.measured.size(), 11);
  EXPECT_EQ(cell("fit_channels", columns[0], channel_outliers), "1");
  EXPECT_TRUE(find<QLabel>("fit_remarks")->text().contains("1 reading is more than"))
      << find<QLabel>("fit_remarks")->text().toStdString();
}

TEST_F(FitWindow, SaysWhatTheDataCannotTellApart) {
  // Pressure behind the cooler alone: its drop cannot be told from other losses.
  choose("engine_speed_rpm,manifold_pressure_kPa\n2000,118\n3000,127\n4000,135\n5000,141\n");
  fit();
  const QString said = find<QLabel>("fit_remarks")->text();
  EXPECT_TRUE(said.contains("cannot tell")) << said.toStdString();
  bool held = false;
  const auto* model = find<RankedTable>("fit_coefficients")->model();
  for (int row = 0; row < model->rowCount(); ++row)
    held = held || model->index(row, fitted_remark).data().toString().startsWith("left as found");
  EXPECT_TRUE(held);
}

TEST_F(FitWindow, NothingToApplyWhereThereIsTooLittleData) {
  choose("engine_speed_rpm,manifold_pressure_kPa\n4000,135\n");
  free_only({Coefficient::engine_volumetric_efficiency, Coefficient::cooler_drop});
  fit();
  EXPECT_EQ(find<QLabel>("fit_summary")->text(), "Fewer readings than coefficients to fit.");
  EXPECT_FALSE(enabled("fit_apply"));
}

TEST_F(FitWindow, NeedsSomethingToMove) {
  choose(log_text());
  find<QCheckBox>("fit_by_itself")->setChecked(false);
  EXPECT_FALSE(enabled("fit_run"));
  free_only({Coefficient::duct_losses});
  EXPECT_TRUE(enabled("fit_run"));
}

TEST_F(FitWindow, CanBeStopped) {
  choose(log_text());
  QSignalSpy ended(dialog.get(), &FitDialog::ended);
  click("fit_run");
  EXPECT_TRUE(find<QProgressBar>("fit_progress")->isVisible());
  EXPECT_FALSE(enabled("fit_choose"));
  ASSERT_TRUE(enabled("fit_cancel"));
  click("fit_cancel");
  ASSERT_TRUE(ended.wait(patience_ms) || ended.count() == 1);
  EXPECT_FALSE(find<QProgressBar>("fit_progress")->isVisible());
  EXPECT_TRUE(enabled("fit_run")) << "and begun anew";
}

TEST_F(FitWindow, MayBeClosedInTheMiddle) {
  choose(log_text());
  const build::Build before = session.build();
  click("fit_run");
  dialog.reset(); // waits for the thread
  EXPECT_EQ(session.build(), before);
}

TEST(FitJob, TellsOfEachStepAndEndsOnTheThreadThatAsked) {
  const build::Build build = test::full_build();
  const auto log = fit::read_log(log_text(), build, {"small"});
  ASSERT_TRUE(log);
  FitJob job;
  int steps = 0;
  FitOutcome outcome;
  QObject::connect(&job, &FitJob::progressed, &job, [&] {
    ++steps;
    EXPECT_EQ(QThread::currentThread(), job.thread());
  });
  QObject::connect(&job, &FitJob::finished, &job, [&](const FitOutcome& ended) { outcome = ended; });
  job.start({build, {"small"}, *log, {Coefficient::engine_volumetric_efficiency}});
  EXPECT_TRUE(job.running());
  QTRY_VERIFY_WITH_TIMEOUT(outcome != nullptr, patience_ms);
  EXPECT_FALSE(job.running());
  EXPECT_GT(steps, 0);
  ASSERT_TRUE(outcome->has_value());
  const auto alone = fit::fit(build, {"small"}, *log, {.free = {Coefficient::engine_volumetric_efficiency}});
  ASSERT_TRUE(alone);
  EXPECT_EQ((*outcome)->coefficients.front().factor, alone->coefficients.front().factor);
}

TEST(FitCommand, OpensFromTheMenuWhereThereIsAnEngine) {
  using namespace std::chrono_literals;
  QTemporaryDir folder;
  Session session(test::full_build());
  Settings settings(folder.filePath("settings.ini"));
  Recovery recovery(session, QDir(folder.filePath("recovery")), 1h);
  Dialogs dialogs;
  dialogs.log_to_open = [](QWidget*, const QString&) { return QString(); };
  MainWindow window(session, recovery, settings, dialogs, Places{QDir(folder.path()), QDir(folder.path())});
  window.show();
  auto* action = window.findChild<QAction*>("fit_to_measurement");
  ASSERT_NE(action, nullptr);
  EXPECT_TRUE(action->isEnabled());
  action->trigger();
  auto* dialog = window.findChild<FitDialog*>("fit_dialog");
  ASSERT_NE(dialog, nullptr);
  EXPECT_TRUE(dialog->isModal());
  dialog->close();
  const auto all = bellmouth::test::all_sample_builds();
  const auto bench = std::ranges::find_if(
      all, [](const build::Build& build) { return std::holds_alternative<build::FixedFlow>(build.demand); });
  ASSERT_NE(bench, all.end());
  session.replace(*bench, {});
  EXPECT_FALSE(action->isEnabled()) << "there is no engine to fit";
}

} // namespace
} // namespace bellmouth::ui
