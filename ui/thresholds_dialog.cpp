// SPDX-License-Identifier: GPL-3.0-or-later
#include "thresholds_dialog.hpp"

#include "sheet.hpp"
#include "theme.hpp"
#include "threshold_text.hpp"
#include "wrapped_label.hpp"

#include <bellmouth/build/thresholds.hpp>

#include <QCheckBox>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>

#include <algorithm>

namespace bellmouth::ui {

namespace {

constexpr int widest_words_px = 380, widest_source_px = 150;

bool says(const trade::Threshold& threshold, const QString& words) {
  const auto holds = [&](std::string_view text) {
    return words_of(text).contains(words, Qt::CaseInsensitive);
  };
  return holds(threshold.title) || holds(threshold.basis) || holds(threshold.group) || holds(threshold.key) ||
         holds(trade::text(threshold.source));
}

} // namespace

ThresholdsDialog::ThresholdsDialog(Session& session, QWidget* parent)
    : QDialog(parent), session_(session), search_(new QLineEdit(this)),
      only_changed_(new QCheckBox(tr("Only what I have changed"), this)), groups_(new QListWidget(this)),
      basis_(new WrappedLabel(this)), restore_(new QPushButton(tr("&Back to the trade's"), this)),
      restore_all_(new QPushButton(tr("&All back to the trade's"), this)), count_(new QLabel(this)) {
  setObjectName("thresholds_dialog");
  setWindowTitle(tr("Thresholds"));
  auto* close = new QPushButton(tr("&Close"), this);
  close->setObjectName("thresholds_close");
  close->setAutoDefault(false);
  for (QPushButton* button : {restore_, restore_all_})
    button->setAutoDefault(false);
  restore_->setObjectName("thresholds_restore");
  restore_->setToolTip(tr("The picked threshold is again what the trade holds to be right"));
  restore_all_->setObjectName("thresholds_restore_all");
  restore_all_->setToolTip(tr("One step, which undo takes back"));
  basis_->setObjectName("thresholds_basis");
  count_->setObjectName("thresholds_count");
  auto* words = new WrappedLabel(this);
  words->set_text(tr("What the checks, the joints and the lists of this build measure by. A change holds for "
                     "this build alone, is saved with it, and undo takes it back."));
  words->setForegroundRole(QPalette::PlaceholderText);
  auto* middle = new QHBoxLayout;
  middle->setSpacing(wide_gap);
  middle->addWidget(choice());
  sheet_ = new Sheet(
      "thresholds", tr("Thresholds"), tr("None of them."), [this] { return columns(); },
      [this] {
        QStringList keys;
        for (const trade::Threshold* each : rows_)
          keys << words_of(each->key);
        return keys;
      },
      this);
  middle->addWidget(sheet_, 1);
  auto* foot = new QHBoxLayout;
  foot->addWidget(count_, 1);
  foot->addWidget(restore_);
  foot->addWidget(restore_all_);
  foot->addSpacing(wide_gap);
  foot->addWidget(close);
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(wide_gap, wide_gap, wide_gap, wide_gap);
  all->setSpacing(wide_gap);
  all->addWidget(words);
  all->addLayout(middle, 1);
  all->addWidget(basis_);
  all->addLayout(foot);
  constexpr QSize comfortable(1120, 640), roomy(1500, 800);
  resize(parent == nullptr ? comfortable
                           : (parent->window()->size() * 0.92).expandedTo(comfortable).boundedTo(roomy));

  connect(search_, &QLineEdit::textChanged, this, &ThresholdsDialog::choose);
  connect(only_changed_, &QCheckBox::toggled, this, &ThresholdsDialog::choose);
  connect(groups_, &QListWidget::currentRowChanged, this, &ThresholdsDialog::choose);
  connect(sheet_, &Sheet::picked, this, &ThresholdsDialog::show_basis);
  connect(sheet_, &Sheet::unpicked, this, &ThresholdsDialog::show_basis);
  connect(restore_, &QPushButton::clicked, this, &ThresholdsDialog::restore_picked);
  connect(restore_all_, &QPushButton::clicked, this, &ThresholdsDialog::restore_all);
  connect(close, &QPushButton::clicked, this, &QDialog::accept);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & Change::document)
      refresh();
  });
  choose();
  search_->setFocus();
}

QWidget* ThresholdsDialog::choice() {
  auto* box = new QWidget(this);
  search_->setObjectName("thresholds_search");
  search_->setAccessibleName(tr("Words to look for"));
  search_->setPlaceholderText(tr("Look for words"));
  search_->setClearButtonEnabled(true);
  only_changed_->setObjectName("thresholds_only_changed");
  groups_->setObjectName("thresholds_groups");
  groups_->setAccessibleName(tr("Which thresholds"));
  groups_->addItem(tr("All"));
  for (const trade::Threshold& each : trade::thresholds())
    if (const QString group = words_of(each.group); groups_->findItems(group, Qt::MatchExactly).isEmpty())
      groups_->addItem(group);
  groups_->setCurrentRow(0);
  groups_->setWordWrap(true);
  groups_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  auto* column = new QVBoxLayout(box);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  column->addWidget(search_);
  column->addWidget(groups_, 1);
  column->addWidget(only_changed_);
  constexpr int width_px = 210;
  box->setFixedWidth(width_px);
  return box;
}

