// SPDX-License-Identifier: GPL-3.0-or-later
#include "findings_delegate.hpp"

#include "badge.hpp"
#include "findings_model.hpp"
#include "theme.hpp"

#include <QAbstractItemView>
#include <QMouseEvent>
#include <QPainter>
#include <QScrollBar>

#include <algorithm>

namespace bellmouth::ui {

namespace {

constexpr int word_width_px = 86, padding_px = 8, button_room_px = 6;

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

/// As large as the widest of the buttons needs.
QSize button_size() {
  const QFontMetrics metrics(small_font());
  int width = 0;
  for (const auto action : {FindingAction::mend, FindingAction::waive, FindingAction::take_back})
    width = std::max(width, metrics.horizontalAdvance(action_word(action)));
  return {width + 3 * button_room_px, metrics.height() + button_room_px};
}

/// Room between the severity and the scroll bar. The bar is counted whether it is there or not: it comes only
/// once the heights are known, and must not change them.
int room(const QStyleOptionViewItem& option) {
  const auto* view = qobject_cast<const QAbstractItemView*>(option.widget);
  const int whole = view ? view->contentsRect().width() - view->verticalScrollBar()->sizeHint().width() : 400;
  return whole - word_width_px - 2 * padding_px;
}
int words_width(const QStyleOptionViewItem& option) {
  return room(option) - button_size().width() - padding_px;
}

/// What helps, or why it is lived with.
QString last_words(const QModelIndex& index) {
  const QVariant waived = index.data(FindingsModel::waived_role);
  return waived.isValid() ? FindingsDelegate::tr("Waived: %1").arg(waived.toString())
                          : index.data(FindingsModel::reason_role).toString();
}

Parts lay_out(const QStyleOptionViewItem& option, const QModelIndex& index, int left, int top, int width) {
  const auto part = [&](const QFont& font, const QString& words, int y) {
    const QRect box(0, 0, std::max(width, 80), 10000);
    const QRect used = QFontMetrics(font).boundingRect(box, Qt::TextWordWrap, words);
    return QRect(left, y, box.width(), words.isEmpty() ? 0 : used.height());
  };
  Parts parts;
  parts.where = part(small_font(), index.data(FindingsModel::where_role).toString(), top);
  parts.message = part(message_font(option), index.data(FindingsModel::message_role).toString(),
                       parts.where.bottom() + 2);
  parts.reason = part(small_font(), last_words(index), parts.message.bottom() + 4);
  parts.height = parts.reason.bottom() + 1 - top;
  return parts;
}

void draw_button(QPainter& painter, const QRect& box, const QString& word, const Theme& colours) {
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(QPen(colours.line, 1));
  painter.setBrush(colours.raised);
  painter.drawRoundedRect(QRectF(box).adjusted(0.5, 0.5, -0.5, -0.5), corner / 2.0, corner / 2.0);
  painter.setPen(colours.accent);
  painter.drawText(box, Qt::AlignCenter, word);
}

} // namespace

QString action_word(FindingAction action) {
  switch (action) {
  case FindingAction::mend:
    return FindingsDelegate::tr("Mend…");
  case FindingAction::waive:
    return FindingsDelegate::tr("Waive…");
  case FindingAction::take_back:
    break;
  }
  return FindingsDelegate::tr("Take back");
}

std::vector<FindingAction> actions_of(const QModelIndex& index) {
  if (index.data(FindingsModel::waived_role).isValid())
    return {FindingAction::take_back};
  if (index.data(FindingsModel::mend_role).isValid())
    return {FindingAction::mend, FindingAction::waive};
  return {FindingAction::waive};
}

QRect FindingsDelegate::button(const QStyleOptionViewItem& option, const QModelIndex& index,
                               FindingAction action) {
  const std::vector<FindingAction> all = actions_of(index);
  const auto at = static_cast<int>(std::ranges::find(all, action) - all.begin());
  const QSize size = button_size();
  const int left = option.rect.left() + padding_px + word_width_px + room(option) - size.width();
  return {QPoint(left, option.rect.top() + padding_px + at * (size.height() + button_room_px / 2)), size};
}

void FindingsDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option,
                             const QModelIndex& index) const {
  const Theme& colours = theme();
  painter->save();
  const bool selected = option.state & QStyle::State_Selected;
  const bool waived = index.data(FindingsModel::waived_role).isValid();
  painter->fillRect(option.rect, selected ? colours.selected : colours.panel);
  painter->setPen(QPen(colours.line, 1));
  painter->drawLine(option.rect.bottomLeft(), option.rect.bottomRight());
  if (option.state & QStyle::State_HasFocus) {
    painter->setPen(QPen(colours.accent, 1));
    painter->drawRect(option.rect.adjusted(0, 0, -1, -2));
  }
  const auto severity = static_cast<check::Severity>(index.data(FindingsModel::severity_role).toInt());
  const int top = option.rect.top() + padding_px, left = option.rect.left() + padding_px;
  constexpr double faded = 0.35;
  painter->setOpacity(waived ? faded : 1);
  draw_badge(*painter, QRectF(left, top, 18, 18), severity, colours);
  painter->setOpacity(1);
  painter->setFont(small_font());
  painter->setPen(waived ? colours.muted_text : severity_colour(severity, colours));
  painter->drawText(QRect(left + 24, top, word_width_px - 24, 18), Qt::AlignVCenter | Qt::AlignLeft,
                    severity_word(severity));

  const int text_left = left + word_width_px;
  const Parts parts = lay_out(option, index, text_left, top, words_width(option));
  painter->setPen(colours.muted_text);
  painter->drawText(parts.where, Qt::TextWordWrap, index.data(FindingsModel::where_role).toString());
  painter->setFont(message_font(option));
  painter->setPen(waived ? colours.muted_text : colours.text);
  painter->drawText(parts.message, Qt::TextWordWrap, index.data(FindingsModel::message_role).toString());
  painter->setFont(small_font());
  painter->setPen(selected ? colours.text : colours.muted_text);
  painter->drawText(parts.reason, Qt::TextWordWrap, last_words(index));
  for (const FindingAction action : actions_of(index))
    draw_button(*painter, button(option, index, action), action_word(action), colours);
  painter->restore();
}

QSize FindingsDelegate::sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const {
  const int width = words_width(option);
  // As tall with one button as with two, so that a mend that is found later moves no row.
  const int buttons = 2 * button_size().height() + button_room_px / 2;
  return {room(option) + word_width_px + 2 * padding_px,
          std::max(lay_out(option, index, 0, 0, width).height, buttons) + 2 * padding_px};
}

bool FindingsDelegate::editorEvent(QEvent* event, QAbstractItemModel* model,
                                   const QStyleOptionViewItem& option, const QModelIndex& index) {
  if (event->type() == QEvent::MouseButtonRelease) {
    const auto* mouse = static_cast<QMouseEvent*>(event);
    for (const FindingAction action : actions_of(index))
      if (mouse->button() == Qt::LeftButton && button(option, index, action).contains(mouse->pos())) {
        emit asked(action, index);
        return true;
      }
  }
  return QStyledItemDelegate::editorEvent(event, model, option, index);
}

} // namespace bellmouth::ui
