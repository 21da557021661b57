// SPDX-License-Identifier: GPL-3.0-or-later
#include "meet_dialog.hpp"

#include "fact_list.hpp"
#include "piece_text.hpp"
#include "quantity_edit.hpp"
#include "sheet.hpp"
#include "theme.hpp"
#include "titled_table.hpp"
#include "units.hpp"
#include "wrapped_label.hpp"

#include <bellmouth/bay/names.hpp>

#include <QCheckBox>
#include <QHBoxLayout>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include <algorithm>
#include <cassert>

namespace bellmouth::ui {

namespace {

using quantity::Dimension;
using route::What;

QString words(std::string_view text) {
  return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size()));
}
/// With a capital and a full stop.
QString sentence(const QString& text) {
  return text.left(1).toUpper() + text.mid(1) + '.';
}
Dimension dimension_of(What what) {
  return route::is_angle(what) ? Dimension::angle : Dimension::length;
}
/// Exact enough to be read back.
QString size_text(What what, double value) {
  const Dimension dimension = dimension_of(what);
  constexpr int digits = 6;
  return QString::fromStdString(
      quantity::write(dimension, value, shown_unit(dimension), digits, decimal_sign()));
}
/// As fine as anybody cuts.
QString change_text(What what, double value) {
  const Dimension dimension = dimension_of(what);
  return QString::fromStdString(
      quantity::write_fixed(dimension, value, shown_unit(dimension), 2, true, decimal_sign()));
}
/// As fine as the solver is.
QString gap_text(const bay::Meeting& meeting) {
  const auto fine = [](Dimension dimension, double value) {
    return QString::fromStdString(
        quantity::write_fixed(dimension, value, shown_unit(dimension), 2, true, decimal_sign()));
  };
  return MeetDialog::tr("%1 and %2 off")
      .arg(fine(Dimension::length, meeting.gap_m), fine(Dimension::angle, meeting.angle_rad));
}

} // namespace

MeetDialog::MeetDialog(Session& session, build::RunId run, QWidget* parent)
    : QDialog(parent), session_(session), base_(session.build()), option_(session.option()),
      run_(std::move(run)), keep_clear_(new QCheckBox(tr("Keep clear of everything"), this)),
      few_(new QCheckBox(tr("Alter few sizes"), this)), summary_(new WrappedLabel(this)),
      figures_(new WrappedLabel(this)),
      changes_(new TitledTable("meet_changes", tr("What changes"), tr("Nothing changes."), this)),
      help_(new QWidget(this)), help_column_(new QVBoxLayout), accept_(new QPushButton(tr("&Accept"), this)),
      close_(new QPushButton(tr("&Cancel"), this)) {
  assert(base_.find(option_)->find(run_) != nullptr);
  setObjectName("meet_dialog");
  setWindowTitle(tr("Meet the port: %1").arg(run_name(run_)));
  for (const route::Freedom& freedom : route::freedoms(base_, option_, run_))
    rows_.push_back({freedom, true});
  accept_->setObjectName("meet_accept");
  accept_->setToolTip(tr("Takes what is shown as one step, which undo takes back"));
  close_->setObjectName("meet_close");
  close_->setAutoDefault(false);
  auto* middle = new QHBoxLayout;
  middle->setSpacing(wide_gap);
  middle->addWidget(choice(), 5);
  middle->addWidget(outcome(), 4);
  auto* foot = new QHBoxLayout;
  foot->addStretch(1);
  foot->addWidget(accept_);
  foot->addWidget(close_);
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(wide_gap, wide_gap, wide_gap, wide_gap);
  all->setSpacing(wide_gap);
  all->addLayout(middle, 1);
  all->addLayout(foot);
  constexpr QSize comfortable(960, 440);
  resize(comfortable);
  connect(accept_, &QPushButton::clicked, this, &MeetDialog::accept_result);
  connect(close_, &QPushButton::clicked, this, &QDialog::reject);
  solve();
}

MeetDialog::~MeetDialog() {
  session_.cancel_preview();
}

void MeetDialog::done(int result) {
  session_.cancel_preview();
  QDialog::done(result);
}

