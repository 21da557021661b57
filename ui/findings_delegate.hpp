// SPDX-License-Identifier: GPL-3.0-or-later
// How a finding looks in a list, and the buttons on it.
#pragma once

#include <QStyledItemDelegate>

#include <vector>

namespace bellmouth::ui {

/// What can be done about a finding.
enum class FindingAction {
  mend,     ///< look at the change that puts it right
  waive,    ///< live with it, for a reason
  take_back ///< of the waiver
};
/// "Mend…", "Waive…", "Take back".
[[nodiscard]] QString action_word(FindingAction action);
/// Those that a row of the findings offers, in their order on the screen.
[[nodiscard]] std::vector<FindingAction> actions_of(const QModelIndex& index);

/// Sign and word of the severity on the left; where, message and reason in the middle, wrapped; buttons on
/// the right.
class FindingsDelegate : public QStyledItemDelegate {
  Q_OBJECT

public:
  using QStyledItemDelegate::QStyledItemDelegate;
  void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
  [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
  /// Where the button of an action is in a row of a view.
  [[nodiscard]] static QRect button(const QStyleOptionViewItem& option, const QModelIndex& index,
                                    FindingAction action);

signals:
  void asked(bellmouth::ui::FindingAction action, const QModelIndex& index); ///< a button was pressed

protected:
  bool editorEvent(QEvent* event, QAbstractItemModel* model, const QStyleOptionViewItem& option,
                   const QModelIndex& index) override;
};

} // namespace bellmouth::ui
