// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of the picked run, and the bores it could have.
#pragma once

#include "fact_list.hpp"
#include "session.hpp"
#include "wrapped_label.hpp"

#include <QTimer>
#include <QWidget>

#include <optional>

class QLabel;
class QPushButton;
class QTableWidget;

namespace bellmouth::ui {

class RunEditor : public QWidget {
  Q_OBJECT

public:
  explicit RunEditor(Session& session, QWidget* parent = nullptr);
  /// Shows the picked run; there must be one.
  void refresh();

signals:
  void meet_requested();   ///< the run is to be made to meet its port
  void join_requested();   ///< what is missing at its joints is to be put in
  void routes_requested(); ///< routes are to be found for the run

private:
  /// Lays the run out in every size of the stock and plans what each costs, which takes a moment.
  void refresh_sizes(const build::RunId& run);
  void take_size();

  Session& session_;
  QLabel* title_;
  WrappedLabel* ends_;
  FactList* facts_;
  QPushButton *meet_, *routes_, *join_;
  QTableWidget* sizes_;
  std::vector<SizeRow> rows_;
  std::optional<build::RunId> rows_of_; ///< the run that they are of
  QTimer sizes_timer_;                  ///< waits for a pause in what the user does
  QPushButton* take_;
  WrappedLabel* error_;
};

} // namespace bellmouth::ui
