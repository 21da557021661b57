// SPDX-License-Identifier: GPL-3.0-or-later
#include "tray.hpp"

#include "new_piece.hpp"
#include "piece_art.hpp"

#include <QGuiApplication>
#include <QKeyEvent>
#include <QMimeData>
#include <QPainter>

namespace bellmouth::ui {

namespace {

constexpr QSize icon_size{52, 38};

QIcon drawn_icon(std::size_t shape_index) {
  const double ratio = qGuiApp->devicePixelRatio();
  QPixmap pixmap(icon_size * ratio);
  pixmap.setDevicePixelRatio(ratio);
  pixmap.fill(Qt::transparent);
  QPainter painter(&pixmap);
  draw_sample(painter, shape_index, QRectF(QPointF(2, 2), QSizeF(icon_size) - QSizeF(4, 4)), theme());
  painter.end();
  return QIcon(pixmap);
}

QString kind_text(std::size_t shape_index) {
  const auto name = kind_name(shape_index);
  QString text = QString::fromUtf8(name.data(), static_cast<qsizetype>(name.size()));
  text[0] = text[0].toUpper();
  return text;
}

} // namespace

TrayModel::TrayModel(QObject* parent) : QAbstractListModel(parent) {}

int TrayModel::rowCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(shape_count);
}

QVariant TrayModel::data(const QModelIndex& index, int role) const {
  if (!index.isValid())
    return {};
  const auto shape_index = static_cast<std::size_t>(index.row());
  switch (role) {
  case Qt::DisplayRole:
  case Qt::AccessibleTextRole:
    return kind_text(shape_index);
  case Qt::DecorationRole:
    return drawn_icon(shape_index);
  case Qt::ToolTipRole:
    return build::is_fitting(sample_shape(shape_index))
               ? QString("Drag onto a rigid piece, or press Enter to put one on what is selected")
               : QString("Drag into a run, or press Enter to add one after what is selected");
  default:
    return {};
  }
}

Qt::ItemFlags TrayModel::flags(const QModelIndex& index) const {
  return index.isValid()
             ? Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemIsDragEnabled | Qt::ItemNeverHasChildren
             : Qt::NoItemFlags;
}

QStringList TrayModel::mimeTypes() const {
  return {piece_mime_type};
}

QMimeData* TrayModel::mimeData(const QModelIndexList& indexes) const {
  if (indexes.isEmpty())
    return nullptr;
  auto* data = new QMimeData;
  data->setData(piece_mime_type, QByteArray::number(indexes.front().row()));
  return data;
}

Tray::Tray(Session&, QWidget* parent) : QListView(parent) {
  setObjectName("tray");
  setAccessibleName("Kinds of piece");
  setModel(new TrayModel(this));
  setIconSize(icon_size);
  setSpacing(1);
  setUniformItemSizes(true);
  setDragEnabled(true);
  setDragDropMode(QAbstractItemView::DragOnly);
  setEditTriggers(QAbstractItemView::NoEditTriggers);
  setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  setFrameShape(QFrame::NoFrame);
  setCurrentIndex(model()->index(0, 0));
  connect(this, &QListView::doubleClicked, this,
          [this](const QModelIndex& index) { emit add_requested(static_cast<std::size_t>(index.row())); });
}

QSize Tray::sizeHint() const {
  return {190, sizeHintForRow(0) * static_cast<int>(shape_count) + 30};
}

void Tray::keyPressEvent(QKeyEvent* event) {
  if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && currentIndex().isValid())
    emit add_requested(static_cast<std::size_t>(currentIndex().row()));
  else
    QListView::keyPressEvent(event);
}

void Tray::changeEvent(QEvent* event) {
  QListView::changeEvent(event);
  if (event->type() == QEvent::PaletteChange)
    viewport()->update();
}

} // namespace bellmouth::ui
