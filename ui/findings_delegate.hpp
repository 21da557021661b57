// SPDX-License-Identifier: GPL-3.0-or-later
// How a finding looks in a list.
#pragma once

#include <QStyledItemDelegate>

namespace bellmouth::ui {

/// Sign and word of the severity on the left; where, message and reason on the right, wrapped.
class FindingsDelegate : public QStyledItemDelegate {
  Q_OBJECT

public:
  using QStyledItemDelegate::QStyledItemDelegate;
  void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
  [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
};

} // namespace bellmouth::ui
