// SPDX-License-Identifier: GPL-3.0-or-later
// The list of routes: a small picture of each, and its figures.
#pragma once

#include <bellmouth/way.hpp>

#include <QAbstractListModel>
#include <QImage>
#include <QListView>
#include <QString>
#include <QStringList>
#include <QStyledItemDelegate>

#include <optional>
#include <vector>

namespace bellmouth::ui {

struct RouteRow {
  way::Way way; ///< what it is recognised by
  QString title;
  QStringList lines;
  QImage picture;
  QString tip;
};

class RouteModel : public QAbstractListModel {
  Q_OBJECT

public:
  enum Role { title_role = Qt::UserRole + 1, lines_role, picture_role, faded_role };

  using QAbstractListModel::QAbstractListModel;
  void set_rows(std::vector<RouteRow> rows);
  /// Shows all as belonging to an older state.
  void set_faded(bool faded);
  [[nodiscard]] const std::vector<RouteRow>& rows() const { return rows_; }

  [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;

private:
  std::vector<RouteRow> rows_;
  bool faded_ = false;
};

class RouteDelegate : public QStyledItemDelegate {
  Q_OBJECT

public:
  using QStyledItemDelegate::QStyledItemDelegate;
  static constexpr QSize picture_size{96, 78};
  void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
  [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
};

/// One route is pointed at: the one under the pointer, else the current one. Escape lets go of it, Enter and
/// a double click take it.
class RouteList : public QListView {
  Q_OBJECT

public:
  explicit RouteList(QWidget* parent = nullptr);
  /// Shows other rows; the current route stays current where it is still there.
  void show_rows(std::vector<RouteRow> rows);
  void set_faded(bool faded);
  [[nodiscard]] std::optional<std::size_t> pointed_at() const;
  [[nodiscard]] std::optional<std::size_t> current() const;

signals:
  void pointed(); ///< pointed_at() is another
  void chosen();  ///< current() is another; not told where only its place among the rows has changed
  void taken(std::size_t route);

protected:
  void currentChanged(const QModelIndex& current, const QModelIndex& previous) override;
  void keyPressEvent(QKeyEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;
  bool viewportEvent(QEvent* event) override;

private:
  void point_at(const QModelIndex& hovered);
  void tell();

  RouteModel* model_;
  QPersistentModelIndex hovered_;
  std::optional<way::Way> told_; ///< that was pointed at last
  bool showing_ = false;         ///< other rows are being shown
};

} // namespace bellmouth::ui
