// SPDX-License-Identifier: GPL-3.0-or-later
// Fits the shown option to a log of measurements: which log, what may move, what came out, and whether the
// build takes it.
#pragma once

#include "fit_job.hpp"
#include "session.hpp"

#include <QDialog>

#include <functional>
#include <optional>
#include <vector>

class QCheckBox;
class QLabel;
class QProgressBar;
class QPushButton;
class QStackedWidget;
class QTabWidget;

namespace bellmouth::ui {

class RankedTable;
class ReadingsChart;
class WrappedLabel;

class FitDialog : public QDialog {
  Q_OBJECT

public:
  /// Asks for a log file; an empty answer means that the user thought better of it.
  using AskFile = std::function<QString(QWidget* parent)>;
  /// The build must have an engine (an assertion).
  FitDialog(Session& session, AskFile ask_file, QWidget* parent = nullptr);
  /// Reads a log, or says what is wrong with it.
  void load(const QString& file);

signals:
  void ended(); ///< a fit has ended and is shown

private:
  /// \name Making the dialog
  ///@{
  [[nodiscard]] QWidget* file_row();
  [[nodiscard]] QWidget* choice();
  [[nodiscard]] QWidget* channels_page();
  [[nodiscard]] QWidget* coefficients_page();
  ///@}
  void run();
  void take(const FitOutcome& outcome);
  void apply();
  void show_log();
  void show_fit();
  void show_channel(std::size_t channel);
  void complain(const QString& why);
  void refresh_buttons();
  [[nodiscard]] const fit::Fit* fit() const;

  Session& session_;
  AskFile ask_file_;
  build::OptionId option_;
  std::vector<build::Coefficient> coefficients_; ///< those that the build has
  std::optional<fit::Log> log_;
  QString file_;
  FitOutcome outcome_;
  std::size_t channel_ = 0; ///< shown in the chart
  bool applied_ = false;

  QPushButton *choose_, *run_, *cancel_, *apply_, *close_;
  QLabel* file_name_;
  WrappedLabel *error_, *summary_, *remarks_;
  QCheckBox* by_itself_;
  std::vector<QCheckBox*> free_; ///< one for each of `coefficients_`
  QProgressBar* progress_;
  QLabel* step_;
  QStackedWidget* stack_;
  QTabWidget* pages_;
  RankedTable *channels_, *found_;
  ReadingsChart* chart_;
  FitJob job_;
};

} // namespace bellmouth::ui
