// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_list.hpp"

#include "theme.hpp"

#include <QKeyEvent>
#include <QPainter>
#include <QScrollBar>

#include <algorithm>
#include <utility>

namespace bellmouth::ui {

namespace {

constexpr int padding_px = 8;
constexpr double faded_opacity = 0.45;

QFont title_font(const QStyleOptionViewItem& option) {
  QFont font = option.font;
  font.setWeight(QFont::DemiBold);
  return font;
}

/// Where title and lines stand beside the picture.
struct Parts {
  QRect title;
  std::vector<QRect> lines;
  int height = 0;
};

Parts lay_out(const QStyleOptionViewItem& option, const QModelIndex& index, int left, int top, int width) {
  const auto height = [&](const QFont& font, const QString& text) {
    return QFontMetrics(font).boundingRect(QRect(0, 0, width, 10000), Qt::TextWordWrap, text).height();
  };
  Parts parts;
  parts.title =
      QRect(left, top, width, height(title_font(option), index.data(RouteModel::title_role).toString()));
  int y = parts.title.bottom() + 3;
  for (const QString& line : index.data(RouteModel::lines_role).toStringList()) {
    parts.lines.emplace_back(left, y, width, height(small_font(), line));
    y = parts.lines.back().bottom() + 2;
  }
  parts.height = y - top;
  return parts;
}

/// Room beside the picture. The scroll bar is counted whether it is there or not: it comes only once the
/// heights are known, and must not change them.
int words_width(const QStyleOptionViewItem& option) {
  const auto* view = qobject_cast<const QAbstractItemView*>(option.widget);
  const int whole = view ? view->contentsRect().width() - view->verticalScrollBar()->sizeHint().width() : 330;
  constexpr int least = 90;
  return std::max(least, whole - RouteDelegate::picture_size.width() - 3 * padding_px);
}

} // namespace

// ---------------------------------------------------------------- model

void RouteModel::set_rows(std::vector<RouteRow> rows) {
  beginResetModel();
  rows_ = std::move(rows);
  endResetModel();
}

void RouteModel::set_faded(bool faded) {
  if (faded == faded_)
    return;
  faded_ = faded;
  if (!rows_.empty())
    emit dataChanged(index(0), index(static_cast<int>(rows_.size()) - 1));
}

int RouteModel::rowCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(rows_.size());
}

QVariant RouteModel::data(const QModelIndex& index, int role) const {
  if (!index.isValid())
    return {};
  const RouteRow& row = rows_.at(static_cast<std::size_t>(index.row()));
  switch (role) {
  case Qt::DisplayRole:
  case title_role:
    return row.title;
  case Qt::AccessibleTextRole:
    return (QStringList(row.title) + row.lines).join(", ") +
           (faded_ ? tr(", of an older state of the build") : QString());
  case Qt::ToolTipRole:
    return row.tip;
  case lines_role:
    return row.lines;
  case picture_role:
    return row.picture;
  case faded_role:
    return faded_;
  default:
    return {};
  }
}

// ---------------------------------------------------------------- rows

void RouteDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option,
                          const QModelIndex& index) const {
  const Theme& colours = theme();
  painter->save();
  const bool selected = option.state & QStyle::State_Selected,
             hovered = option.state & QStyle::State_MouseOver;
  painter->fillRect(option.rect, selected ? colours.selected : hovered ? colours.raised : colours.panel);
  painter->setPen(QPen(colours.line, 1));
  painter->drawLine(option.rect.bottomLeft(), option.rect.bottomRight());
  if (option.state & QStyle::State_HasFocus) {
    painter->setPen(QPen(colours.accent, 1));
    painter->drawRect(option.rect.adjusted(0, 0, -1, -2));
  }
  if (index.data(RouteModel::faded_role).toBool())
    painter->setOpacity(faded_opacity);
  const int left = option.rect.left() + padding_px, top = option.rect.top() + padding_px;
  painter->drawImage(QPoint(left, top), index.data(RouteModel::picture_role).value<QImage>());
  const Parts parts =
      lay_out(option, index, left + picture_size.width() + padding_px, top, words_width(option));
  painter->setFont(title_font(option));
  painter->setPen(colours.text);
  painter->drawText(parts.title, Qt::TextWordWrap, index.data(RouteModel::title_role).toString());
  painter->setFont(small_font());
  const QStringList lines = index.data(RouteModel::lines_role).toStringList();
  for (std::size_t i = 0; i < parts.lines.size(); ++i) {
    painter->setPen(selected || i == 0 ? colours.text : colours.muted_text);
    painter->drawText(parts.lines[i], Qt::TextWordWrap, lines[static_cast<qsizetype>(i)]);
  }
  painter->restore();
}

