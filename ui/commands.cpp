// SPDX-License-Identifier: GPL-3.0-or-later
#include "commands.hpp"

#include "theme.hpp"

#include <QAction>
#include <QCoreApplication>

namespace bellmouth::ui {

QString menu_title(Menu menu) {
  const auto tr = [](const char* text) { return QCoreApplication::translate("Menu", text); };
  switch (menu) {
  case Menu::build:
    return tr("&Build");
  case Menu::edit:
    return tr("&Edit");
  case Menu::piece:
    return tr("&Piece");
  case Menu::view:
    return tr("&View");
  case Menu::help:
    return tr("&Help");
  }
  return {};
}

QAction* make_action(const Command& command, QObject* parent) {
  auto* action = new QAction(command.text, parent);
  action->setObjectName(command.id);
  if (!command.icon.isEmpty())
    action->setIcon(icon(command.icon));
  action->setShortcuts(command.keys);
  const QString keys =
      command.keys.isEmpty() ? QString() : command.keys.front().toString(QKeySequence::NativeText);
  action->setToolTip(keys.isEmpty() ? command.tip : QString("%1 (%2)").arg(command.tip, keys));
  action->setStatusTip(command.tip);
  action->setCheckable(static_cast<bool>(command.on));
  QObject::connect(action, &QAction::triggered, parent, [run = command.run] { run(); });
  return action;
}

} // namespace bellmouth::ui
