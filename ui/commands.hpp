// SPDX-License-Identifier: GPL-3.0-or-later
// The commands of the window: one table makes menus, tool bar and the list of keys.
#pragma once

#include <QKeySequence>
#include <QList>
#include <QString>

#include <functional>
#include <vector>

class QAction;
class QObject;

namespace bellmouth::ui {

enum class Menu { build, edit, piece, view, help };
inline constexpr int menu_count = 5;
/// The title of a menu.
[[nodiscard]] QString menu_title(Menu menu);

struct Command {
  QString id; ///< stable; the object name of its action
  Menu menu;
  QString text; ///< as in the menu, with the letter to press
  QString icon; ///< name for icon(), or empty
  QList<QKeySequence> keys;
  QString tip;
  std::function<void()> run;
  /// Whether it can be done now; unset: always.
  std::function<bool()> possible{};
  /// For commands that are on or off.
  std::function<bool()> on{};
  bool group_above = false; ///< a line above it in the menu
};

/// The action of a command, owned by `parent`.
[[nodiscard]] QAction* make_action(const Command& command, QObject* parent);

} // namespace bellmouth::ui
