// SPDX-License-Identifier: GPL-3.0-or-later
#include "findings_delegate.hpp"

#include "badge.hpp"
#include "findings_model.hpp"
#include "theme.hpp"

#include <QAbstractItemView>
#include <QPainter>
#include <QScrollBar>

namespace bellmouth::ui {

namespace {

constexpr int word_width_px = 86, padding_px = 8;

/// The parts of a row one under the other, at the width there is.
struct Parts {
  QRect message, where, reason;
  int height = 0;
};

QFont message_font(const QStyleOptionViewItem& option) {
  QFont font = option.font;
  font.setWeight(QFont::DemiBold);
  return font;
}

/// Room for the words. The scroll bar is counted whether it is there or not: it comes only once the heights
/// are known, and must not change them.
int words_width(const QStyleOptionViewItem& option) {
  const auto* view = qobject_cast<const QAbstractItemView*>(option.widget);
  const int whole = view ? view->contentsRect().width() - view->verticalScrollBar()->sizeHint().width() : 400;
  return whole - word_width_px - 2 * padding_px;
}

Parts lay_out(const QStyleOptionViewItem& option, const QModelIndex& index, int left, int top, int width) {
  const auto part = [&](const QFont& font, int role, int y) {
    const QRect box(0, 0, std::max(width, 80), 10000);
    const QRect used = QFontMetrics(font).boundingRect(box, Qt::TextWordWrap, index.data(role).toString());
    return QRect(left, y, box.width(), index.data(role).toString().isEmpty() ? 0 : used.height());
  };
  Parts parts;
  parts.where = part(small_font(), FindingsModel::where_role, top);
  parts.message = part(message_font(option), FindingsModel::message_role, parts.where.bottom() + 2);
  parts.reason = part(small_font(), FindingsModel::reason_role, parts.message.bottom() + 4);
  parts.height = parts.reason.bottom() + 1 - top;
  return parts;
}

} // namespace

void FindingsDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option,
                             const QModelIndex& index) const {
  const Theme& colours = theme();
  painter->save();
  const bool selected = option.state & QStyle::State_Selected;
  painter->fillRect(option.rect, selected ? colours.selected : colours.panel);
  painter->setPen(QPen(colours.line, 1));
  painter->drawLine(option.rect.bottomLeft(), option.rect.bottomRight());
  if (option.state & QStyle::State_HasFocus) {
    painter->setPen(QPen(colours.accent, 1));
    painter->drawRect(option.rect.adjusted(0, 0, -1, -2));
  }
  const auto severity = static_cast<check::Severity>(index.data(FindingsModel::severity_role).toInt());
  const int top = option.rect.top() + padding_px, left = option.rect.left() + padding_px;
  draw_badge(*painter, QRectF(left, top, 18, 18), severity, colours);
  painter->setFont(small_font());
  painter->setPen(severity_colour(severity, colours));
  painter->drawText(QRect(left + 24, top, word_width_px - 24, 18), Qt::AlignVCenter | Qt::AlignLeft,
                    severity_word(severity));

  const int text_left = left + word_width_px;
  const Parts parts = lay_out(option, index, text_left, top, words_width(option));
  painter->setPen(colours.muted_text);
  painter->drawText(parts.where, Qt::TextWordWrap, index.data(FindingsModel::where_role).toString());
  painter->setFont(message_font(option));
  painter->setPen(colours.text);
  painter->drawText(parts.message, Qt::TextWordWrap, index.data(FindingsModel::message_role).toString());
  painter->setFont(small_font());
  painter->setPen(selected ? colours.text : colours.muted_text);
  painter->drawText(parts.reason, Qt::TextWordWrap, index.data(FindingsModel::reason_role).toString());
  painter->restore();
}

QSize FindingsDelegate::sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const {
  const int width = words_width(option);
  return {width + word_width_px + 2 * padding_px,
          lay_out(option, index, 0, 0, width).height + 2 * padding_px};
}

} // namespace bellmouth::ui
