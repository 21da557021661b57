// SPDX-License-Identifier: GPL-3.0-or-later
// The kinds of piece, to drag into the path or to add after what is picked.
#pragma once

#include "session.hpp"

#include <QAbstractListModel>
#include <QListView>

namespace bellmouth::ui {

/// Mime type of a kind that is dragged; the data is the index of the alternative of build::Shape as decimal
/// text.
inline constexpr auto piece_mime_type = "application/x-bellmouth-piece";

/// One row for each alternative of build::Shape.
class TrayModel : public QAbstractListModel {
  Q_OBJECT

public:
  explicit TrayModel(QObject* parent = nullptr);
  [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
  [[nodiscard]] Qt::ItemFlags flags(const QModelIndex& index) const override;
  [[nodiscard]] QStringList mimeTypes() const override;
  [[nodiscard]] QMimeData* mimeData(const QModelIndexList& indexes) const override;
};

class Tray : public QListView {
  Q_OBJECT

public:
  explicit Tray(Session& session, QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;

signals:
  void add_requested(std::size_t shape_index); ///< double click or Enter

protected:
  void keyPressEvent(QKeyEvent* event) override;
  void changeEvent(QEvent* event) override;
};

} // namespace bellmouth::ui
