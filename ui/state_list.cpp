// SPDX-License-Identifier: GPL-3.0-or-later
#include "state_list.hpp"

#include "quantity_edit.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <QHBoxLayout>
#include <QPushButton>

namespace bellmouth::ui {

namespace {

const build::BayState& state_at(const Session& session, int row) {
  return session.build().states.at(static_cast<std::size_t>(row));
}
QString name_of(const build::BayState& state) {
  return QString::fromStdString(state.id.text);
}

} // namespace

StateList::StateList(Session& session, QWidget* parent)
    : QWidget(parent), session_(session),
      sheet_(new Sheet(
          "states", tr("States of the bay"),
          tr("The bay is only looked at as it is at rest. Add what it must also stand: bonnet shut, "
             "wheels at lock, engine rocked."),
          [this] { return columns(); },
          [this] {
            QStringList keys;
            for (const build::BayState& state : session_.build().states)
              keys << name_of(state);
            return keys;
          },
          this)),
      add_(new QPushButton(tr("Add a state"), this)), remove_(new QPushButton(tr("Remove"), this)) {
  setObjectName("state_list");
  add_->setObjectName("add_state");
  remove_->setObjectName("remove_state");
  remove_->setAccessibleName(tr("Remove the picked state"));
  remove_->setToolTip(tr("Keep-outs that are there in this state only are there always then"));
  sheet_->setMinimumHeight(110);
  auto* buttons = new QHBoxLayout;
  buttons->addWidget(add_);
  buttons->addWidget(remove_);
  buttons->addStretch(1);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  column->addWidget(sheet_, 1);
  column->addLayout(buttons);
  connect(add_, &QPushButton::clicked, this, &StateList::add);
  connect(remove_, &QPushButton::clicked, this, &StateList::remove);
}

std::vector<SheetColumn> StateList::columns() {
  return {{.title = tr("State"),
           .tip = tr("Its name, as in: bonnet shut"),
           .text = [this](int row) { return name_of(state_at(session_, row)); },
           .set = [this](int row, const QString& typed) { return rename(row, typed); }},
          {.title = tr("Engine rolled"),
           .tip = tr("By which share of its roll the engine is turned then: from -100 % to 100 %"),
           .text = [this](int row) { return show_percent(state_at(session_, row).roll, 0); },
           .set = [this](int row, const QString& typed) { return set_roll(row, typed); },
           .number = true}};
}

void StateList::refresh(bool fit) {
  sheet_->refresh(fit);
  remove_->setEnabled(!session_.build().states.empty());
}

std::optional<QString> StateList::rename(int row, const QString& typed) {
  const build::StateId from = state_at(session_, row).id, to{typed.toStdString()};
  if (session_.build().find(to) != nullptr)
    return tr("found %1, which there is already; accepted: another name").arg(typed);
  const bool shown = session_.bay_state() == from;
  const auto error = session_.apply(build::with_state_renamed(session_.build(), from, to),
                                    tr("Rename state %1").arg(QString::fromStdString(from.text)));
  if (error)
    return complaint(*error);
  if (shown)
    session_.show_bay_state(to);
  return std::nullopt;
}

std::optional<QString> StateList::set_roll(int row, const QString& typed) {
  const auto share = quantity::read(quantity::Dimension::ratio, typed.toStdString(),
                                    {.default_unit = "%", .decimal = decimal_sign(), .ambient_Pa = {}});
  if (!share)
    return complaint(share.error());
  std::vector<build::BayState> states = session_.build().states;
  states.at(static_cast<std::size_t>(row)).roll = *share;
  const auto error = session_.apply(build::with_states(session_.build(), std::move(states)),
                                    tr("Change roll of state %1").arg(name_of(state_at(session_, row))));
  return error ? std::optional(complaint(*error)) : std::nullopt;
}

void StateList::add() {
  static constexpr const char* usual[] = {QT_TR_NOOP("bonnet shut"), QT_TR_NOOP("engine rocked"),
                                          QT_TR_NOOP("wheels at lock")};
  const auto is_free = [this](const QString& name) {
    return session_.build().find(build::StateId{name.toStdString()}) == nullptr;
  };
  QString name;
  double roll = 0;
  for (const char* each : usual)
    if (name.isEmpty() && is_free(tr(each))) {
      name = tr(each);
      roll = each == usual[1] ? 1 : 0;
    }
  for (int number = 1; name.isEmpty(); ++number)
    if (is_free(tr("state %1").arg(number)))
      name = tr("state %1").arg(number);
  std::vector<build::BayState> states = session_.build().states;
  states.push_back({{name.toStdString()}, roll});
  const auto last = static_cast<int>(states.size()) - 1;
  if (!session_.apply(build::with_states(session_.build(), std::move(states)), tr("Add state %1").arg(name)))
    sheet_->show_picked(last);
}

void StateList::remove() {
  const auto& states_now = session_.build().states;
  if (states_now.empty())
    return;
  const auto row =
      static_cast<std::ptrdiff_t>(sheet_->picked_row().value_or(static_cast<int>(states_now.size()) - 1));
  std::vector<build::BayState> states = states_now;
  const QString name = name_of(states[static_cast<std::size_t>(row)]);
  states.erase(states.begin() + row);
  // Nothing that is taken away can make a build wrong.
  [[maybe_unused]] const auto error = session_.apply(build::with_states(session_.build(), std::move(states)),
                                                     tr("Remove state %1").arg(name));
}

} // namespace bellmouth::ui
