// SPDX-License-Identifier: GPL-3.0-or-later
#include "session.hpp"

#include "units.hpp"

#include <QFile>
#include <QFileInfo>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <functional>
#include <utility>

namespace bellmouth::ui {

namespace {

/// What the file holds now, or nothing when it is not there or cannot be read.
std::optional<std::string> content_of(const QString& file) {
  QFile device(file);
  if (file.isEmpty() || !device.open(QIODevice::ReadOnly))
    return std::nullopt;
  return device.readAll().toStdString();
}

double working_speed_rev_s(const build::Build& build) {
  const auto* engine = std::get_if<machine::Engine>(&build.demand);
  return engine == nullptr ? 0.0 : engine->working_speed_rev_s;
}

/// The speed nearest to that shown, where the engine has been given another range.
double nearest_speed_rev_s(const build::Build& build, double rev_s) {
  const auto* engine = std::get_if<machine::Engine>(&build.demand);
  return engine == nullptr ? 0.0 : std::clamp(rev_s, engine->idle_speed_rev_s, engine->max_speed_rev_s);
}

std::string speed_text(double rev_s) {
  return show_engine_speed(rev_s).toStdString();
}

std::optional<build::OptionId> other_option(const build::Build& build, const build::OptionId& shown) {
  for (const build::Option& option : build.options)
    if (option.id != shown)
      return option.id;
  return std::nullopt;
}

std::optional<std::size_t> index_of(const build::Build& build, const build::OptionId& id) {
  const auto found = std::ranges::find(build.options, id, &build::Option::id);
  if (found == build.options.end())
    return std::nullopt;
  return static_cast<std::size_t>(found - build.options.begin());
}

/// The option of that name; after a renaming the one that stands where it stood; else the first.
build::OptionId option_like(const build::Build& build, const build::Build& before,
                            const build::OptionId& id) {
  if (index_of(build, id))
    return id;
  const auto stood = index_of(before, id);
  const bool renamed = stood && build.options.size() == before.options.size();
  return build.options[renamed ? *stood : 0].id;
}

} // namespace

Session::Session(build::Build build, QString file, QObject* parent) : QObject(parent) {
  // Without delay, yet behind the events that wait: what is typed or dragged and the painting that follows.
  weighing_timer_.setSingleShot(true);
  weighing_timer_.setInterval(0);
  connect(&weighing_timer_, &QTimer::timeout, this, [this] { emit changed(Change::weighing); });
  // Later: a drag or a row of keys is not held up.
  constexpr int pause_ms = 150;
  purchase_timer_.setSingleShot(true);
  purchase_timer_.setInterval(pause_ms);
  connect(&purchase_timer_, &QTimer::timeout, this, [this] {
    bought(option_, aim_, purchased_);
    if (rival_)
      bought(*rival_, aim_, rival_purchased_);
    emit changed(Change::purchase);
  });
  start(std::move(build), std::move(file));
  refresh({});
}

void Session::start(build::Build build, QString file) {
  assert(!build::validate(build));
  saved_ = build;
  saved_text_ = content_of(file).value_or(std::string());
  file_ = std::move(file);
  demo_ = false;
  option_ = build.options.front().id;
  rival_ = other_option(build, option_);
  engine_speed_rev_s_ = working_speed_rev_s(build);
  selection_ = std::monostate{};
  preview_.reset();
  history_.clear();
  history_.push_back({std::move(build), {}, {}});
  at_ = 0;
  ++revision_;
  ++document_number_;
}

const build::Build& Session::build() const {
  return preview_ ? *preview_ : history_[at_].build;
}
const Evaluation& Session::evaluation() const {
  return *evaluation_;
}
const build::OptionId& Session::option() const {
  return option_;
}
double Session::engine_speed_rev_s() const {
  return engine_speed_rev_s_;
}
const std::optional<build::OptionId>& Session::rival() const {
  return rival_;
}
const Evaluation* Session::rival_evaluation() const {
  return rival_evaluation_.get();
}
const Weighing* Session::weighing() const {
  return weighed(evaluation_.get(), weighed_);
}
const Weighing* Session::rival_weighing() const {
  return weighed(rival_evaluation_.get(), rival_weighed_);
}
const Weighing* Session::weighed(const Evaluation* evaluation, Weighed& kept) const {
  if (evaluation == nullptr)
    return nullptr;
  if (!kept)
    kept.emplace(weigh(build(), *evaluation));
  return *kept ? &**kept : nullptr;
}
bool Session::weighing_is_due() const {
  return weighing_timer_.isActive();
}
const Selection& Session::selection() const {
  return selection_;
}

bool Session::holds(const std::optional<Purchased>& kept, const build::OptionId& option, buy::Aim aim) const {
  return kept && kept->revision == revision_ && kept->option == option && kept->aim == aim;
}
const Session::Purchased& Session::bought(const build::OptionId& option, buy::Aim aim,
                                          std::optional<Purchased>& kept) const {
  if (holds(kept, option, aim))
    return *kept;
  if (const auto& other = others_.at(static_cast<std::size_t>(aim)); holds(other, option, aim)) {
    kept = other;
    return *kept;
  }
  constexpr double most_seconds = 0.25; // the window waits for it
  kept.emplace(Purchased{revision_, option, aim,
                         buy::purchase(build(), option, {.aim = aim, .seconds = most_seconds})});
  kept->findings = check::check_purchase(build(), kept->purchase);
  return *kept;
}
const buy::Purchase& Session::purchase() const {
  return bought(option_, aim_, purchased_).purchase;
}
const buy::Purchase* Session::rival_purchase() const {
  return rival_ ? &bought(*rival_, aim_, rival_purchased_).purchase : nullptr;
}
const buy::Purchase& Session::purchase_with(buy::Aim aim) const {
  return aim == aim_ ? purchase() : bought(option_, aim, others_.at(static_cast<std::size_t>(aim))).purchase;
}
const buy::Purchase* Session::last_purchase() const {
  return purchased_ && purchased_->option == option_ ? &purchased_->purchase : nullptr;
}
const buy::Purchase* Session::last_rival_purchase() const {
  return rival_ && rival_purchased_ && rival_purchased_->option == *rival_ ? &rival_purchased_->purchase
                                                                           : nullptr;
}
bool Session::purchase_is_due() const {
  return purchase_timer_.isActive();
}

std::vector<check::Finding> Session::findings() const {
  return findings_of(*evaluation_, purchased_);
}
std::vector<check::Finding> Session::rival_findings() const {
  return rival_evaluation_ ? findings_of(*rival_evaluation_, rival_purchased_)
                           : std::vector<check::Finding>();
}
std::vector<check::Finding> Session::findings_of(const Evaluation& evaluation,
                                                 const std::optional<Purchased>& kept) const {
  std::vector<check::Finding> all = evaluation.findings;
  if (!kept || kept->option != evaluation.option)
    return all;
  for (const check::Finding& finding : kept->findings)
    if (!finding.where.piece || build::find(build(), *finding.where.piece) != nullptr)
      all.push_back(finding);
  std::ranges::stable_sort(all, std::greater(), &check::Finding::severity);
  return all;
}

const build::Piece* Session::picked_piece() const {
  const auto* picked = std::get_if<PickedPiece>(&selection_);
  return picked == nullptr ? nullptr : build::find(build(), {option_, picked->run, picked->row});
}

void Session::show_option(const build::OptionId& option) {
  if (option == option_ || build().find(option) == nullptr)
    return;
  const build::OptionId before = option_;
  option_ = option;
  // The option that was shown is the natural rival of the one shown now.
  if (rival_ == option_)
    rival_ = before;
  const Selection selected = selection_;
  mend_references();
  Changes changes = Changes(Change::evaluation) | Change::rival;
  changes.setFlag(Change::selection, selection_ != selected);
  refresh(changes);
}

void Session::compare_with(const std::optional<build::OptionId>& rival) {
  if (rival == rival_ || (rival && (*rival == option_ || build().find(*rival) == nullptr)))
    return;
  rival_ = rival;
  refresh(Change::rival);
}

std::optional<Error> Session::set_engine_speed(double rev_s) {
  const auto* engine = std::get_if<machine::Engine>(&build().demand);
  if (engine == nullptr)
    return Error{
        .place = {}, .found = "an engine speed", .accepted = "none, as there is no engine", .line = {}};
  // The limits themselves are accepted, however they are rounded in whole rpm.
  const double nearest = nearest_speed_rev_s(build(), rev_s);
  constexpr double rounding_rev_s = 1e-6;
  if (!(std::abs(rev_s - nearest) <= rounding_rev_s))
    return Error{.place = {},
                 .found = speed_text(rev_s),
                 .accepted = speed_text(engine->idle_speed_rev_s) + " to " +
                             speed_text(engine->max_speed_rev_s) + ", as the engine runs",
                 .line = {}};
  if (nearest != engine_speed_rev_s_) {
    engine_speed_rev_s_ = nearest;
    refresh(Changes(Change::evaluation) | Change::rival);
  }
  return std::nullopt;
}

void Session::set_aim(buy::Aim aim) {
  if (aim == aim_)
    return;
  // What was worked out with the aim before is not lost.
  others_.at(static_cast<std::size_t>(aim_)) = purchased_;
  aim_ = aim;
  purchase_timer_.start();
}

void Session::select(Selection selection) {
  if (selection == selection_)
    return;
  selection_ = std::move(selection);
  mend_references();
  refresh(Change::selection);
}

void Session::show_bay_state(const std::optional<build::StateId>& state) {
  if (state == bay_state_ || (state && build().find(*state) == nullptr))
    return;
  bay_state_ = state;
  refresh(Change::bay_state);
}

void Session::show_everything_anew() {
  refresh(Changes(Change::document) | Change::selection | Change::file | Change::rival);
}

std::optional<Error> Session::apply(build::Build next, const QString& what, const QString& merge_key) {
  if (auto error = build::validate(next))
    return error;
  const bool was_previewing = std::exchange(preview_, std::nullopt).has_value();
  const build::Build before = history_[at_].build;
  if (next == before) {
    if (was_previewing)
      show_build(before);
    return std::nullopt;
  }
  const bool newest = at_ + 1 == history_.size();
  if (newest && at_ > 0 && !merge_key.isEmpty() && history_[at_].merge_key == merge_key) {
    if (next == history_[at_ - 1].build) {
      history_.pop_back();
      --at_;
    } else {
      history_[at_].build = std::move(next);
    }
  } else {
    history_.resize(at_ + 1);
    history_.push_back({std::move(next), what, merge_key});
    ++at_;
  }
  show_build(before);
  return std::nullopt;
}

void Session::preview(build::Build next) {
  if (next == build() || build::validate(next))
    return;
  const build::Build before = build();
  preview_ = std::move(next);
  show_build(before);
}

void Session::commit_preview(const QString& what) {
  if (!preview_)
    return;
  // It was valid when it was shown.
  [[maybe_unused]] const auto error = apply(build::Build(*preview_), what);
  assert(!error);
}

void Session::cancel_preview() {
  if (!preview_)
    return;
  const build::Build before = *std::exchange(preview_, std::nullopt);
  show_build(before);
}

bool Session::can_undo() const {
  return at_ > 0;
}
bool Session::can_redo() const {
  return at_ + 1 < history_.size();
}
QString Session::undo_text() const {
  return can_undo() ? history_[at_].what : QString();
}
QString Session::redo_text() const {
  return can_redo() ? history_[at_ + 1].what : QString();
}

void Session::undo() {
  cancel_preview();
  if (can_undo())
    go_to(at_ - 1);
}
void Session::redo() {
  cancel_preview();
  if (can_redo())
    go_to(at_ + 1);
}

void Session::go_to(std::size_t step) {
  const build::Build before = history_[at_].build;
  // Whatever is typed next is a step of its own.
  history_[at_].merge_key.clear();
  history_[step].merge_key.clear();
  at_ = step;
  show_build(before);
}

const QString& Session::file() const {
  return file_;
}
bool Session::modified() const {
  return !saved_ || history_[at_].build != *saved_;
}

bool Session::changed_on_disk() const {
  const auto now = content_of(file_);
  return now && *now != saved_text_;
}

std::optional<Error> Session::save(const QString& file, bool force) {
  assert(!file.isEmpty());
  if (!force && file == file_ && changed_on_disk())
    return Error{.place = Place{file.toStdString(), 0, 0, {}},
                 .found = "the file was changed by another program since it was opened or saved here",
                 .accepted = "saving under another name, or overwriting it on purpose",
                 .line = {}};
  const auto folder_of = [](const QString& name) {
    return name.isEmpty() ? std::string() : QFileInfo(name).absolutePath().toStdString();
  };
  const std::string before = folder_of(file_), now = folder_of(file);
  const build::Build build = build::with_files_named_from(history_[at_].build, before, now);
  std::string text = build::write_build(build);
  if (const auto saved = build::save_text(file.toStdString(), text); !saved)
    return saved.error();
  file_ = file;
  demo_ = false;
  saved_ = build;
  saved_text_ = std::move(text);
  history_[at_].merge_key.clear();
  const bool renamed = build != history_[at_].build;
  // Undo must lead to the same scans and photographs as before.
  if (before != now)
    for (Step& step : history_)
      step.build = build::with_files_named_from(std::move(step.build), before, now);
  emit changed(renamed ? Change::file | Change::document : Changes(Change::file));
  return std::nullopt;
}

void Session::replace(build::Build build, QString file) {
  start(std::move(build), std::move(file));
  show_everything_anew();
}

void Session::restore(build::Build build, QString file) {
  start(std::move(build), std::move(file));
  saved_.reset();
  show_everything_anew();
}

void Session::mark_demo() {
  demo_ = true;
  emit changed(Change::file);
}
bool Session::is_demo() const {
  return demo_;
}

std::size_t Session::revision() const {
  return revision_;
}
std::size_t Session::document_number() const {
  return document_number_;
}
bool Session::previewing() const {
  return preview_.has_value();
}

void Session::show_build(const build::Build& before) {
  ++revision_;
  option_ = option_like(build(), before, option_);
  if (rival_)
    rival_ = option_like(build(), before, *rival_);
  const Selection selected = selection_;
  mend_references();
  Changes changes = Changes(Change::document) | Change::file | Change::rival;
  changes.setFlag(Change::selection, selection_ != selected);
  refresh(changes);
}

void Session::mend_references() {
  const build::Build& shown = build();
  if (!rival_ || *rival_ == option_ || shown.find(*rival_) == nullptr)
    rival_ = rival_ || shown.options.size() == 2 ? other_option(shown, option_) : std::nullopt;
  engine_speed_rev_s_ = nearest_speed_rev_s(shown, engine_speed_rev_s_);
  const build::Option& option = *shown.find(option_);
  if (auto* piece = std::get_if<PickedPiece>(&selection_)) {
    const build::Run* run = option.find(piece->run);
    if (run == nullptr)
      selection_ = std::monostate{};
    else if (run->pieces.empty())
      selection_ = PickedRun{piece->run};
    else
      piece->row = std::min(piece->row, run->pieces.size() - 1);
  } else if (const auto* picked_run = std::get_if<PickedRun>(&selection_)) {
    if (option.find(picked_run->run) == nullptr)
      selection_ = std::monostate{};
  } else if (const auto* machine = std::get_if<PickedMachine>(&selection_)) {
    if (shown.find(machine->machine) == nullptr)
      selection_ = std::monostate{};
  } else if (const auto* port = std::get_if<PickedPort>(&selection_)) {
    if (shown.find(port->port) == nullptr)
      selection_ = std::monostate{};
  } else if (auto* keep_out = std::get_if<PickedKeepOut>(&selection_)) {
    if (shown.keep_outs.empty())
      selection_ = std::monostate{};
    else
      keep_out->index = std::min(keep_out->index, shown.keep_outs.size() - 1);
  }
  if (bay_state_ && shown.find(*bay_state_) == nullptr)
    bay_state_ = std::nullopt;
}

void Session::refresh(Changes changes) {
  const bool first = evaluation_ == nullptr;
  const std::optional<double> speed =
      engine_speed_rev_s_ > 0 ? std::optional(engine_speed_rev_s_) : std::nullopt;
  const bool shown_differs = first || (changes & (Changes(Change::document) | Change::evaluation));
  const bool rival_differs = shown_differs || (changes & Change::rival);
  if (shown_differs) {
    evaluation_ = std::make_unique<Evaluation>(evaluate(build(), option_, speed));
    weighed_.reset();
  }
  if (rival_differs) {
    rival_evaluation_ = rival_ ? std::make_unique<Evaluation>(evaluate(build(), *rival_, speed)) : nullptr;
    rival_weighed_.reset();
    weighing_timer_.start();
  }
  if (!holds(purchased_, option_, aim_) || (rival_ && !holds(rival_purchased_, *rival_, aim_)))
    purchase_timer_.start();
  if (changes)
    emit changed(changes);
}

} // namespace bellmouth::ui