QWidget* MeetDialog::choice() {
  auto* box = new QWidget(this);
  sheet_ = new Sheet(
      "meet_freedoms", tr("What may move"),
      tr("Nothing in this run can be altered: it has no tube, hose, bend or elbow of its own length or "
         "angle. Put one in first."),
      [this] { return columns(); },
      [this] {
        QStringList keys;
        for (std::size_t i = 0; i < rows_.size(); ++i)
          keys << QString::number(i);
        return keys;
      },
      box);
  keep_clear_->setObjectName("meet_keep_clear");
  keep_clear_->setChecked(true);
  keep_clear_->setToolTip(
      tr("The run comes no nearer to anything than its clearance, or than it was before"));
  connect(keep_clear_, &QCheckBox::toggled, this, &MeetDialog::solve);
  few_->setObjectName("meet_few");
  few_->setToolTip(tr("As few sizes as can be are altered, for at most three times the least change"));
  connect(few_, &QCheckBox::toggled, this, &MeetDialog::solve);
  const auto button = [&](const char* name, const QString& text, bool on) {
    auto* made = new QPushButton(text, box);
    made->setObjectName(name);
    made->setAutoDefault(false);
    connect(made, &QPushButton::clicked, this, [this, on] { tick_all(on); });
    return made;
  };
  auto* row = new QHBoxLayout;
  row->setSpacing(gap);
  row->addWidget(keep_clear_);
  row->addWidget(few_, 1);
  row->addWidget(button("meet_all", tr("All may move"), true));
  row->addWidget(button("meet_none", tr("None"), false));
  auto* column = new QVBoxLayout(box);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  column->addWidget(heading(tr("What may move, and how far"), box));
  column->addWidget(sheet_, 1);
  column->addLayout(row);
  return box;
}

QWidget* MeetDialog::outcome() {
  auto* area = new QScrollArea(this);
  area->setWidgetResizable(true);
  area->setFrameShape(QFrame::NoFrame);
  area->setFocusPolicy(Qt::NoFocus);
  auto* box = new QWidget;
  summary_->setObjectName("meet_summary");
  summary_->setFont(heading_font());
  figures_->setObjectName("meet_figures");
  help_->setObjectName("meet_help");
  help_->setLayout(help_column_);
  help_column_->setContentsMargins(0, 0, 0, 0);
  help_column_->setSpacing(gap);
  auto* column = new QVBoxLayout(box);
  column->setContentsMargins(0, 0, gap, 0);
  column->setSpacing(gap);
  column->addWidget(summary_);
  column->addWidget(figures_);
  column->addWidget(help_);
  column->addWidget(changes_);
  column->addStretch(1);
  area->setWidget(box);
  return area;
}

const build::Run& MeetDialog::run() const {
  return *base_.find(option_)->find(run_);
}

QString MeetDialog::piece_name(std::size_t row) const {
  return tr("%1 %2").arg(row + 1).arg(piece_title(run().pieces.at(row)));
}

std::vector<SheetColumn> MeetDialog::columns() {
  const auto freedom = [this](int row) -> const route::Freedom& {
    return rows_.at(static_cast<std::size_t>(row)).freedom;
  };
  return {{.title = tr("Piece"),
           .tip = tr("Ticked: it may move. Space ticks and unticks"),
           .text = [this, freedom](int row) { return piece_name(freedom(row).row); },
           .ticked = [this](int row) { return rows_.at(static_cast<std::size_t>(row)).on; },
           .tick =
               [this](int row, bool on) {
                 rows_.at(static_cast<std::size_t>(row)).on = on;
                 solve();
               }},
          {.title = tr("Size"),
           .tip = tr("What of the piece may move"),
           .text = [freedom](int row) { return words(route::name(freedom(row).what)); }},
          {.title = tr("Now"),
           .tip = tr("As it is in the build"),
           .text =
               [this, freedom](int row) {
                 const route::Freedom& of = freedom(row);
                 return size_text(of.what, route::value(run().pieces.at(of.row).shape, of.what).value_or(0));
               },
           .number = true},
          limit(tr("Least"), &route::Freedom::low),
          limit(tr("Most"), &route::Freedom::high)};
}

SheetColumn MeetDialog::limit(const QString& title, double route::Freedom::*member) {
  return {.title = title,
          .tip = tr("How far it may go; any unit can be typed"),
          .text =
              [this, member](int row) {
                const route::Freedom& freedom = rows_.at(static_cast<std::size_t>(row)).freedom;
                return size_text(freedom.what, freedom.*member);
              },
          .set = [this, member](int row, const QString& typed) -> std::optional<QString> {
            Row next = rows_.at(static_cast<std::size_t>(row));
            const Dimension dimension = dimension_of(next.freedom.what);
            const auto value = quantity::read(
                dimension, typed.toStdString(),
                {.default_unit = shown_unit(dimension), .decimal = decimal_sign(), .ambient_Pa = {}});
            if (!value)
              return complaint(value.error());
            next.freedom.*member = *value;
            if (const auto error = route::validate(run(), {next.freedom}))
              return complaint(*error);
            rows_.at(static_cast<std::size_t>(row)) = next;
            solve();
            return std::nullopt;
          },
          .muted = [this](int row) { return !rows_.at(static_cast<std::size_t>(row)).on; },
          .number = true};
}

void MeetDialog::tick_all(bool on) {
  for (Row& row : rows_)
    row.on = on;
  solve();
}

