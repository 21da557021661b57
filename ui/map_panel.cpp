// SPDX-License-Identifier: GPL-3.0-or-later
#include "map_panel.hpp"

#include "map_chart.hpp"
#include "theme.hpp"
#include "wrapped_label.hpp"

#include <QHeaderView>
#include <QTableView>
#include <QToolButton>
#include <QVBoxLayout>

namespace bellmouth::ui {

namespace {

constexpr int table_height_px = 220;

} // namespace

MapPanel::MapPanel(TableFiles files, const QString& without, TableFileBar::Take take, TableFileBar::Give give,
                   QWidget* parent)
    : QWidget(parent), without_(without), summary_(new WrappedLabel(this)), working_(new WrappedLabel(this)),
      title_(new QLabel(this)), key_(new WrappedLabel(this)), chart_(new MapChart(this)),
      more_(new QToolButton(this)), table_(new QTableView(this)), model_(new TextTableModel(this)),
      bar_(new TableFileBar(std::move(files), tr("map.csv"), std::move(take), std::move(give), this)) {
  for (QLabel* label : std::initializer_list<QLabel*>{title_, key_})
    label->setFont(small_font());
  key_->setForegroundRole(QPalette::PlaceholderText);
  more_->setText(tr("Points of the map"));
  more_->setToolTip(tr("Shows the measured points as a table"));
  more_->setCheckable(true);
  more_->setAutoRaise(true);
  more_->setArrowType(Qt::RightArrow);
  more_->setToolButtonStyle(Qt::ToolButtonTextBesideIcon);
  more_->setFocusPolicy(Qt::StrongFocus);
  table_->setModel(model_);
  table_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  table_->setSelectionBehavior(QAbstractItemView::SelectRows);
  table_->setTabKeyNavigation(false);
  table_->setFont(small_font());
  table_->verticalHeader()->hide();
  table_->verticalHeader()->setDefaultSectionSize(QFontMetrics(small_font()).height() + 6);
  table_->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
  table_->setFixedHeight(table_height_px);
  table_->hide();
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, gap, 0, gap);
  column->setSpacing(gap);
  for (QWidget* part :
       std::initializer_list<QWidget*>{summary_, title_, chart_, key_, working_, bar_, more_, table_})
    column->addWidget(part);
  setFocusProxy(bar_);
  connect(more_, &QToolButton::toggled, this, &MapPanel::show_points);
}

void MapPanel::set_names(const QString& object_name, const QString& accessible_name) {
  setObjectName(object_name);
  summary_->setObjectName(object_name + "_summary");
  working_->setObjectName(object_name + "_working");
  chart_->setObjectName(object_name + "_chart");
  more_->setObjectName(object_name + "_points");
  more_->setAccessibleName(tr("Show the points of %1").arg(accessible_name));
  table_->setObjectName(object_name + "_table");
  table_->setAccessibleName(tr("Points of %1").arg(accessible_name));
  bar_->set_names(object_name, accessible_name);
}

void MapPanel::show_picture(const std::optional<MapPicture>& picture) {
  const bool there = picture.has_value();
  summary_->set_text(there ? picture->summary : without_);
  for (QWidget* part : std::initializer_list<QWidget*>{title_, chart_, key_, more_})
    part->setVisible(there);
  working_->setVisible(there && !picture->working_words.isEmpty());
  table_->setVisible(there && more_->isChecked());
  bar_->set_can_write(there);
  bar_->complain({});
  if (!there)
    return;
  title_->setText(picture->title);
  key_->set_text(picture->key);
  working_->set_text(picture->working_words);
  chart_->show_picture(*picture);
  model_->set_table(picture->points.header, picture->points.rows);
}

void MapPanel::complain(const QString& why) {
  bar_->complain(why);
}

void MapPanel::show_points(bool on) {
  more_->setArrowType(on ? Qt::DownArrow : Qt::RightArrow);
  table_->setVisible(on);
}

} // namespace bellmouth::ui
