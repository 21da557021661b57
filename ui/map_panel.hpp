// SPDX-License-Identifier: GPL-3.0-or-later
// A blower's map in the editor: chart, points, files.
#pragma once

#include "map_picture.hpp"
#include "table_files.hpp"

#include <QWidget>

class QLabel;
class QTableView;
class QToolButton;

namespace bellmouth::ui {

class MapChart;
class WrappedLabel;

class MapPanel : public QWidget {
  Q_OBJECT

public:
  /// `without`: what is said while there is no map.
  MapPanel(TableFiles files, const QString& without, TableFileBar::Take take, TableFileBar::Give give,
           QWidget* parent = nullptr);
  void set_names(const QString& object_name, const QString& accessible_name);
  void show_picture(const std::optional<MapPicture>& picture);
  void complain(const QString& why);

private:
  void show_points(bool on);

  QString without_;
  WrappedLabel *summary_, *working_;
  QLabel* title_;
  WrappedLabel* key_;
  MapChart* chart_;
  QToolButton* more_;
  QTableView* table_;
  TextTableModel* model_;
  TableFileBar* bar_;
};

} // namespace bellmouth::ui
