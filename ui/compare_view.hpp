// SPDX-License-Identifier: GPL-3.0-or-later
// Two options side by side: figures, runs, what only one of them needs, and what the checks say of only one.
#pragma once

#include "session.hpp"

#include <QWidget>

class QComboBox;
class QLabel;
class QStackedLayout;
class QTableView;

namespace bellmouth::ui {

class TextTableModel;

class CompareView : public QWidget {
  Q_OBJECT

public:
  explicit CompareView(Session& session, QWidget* parent = nullptr);

signals:
  void copy_option_requested(); ///< there is nothing to compare with yet

protected:
  void changeEvent(QEvent* event) override;

private:
  void refresh();
  void refresh_chooser();

  Session& session_;
  QStackedLayout* stack_;
  QComboBox* chooser_;
  QLabel* shown_;
  TextTableModel* figures_;
  TextTableModel* runs_;
  TextTableModel* needs_;
  TextTableModel* findings_;
  std::vector<QTableView*> tables_;
};

} // namespace bellmouth::ui
