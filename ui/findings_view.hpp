// SPDX-License-Identifier: GPL-3.0-or-later
// What the checks have to say about the shown option, worst first; each finding can be mended where a mend is
// known, or waived with a reason.
#pragma once

#include "findings_delegate.hpp"
#include "findings_model.hpp"
#include "session.hpp"

#include <QWidget>

class QComboBox;
class QLabel;
class QLineEdit;
class QListView;
class QPushButton;
class QStackedWidget;

namespace bellmouth::ui {

class WrappedLabel;

/// Picking a finding picks the piece or machine it points at.
class FindingsView : public QWidget {
  Q_OBJECT

public:
  explicit FindingsView(Session& session, QWidget* parent = nullptr);

signals:
  void message(const QString& text); ///< why something was not done

protected:
  void showEvent(QShowEvent* event) override;
  bool eventFilter(QObject* watched, QEvent* event) override;

private:
  [[nodiscard]] QWidget* make_waiver();
  void refresh();
  /// Looks for the mends of all findings, which takes a moment.
  void refresh_mends();
  void show_empty_state();
  [[nodiscard]] const check::Finding& finding(const QModelIndex& index) const;
  void pick(const QModelIndex& index);
  void act(FindingAction action, const QModelIndex& index);
  void show_menu(const QPoint& at);
  void mend(const check::Finding& what);
  void ask_reason(const check::Finding& what);
  void accept_reason();
  /// Waives a finding, or takes the waiver back where there is no reason.
  void waive(const check::Finding& what, const QString& reason);

  Session& session_;
  FindingsModel* model_;
  FindingsFilter* filter_;
  QLabel* count_;
  QComboBox* least_;
  QListView* list_;
  QLabel* empty_;
  QStackedWidget* stack_;
  QWidget* waiver_ = nullptr; ///< asks for a reason
  WrappedLabel* waiver_words_;
  QLineEdit* reason_;
  QPushButton* waive_;
  std::optional<check::Finding> asked_about_;
  bool mends_stale_ = true;
};

} // namespace bellmouth::ui
