// SPDX-License-Identifier: GPL-3.0-or-later
#include "fit_dialog.hpp"

#include "fit_tables.hpp"
#include "piece_text.hpp"
#include "readings_chart.hpp"
#include "theme.hpp"
#include "units.hpp"
#include "wrapped_label.hpp"

#include <QCheckBox>
#include <QFile>
#include <QFileInfo>
#include <QGroupBox>
#include <QLocale>
#include <QProgressBar>
#include <QPushButton>
#include <QScrollArea>
#include <QStackedWidget>
#include <QTabWidget>
#include <QVBoxLayout>

#include <algorithm>
#include <cassert>

namespace bellmouth::ui {

namespace {

constexpr int choice_width_px = 270;

QVBoxLayout* column_in(QWidget* parent, int margin) {
  auto* column = new QVBoxLayout(parent);
  column->setContentsMargins(margin, margin, margin, margin);
  column->setSpacing(gap);
  return column;
}

/// What a log of this build could look like. The readings are invented.
QString sample_log(const build::Build& build) {
  const auto blowers = std::ranges::count_if(build.path, [&](const build::PathStep& step) {
    const auto* id = std::get_if<build::MachineId>(&step);
    const build::Machine* machine = id ? build.find(*id) : nullptr;
    return machine && build::is_blower(machine->kind);
  });
  return blowers == 1 ? QString("engine_speed_rpm,manifold_pressure_kPa,blower_outlet_temperature_C\n"
                                "2000,112.4,46\n"
                                "3500,128.9,63\n"
                                "5000,141.2,")
                      : QString("engine_speed_rpm,manifold_pressure_kPa,mass_flow_g_s\n"
                                "2000,98.9,21.4\n"
                                "3500,97.6,38.1\n"
                                "5000,95.8,");
}

QString empty_words(const build::Build& build) {
  return FitDialog::
      tr("<h3>No log yet</h3>"
         "<p>Hold the engine at a few speeds, write down what the gauges say, and let the program find which "
         "of the build's figures must be corrected to agree.</p>"
         "<p>Full load belongs on a dynamometer or a closed road; whoever drives does not read gauges. Fuel "
         "and spark must be set for the boost before it is run.</p>"
         "<p>A log is a CSV file: a header, then a row for each speed that was held. The header says of "
         "each column what it holds and in which unit; a cell that was not read stays empty:</p>"
         "<pre>%1</pre>"
         "<p>Pressures count from vacuum unless the unit ends in <tt>_gauge</tt>. Other places are named: "
         "<tt>pressure_kPa at</tt> the label of a sensor boss, <tt>temperature_C behind</tt> the name of "
         "a machine. The file <tt>shared/logs/README.md</tt> describes it all.</p>")
          .arg(sample_log(build));
}

} // namespace

FitDialog::FitDialog(Session& session, AskFile ask_file, QWidget* parent)
    : QDialog(parent), session_(session), ask_file_(std::move(ask_file)), option_(session.option()),
      coefficients_(fit::coefficients_of(session.build(), session.option())),
      choose_(new QPushButton(tr("Choose a &log…"), this)), run_(new QPushButton(tr("&Fit"), this)),
      cancel_(new QPushButton(tr("&Stop"), this)), apply_(new QPushButton(tr("&Apply to the build"), this)),
      close_(new QPushButton(tr("&Close"), this)), file_name_(new QLabel(this)),
      error_(new WrappedLabel(this)), summary_(new WrappedLabel(this)), remarks_(new WrappedLabel(this)),
      by_itself_(new QCheckBox(tr("As many as the log can tell"), this)), progress_(new QProgressBar(this)),
      step_(new QLabel(this)), stack_(new QStackedWidget(this)), pages_(new QTabWidget(this)),
      channels_(new RankedTable("fit_channels", tr("Channels of the log"), this)),
      found_(new RankedTable("fit_coefficients", tr("Coefficients"), this)), chart_(new ReadingsChart(this)) {
  assert(std::holds_alternative<machine::Engine>(session.build().demand));
  setObjectName("fit_dialog");
  setWindowTitle(tr("Fit to measurement: %1").arg(option_name(option_)));

  auto* empty = new QLabel(empty_words(session.build()), this);
  empty->setObjectName("fit_empty");
  empty->setWordWrap(true);
  empty->setTextInteractionFlags(Qt::TextSelectableByMouse);
  empty->setMargin(wide_gap);
  empty->setAlignment(Qt::AlignTop | Qt::AlignLeft);
  pages_->setObjectName("fit_pages");
  pages_->setDocumentMode(true);
  pages_->addTab(channels_page(), tr("Channels"));
  pages_->addTab(coefficients_page(), tr("Coefficients"));
  stack_->addWidget(empty);
  stack_->addWidget(pages_);

  summary_->setObjectName("fit_summary");
  apply_->setObjectName("fit_apply");
  close_->setObjectName("fit_close");
  apply_->setToolTip(tr("The fitted factors become the build's measured ones; undo takes them back"));
  for (QPushButton* button : {choose_, cancel_, apply_, close_})
    button->setAutoDefault(false);
  run_->setDefault(true);

  auto* middle = new QHBoxLayout;
  middle->setSpacing(wide_gap);
  middle->addWidget(choice());
  middle->addWidget(stack_, 1);
  auto* foot = new QHBoxLayout;
  foot->setSpacing(gap);
  foot->addWidget(summary_, 1);
  foot->addWidget(apply_);
  foot->addWidget(close_);
  auto* all = column_in(this, wide_gap);
  all->addWidget(file_row());
  all->addWidget(error_);
  all->addLayout(middle, 1);
  all->addLayout(foot);
  constexpr QSize comfortable(1140, 700);
  resize(comfortable);

  connect(choose_, &QPushButton::clicked, this, [this] {
    if (const QString file = ask_file_(this); !file.isEmpty())
      load(file);
  });
  connect(run_, &QPushButton::clicked, this, &FitDialog::run);
  connect(cancel_, &QPushButton::clicked, this, [this] {
    job_.cancel();
    step_->setText(tr("stopping"));
  });
  connect(apply_, &QPushButton::clicked, this, &FitDialog::apply);
  connect(close_, &QPushButton::clicked, this, &QDialog::close);
  connect(channels_, &RankedTable::picked, this,
          [this](const RankedRow& row) { show_channel(static_cast<std::size_t>(*row.cells.front().rank)); });
  connect(&job_, &FitJob::progressed, this, [this](int iteration, double cost) {
    step_->setText(tr("step %1, misfit %2").arg(iteration).arg(QLocale().toString(cost, 'g', 4)));
  });
  connect(&job_, &FitJob::finished, this, &FitDialog::take);
  refresh_buttons();
}

QWidget* FitDialog::file_row() {
  auto* row = new QWidget(this);
  auto* line = new QHBoxLayout(row);
  line->setContentsMargins(0, 0, 0, 0);
  line->setSpacing(wide_gap);
  line->addWidget(choose_);
  line->addWidget(file_name_, 1);
  choose_->setObjectName("fit_choose");
  file_name_->setObjectName("fit_file");
  file_name_->setText(tr("no log chosen"));
  error_->setObjectName("fit_error");
  error_->hide();
  return row;
}

QWidget* FitDialog::choice() {
  auto* group = new QGroupBox(tr("What may move"), this);
  group->setFixedWidth(choice_width_px);
  auto* column = column_in(group, wide_gap);
  by_itself_->setObjectName("fit_by_itself");
  by_itself_->setToolTip(tr("The program frees what the readings tell apart, and holds the rest"));
  by_itself_->setChecked(true);
  column->addWidget(by_itself_);
  for (const build::Coefficient coefficient : coefficients_) {
    const build::Measured* measured = session_.build().find(coefficient);
    auto* box = new QCheckBox(coefficient_name(coefficient), group);
    box->setObjectName(QString("fit_free_%1").arg(static_cast<int>(coefficient)));
    box->setToolTip(measured ? tr("Measured before: factor %1").arg(show_ratio(measured->factor, 3))
                             : tr("As the build states it: factor 1"));
    box->setEnabled(false);
    connect(box, &QCheckBox::toggled, this, &FitDialog::refresh_buttons);
    column->addWidget(box);
    free_.push_back(box);
  }
  connect(by_itself_, &QCheckBox::toggled, this, &FitDialog::refresh_buttons);
  run_->setObjectName("fit_run");
  cancel_->setObjectName("fit_cancel");
  progress_->setObjectName("fit_progress");
  progress_->setRange(0, 0); // nobody knows how many steps it will take
  progress_->setTextVisible(false);
  step_->setObjectName("fit_step");
  step_->setFont(small_font());
  auto* buttons = new QHBoxLayout;
  buttons->setSpacing(gap);
  buttons->addWidget(run_);
  buttons->addWidget(cancel_);
  column->addSpacing(gap);
  column->addLayout(buttons);
  column->addWidget(progress_);
  column->addWidget(step_);
  column->addStretch(1);
  auto* caution = new WrappedLabel(group);
  caution->setFont(small_font());
  caution->setForegroundRole(QPalette::PlaceholderText);
  caution->set_text(
      tr("A leak or a slipping belt ends up in the factors too. Look at what each channel is off "
         "by before you believe them."));
  column->addWidget(caution);
  return group;
}

QWidget* FitDialog::channels_page() {
  auto* page = new QWidget(this);
  auto* column = column_in(page, gap);
  chart_->setObjectName("fit_chart");
  channels_->sort_by(channel_name, Qt::AscendingOrder);
  channels_->set_wide_column(channel_name);
  column->addWidget(channels_, 2);
  column->addWidget(chart_, 3);
  return page;
}

QWidget* FitDialog::coefficients_page() {
  auto* page = new QWidget(this);
  auto* column = column_in(page, gap);
  found_->set_wide_column(fitted_remark);
  found_->sort_by(fitted_name, Qt::AscendingOrder);
  remarks_->setObjectName("fit_remarks");
  remarks_->setTextInteractionFlags(Qt::TextSelectableByMouse);
  auto* scroll = new QScrollArea(page);
  scroll->setAccessibleName(tr("What has to be said of the fit"));
  scroll->setFrameShape(QFrame::NoFrame);
  scroll->setWidgetResizable(true);
  auto* inside = new QWidget;
  auto* inside_column = column_in(inside, 0);
  inside_column->addWidget(remarks_);
  inside_column->addStretch(1);
  scroll->setWidget(inside);
  column->addWidget(found_, 3);
  column->addWidget(scroll, 2);
  return page;
}

const fit::Fit* FitDialog::fit() const {
  return outcome_ && outcome_->has_value() ? &outcome_->value() : nullptr;
}

void FitDialog::load(const QString& file) {
  complain({});
  auto log = fit::load_log(QFile::encodeName(file).toStdString(), session_.build(), option_);
  if (!log) {
    // What was read before stays.
    complain(QString::fromStdString(log.error().text()));
    return;
  }
  log_ = *std::move(log);
  file_ = QFileInfo(file).fileName();
  outcome_.reset();
  applied_ = false;
  channel_ = 0;
  show_log();
  refresh_buttons();
}

void FitDialog::show_log() {
  file_name_->setText(QString("<b>%1</b> &nbsp; %2").arg(file_.toHtmlEscaped(), log_words(*log_)));
  stack_->setCurrentWidget(pages_);
  pages_->setCurrentIndex(0);
  pages_->setTabEnabled(1, false);
  channels_->show_ranking(channels_ranking(*log_, nullptr));
  show_channel(channel_);
  summary_->set_text({});
  step_->clear();
}

void FitDialog::show_channel(std::size_t channel) {
  channel_ = channel;
  chart_->show_curves(channel_curves(*log_, fit(), channel_));
}

void FitDialog::run() {
  std::vector<build::Coefficient> free;
  if (!by_itself_->isChecked())
    for (std::size_t i = 0; i < free_.size(); ++i)
      if (free_[i]->isChecked())
        free.push_back(coefficients_[i]);
  complain({});
  step_->setText(tr("looking at the readings"));
  job_.start({session_.build(), option_, *log_, std::move(free)});
  refresh_buttons();
}

void FitDialog::take(const FitOutcome& outcome) {
  outcome_ = outcome;
  applied_ = false;
  if (outcome->has_value())
    show_fit();
  else
    complain(QString::fromStdString(outcome->error().text()));
  refresh_buttons();
  emit ended();
}

void FitDialog::show_fit() {
  const fit::Fit& shown = *fit();
  const bool looked = !shown.channel_reports.empty() && !shown.rows.empty();
  channels_->show_ranking(channels_ranking(*log_, looked ? &shown : nullptr));
  chart_->show_curves(channel_curves(*log_, looked ? &shown : nullptr, channel_));
  found_->show_ranking(coefficients_ranking(shown));
  QStringList said;
  for (const std::string& sentence : fit::remarks(shown))
    said << "• " + QString::fromStdString(sentence);
  if (said.isEmpty() && shown.usable())
    said << tr("Nothing odd about this fit.");
  remarks_->set_text(said.join('\n'));
  summary_->set_text(fit_words(shown));
  step_->clear();
  pages_->setTabEnabled(1, !shown.coefficients.empty() || !shown.held.empty());
  if (pages_->isTabEnabled(1))
    pages_->setCurrentIndex(1);
}

void FitDialog::apply() {
  const build::Build next = build::with_measured(session_.build(), fit()->build->measured);
  if (const auto error = session_.apply(next, tr("Fit to %1").arg(file_))) {
    complain(QString::fromStdString(error->text()));
    return;
  }
  applied_ = true;
  summary_->set_text(tr("Applied. All figures of the build are corrected by it; undo takes it back."));
  refresh_buttons();
}

void FitDialog::complain(const QString& why) {
  show_complaint(*error_, why);
}

void FitDialog::refresh_buttons() {
  const bool running = job_.running();
  const bool by_itself = by_itself_->isChecked();
  for (QCheckBox* box : free_)
    box->setEnabled(!by_itself && !running);
  by_itself_->setEnabled(!running);
  choose_->setEnabled(!running);
  const bool any_free = by_itself || std::ranges::any_of(free_, &QCheckBox::isChecked);
  run_->setEnabled(log_.has_value() && any_free && !running);
  cancel_->setEnabled(running);
  progress_->setVisible(running);
  apply_->setEnabled(!running && !applied_ && fit() != nullptr && fit()->usable() && fit()->build);
}

} // namespace bellmouth::ui
