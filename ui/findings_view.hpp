// SPDX-License-Identifier: GPL-3.0-or-later
// What the checks have to say about the shown option, worst first.
#pragma once

#include "findings_model.hpp"
#include "session.hpp"

#include <QWidget>

class QComboBox;
class QLabel;
class QListView;
class QStackedWidget;

namespace bellmouth::ui {

/// Picking a finding picks the piece or machine it points at.
class FindingsView : public QWidget {
  Q_OBJECT

public:
  explicit FindingsView(Session& session, QWidget* parent = nullptr);

private:
  void refresh();
  void show_empty_state();
  void pick(const QModelIndex& index);

  Session& session_;
  FindingsModel* model_;
  FindingsFilter* filter_;
  QLabel* count_;
  QComboBox* least_;
  QListView* list_;
  QLabel* empty_;
  QStackedWidget* stack_;
};

} // namespace bellmouth::ui