const trade::Threshold& ThresholdsDialog::threshold(int row) const {
  return *rows_.at(static_cast<std::size_t>(row));
}

bool ThresholdsDialog::changed(const trade::Threshold& threshold) const {
  return std::ranges::any_of(session_.build().thresholds,
                             [&](const build::ChangedThreshold& each) { return each.key == threshold.key; });
}

std::vector<SheetColumn> ThresholdsDialog::columns() {
  return {
      {.title = tr("What"),
       .tip = {},
       .text = [this](int row) { return words_of(threshold(row).title); },
       .strong = [this](int row) { return changed(threshold(row)); },
       .widest_px = widest_words_px},
      {.title = tr("Holds"),
       .tip = tr("What the checks work with; any unit can be typed. Empty: the trade's"),
       .text = [this](int row) { return show_threshold(threshold(row), build::limits_of(session_.build())); },
       .set = [this](int row, const QString& typed) { return take(threshold(row), typed); },
       .number = true,
       .strong = [this](int row) { return changed(threshold(row)); }},
      {.title = tr("Trade"),
       .tip = tr("What the trade holds to be right"),
       .text = [this](int row) { return show_threshold(threshold(row), trade::defaults()); },
       .number = true},
      {.title = tr("Source"),
       .tip = tr("What kind of source the trade's value has"),
       .text = [this](int row) { return words_of(trade::text(threshold(row).source)); },
       .widest_px = widest_source_px},
      {.title = tr("Basis"),
       .tip = tr("The fact and its source"),
       .text = [this](int row) { return words_of(threshold(row).basis); },
       .widest_px = widest_words_px}};
}

void ThresholdsDialog::choose() {
  const QString words = search_->text().trimmed();
  const QListWidgetItem* group = groups_->currentRow() > 0 ? groups_->currentItem() : nullptr;
  rows_.clear();
  for (const trade::Threshold& each : trade::thresholds())
    if ((words.isEmpty() ? group == nullptr || group->text() == words_of(each.group) : says(each, words)) &&
        (!only_changed_->isChecked() || changed(each)))
      rows_.push_back(&each);
  sheet_->refresh();
  show_basis();
}

void ThresholdsDialog::refresh() {
  if (only_changed_->isChecked())
    choose();
  sheet_->refresh(false);
  show_basis();
}

void ThresholdsDialog::show_basis() {
  const auto row = sheet_->picked_row();
  const std::size_t mine = session_.build().thresholds.size();
  count_->setText(tr("%1 thresholds shown, %2 changed in this build").arg(rows_.size()).arg(mine));
  restore_->setEnabled(row && changed(threshold(*row)));
  restore_all_->setEnabled(mine > 0);
  if (!row) {
    basis_->set_text(tr("Pick one to see where it comes from."));
    return;
  }
  const trade::Threshold& picked = threshold(*row);
  QStringList lines{tr("%1. Accepted is %2.").arg(words_of(picked.title), accepted_words(picked))};
  lines << (picked.basis.empty()
                ? tr("Source: %1.").arg(words_of(trade::text(picked.source)))
                : tr("Source: %1: %2.").arg(words_of(trade::text(picked.source)), words_of(picked.basis)));
  basis_->set_text(lines.join('\n'));
}

std::optional<QString> ThresholdsDialog::take(const trade::Threshold& threshold, const QString& typed) {
  std::optional<double> value;
  if (!typed.isEmpty()) {
    const auto read = read_threshold(threshold, typed);
    if (const auto* why = std::get_if<QString>(&read))
      return *why;
    value = std::get<double>(read);
    if (*value == trade::value(threshold, trade::defaults()))
      value.reset();
  }
  const auto error =
      session_.apply(build::with_threshold(session_.build(), std::string(threshold.key), value),
                     tr("Change threshold: %1").arg(words_of(threshold.title)));
  return error ? std::optional(QString::fromStdString(error->text())) : std::nullopt;
}

void ThresholdsDialog::restore_picked() {
  if (const auto row = sheet_->picked_row())
    take(threshold(*row), {});
}

void ThresholdsDialog::restore_all() {
  build::Build next = session_.build();
  next.thresholds.clear();
  // The trade's own are never refused.
  [[maybe_unused]] const auto error =
      session_.apply(std::move(next), tr("Put all thresholds back to the trade's"));
  choose();
}

} // namespace bellmouth::ui