QSize RouteDelegate::sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const {
  const int width = words_width(option);
  return {width + picture_size.width() + 3 * padding_px,
          std::max(lay_out(option, index, 0, 0, width).height, picture_size.height()) + 2 * padding_px};
}

// ---------------------------------------------------------------- list

RouteList::RouteList(QWidget* parent) : QListView(parent), model_(new RouteModel(this)) {
  setModel(model_);
  setItemDelegate(new RouteDelegate(this));
  setObjectName("route_list");
  setAccessibleName(tr("Routes"));
  setMouseTracking(true);
  setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
  setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  setEditTriggers(QAbstractItemView::NoEditTriggers);
  setTabKeyNavigation(false);
  connect(this, &QListView::entered, this, [this](const QModelIndex& index) { point_at(index); });
  connect(this, &QListView::viewportEntered, this, [this] { point_at({}); });
  connect(this, &QListView::doubleClicked, this,
          [this](const QModelIndex& index) { emit taken(static_cast<std::size_t>(index.row())); });
}

void RouteList::show_rows(std::vector<RouteRow> rows) {
  const auto now = current();
  const auto before = now ? std::optional(model_->rows()[*now].way) : std::nullopt;
  const QPoint under = viewport()->mapFromGlobal(QCursor::pos());
  const bool hovering = hovered_.isValid();
  const int scrolled = verticalScrollBar()->value();
  showing_ = true;
  model_->set_rows(std::move(rows));
  hovered_ = hovering ? indexAt(under) : QModelIndex();
  const auto found =
      std::ranges::find_if(model_->rows(), [&](const RouteRow& row) { return row.way == before; });
  if (found != model_->rows().end())
    setCurrentIndex(model_->index(static_cast<int>(found - model_->rows().begin())));
  showing_ = false;
  verticalScrollBar()->setValue(scrolled);
  if (before && !current())
    emit chosen();
  tell();
}

void RouteList::set_faded(bool faded) {
  model_->set_faded(faded);
}

std::optional<std::size_t> RouteList::current() const {
  const QModelIndex index = currentIndex();
  return index.isValid() ? std::optional(static_cast<std::size_t>(index.row())) : std::nullopt;
}

std::optional<std::size_t> RouteList::pointed_at() const {
  return hovered_.isValid() ? std::optional(static_cast<std::size_t>(hovered_.row())) : current();
}

void RouteList::point_at(const QModelIndex& hovered) {
  hovered_ = hovered;
  tell();
}

void RouteList::tell() {
  const auto at = pointed_at();
  std::optional<way::Way> now;
  if (at)
    now = model_->rows()[*at].way;
  if (now == told_)
    return;
  told_ = std::move(now);
  emit pointed();
}

void RouteList::currentChanged(const QModelIndex& current, const QModelIndex& previous) {
  QListView::currentChanged(current, previous);
  if (showing_)
    return;
  emit chosen();
  tell();
}

void RouteList::keyPressEvent(QKeyEvent* event) {
  if (event->key() == Qt::Key_Escape && current()) {
    clearSelection();
    setCurrentIndex({});
  } else if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && current()) {
    emit taken(*current());
  } else {
    QListView::keyPressEvent(event);
  }
}

void RouteList::resizeEvent(QResizeEvent* event) {
  QListView::resizeEvent(event);
  scheduleDelayedItemsLayout(); // how high a row is depends on the width
}

bool RouteList::viewportEvent(QEvent* event) {
  if (event->type() == QEvent::Leave)
    point_at({});
  return QListView::viewportEvent(event);
}

} // namespace bellmouth::ui
