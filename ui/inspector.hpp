// SPDX-License-Identifier: GPL-3.0-or-later
// The editor of what is picked: a piece, a machine, a run, a port, a keep-out, or the build when nothing is.
#pragma once

#include "session.hpp"
#include "table_files.hpp"

#include <QScrollArea>

namespace bellmouth::ui {

class BuildEditor;
class KeepOutEditor;
class MachineEditor;
class PieceEditor;
class PortEditor;
class RunEditor;

class Inspector : public QScrollArea {
  Q_OBJECT

public:
  explicit Inspector(Session& session, TableFiles files = desktop_table_files(), QWidget* parent = nullptr);
  /// Puts the cursor into the first field.
  void focus_first();
  /// Scrolls to the budget and puts the cursor into its first field; nothing must be picked.
  void show_budget();

signals:
  void meet_requested();   ///< the picked run is to be made to meet its port
  void join_requested();   ///< what is missing at the joints of the picked run is to be put in
  void routes_requested(); ///< routes are to be found for the picked run

private:
  void refresh();

  Session& session_;
  PieceEditor* piece_;
  MachineEditor* machine_;
  RunEditor* run_;
  PortEditor* port_;
  KeepOutEditor* keep_out_;
  BuildEditor* build_;
};

} // namespace bellmouth::ui