void MeetDialog::solve() {
  std::vector<route::Freedom> free;
  for (const Row& row : rows_)
    if (row.on)
      free.push_back(row.freedom);
  helped_ = false;
  met_ = route::meet(base_, option_, run_, free,
                     {.keep_clear = keep_clear_->isChecked(), .few = few_->isChecked()});
  sheet_->refresh();
  show_result(met_.build);
  show_help();
}

void MeetDialog::show_result(const build::Build& build) {
  if (met_.stop == route::Stop::not_measured || build == base_)
    session_.cancel_preview();
  else
    session_.preview(build);
  QStringList lines;
  if (met_.before && met_.after)
    lines
        << (build == base_
                ? tr("It is %1 the port.").arg(gap_text(*met_.before))
                : tr("It was %1 the port and is now %2.").arg(gap_text(*met_.before), gap_text(*met_.after)));
  if (const RunResult* result = find_run(session_.evaluation(), run_);
      result != nullptr && result->clearance.closest() != nullptr) {
    const bay::Gap& closest = *result->clearance.closest();
    const QString neighbour = QString::fromStdString(
        bay::name_of(session_.build(), *session_.build().find(option_), closest.neighbour));
    lines << (closest.distance_m < 0
                  ? tr("It runs into something: %1 goes %2 into %3.")
                        .arg(piece_name(closest.row), show_length(-closest.distance_m), neighbour)
                  : tr("Nearest to anything: %1 is %2 from %3, which asks for %4.")
                        .arg(piece_name(closest.row), show_length(closest.distance_m), neighbour,
                             show_length(closest.required_m)));
  }
  for (const std::size_t row : met_.without_stock)
    lines << tr("%1 is not the stock item any more that it was bought as; choose another.")
                 .arg(piece_name(row));
  figures_->set_text(lines.join('\n'));

  const bool changed = build != base_;
  summary_->set_text(helped_       ? tr("With that it meets the port.")
                     : !met_.met() ? sentence(words(route::text(met_.stop)))
                     : !changed    ? tr("It meets the port already.")
                                   : tr("It meets the port."));
  summary_->setForegroundRole(QPalette::WindowText);
  TextTable table{{tr("Piece"), tr("Size"), tr("Is"), tr("Becomes")}, {}};
  if (!helped_)
    for (const route::Change& change : met_.changes)
      table.rows.push_back({{piece_name(change.row)},
                            {words(route::name(change.what))},
                            {change_text(change.what, change.from), 0, true},
                            {change_text(change.what, change.to), 0, true}});
  changes_->setVisible(!helped_ && !table.rows.empty());
  changes_->show_table(std::move(table));
  accept_->setEnabled(changed && session_.previewing());
  accept_->setText(met_.met() || helped_ ? tr("&Accept") : tr("&Accept as near as it comes"));
}

void MeetDialog::show_help() {
  while (QLayoutItem* item = help_column_->takeAt(0)) {
    if (item->widget() != nullptr) {
      item->widget()->hide();
      item->widget()->deleteLater(); // it may be the button that was pressed
    }
    delete item;
  }
  const auto say = [this](const QString& text) {
    auto* label = new WrappedLabel(help_);
    label->set_text(text);
    help_column_->addWidget(label);
  };
  if (!met_.binding.empty()) {
    QStringList limits;
    for (const route::Binding& binding : met_.binding)
      limits << tr("%1 of %2 is at its %3, %4")
                    .arg(words(route::name(binding.freedom.what)), piece_name(binding.freedom.row),
                         binding.at_high ? tr("most") : tr("least"),
                         size_text(binding.freedom.what,
                                   binding.at_high ? binding.freedom.high : binding.freedom.low));
    say(tr("What holds it back: %1.").arg(limits.join("; ")));
  }
  if (met_.help.empty()) {
    help_->setVisible(!met_.binding.empty());
    return;
  }
  help_column_->addWidget(heading(tr("What would help"), help_));
  for (std::size_t i = 0; i < met_.help.size(); ++i) {
    say(words(met_.help[i].text));
    auto* button = new QPushButton(tr("Try it"), help_);
    button->setObjectName(QString("meet_help_%1").arg(i));
    button->setAccessibleName(tr("Try: %1").arg(words(met_.help[i].text)));
    button->setAutoDefault(false);
    connect(button, &QPushButton::clicked, this, [this, i] { take_help(i); });
    help_column_->addWidget(button, 0, Qt::AlignLeft);
  }
  help_->show();
}

void MeetDialog::take_help(std::size_t index) {
  const route::Help& help = met_.help.at(index);
  helped_ = true;
  met_.after = help.after;
  show_result(help.build);
}

void MeetDialog::accept_result() {
  session_.commit_preview(tr("Meet the port: %1").arg(run_name(run_)));
  accept();
}

} // namespace bellmouth::ui
