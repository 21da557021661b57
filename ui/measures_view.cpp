// SPDX-License-Identifier: GPL-3.0-or-later
#include "measures_view.hpp"

#include "bay_sheets.hpp"
#include "bay_text.hpp"
#include "fact_list.hpp"
#include "movement_fields.hpp"
#include "photograph_list.hpp"
#include "sheet.hpp"
#include "state_list.hpp"
#include "theme.hpp"

#include <QMenu>
#include <QPushButton>
#include <QScrollArea>
#include <QTabBar>
#include <QTabWidget>
#include <QToolButton>

namespace bellmouth::ui {

namespace {

QVBoxLayout* column_in(QWidget* widget, int margin) {
  auto* column = new QVBoxLayout(widget);
  column->setContentsMargins(margin, margin, margin, margin);
  column->setSpacing(gap);
  return column;
}

QLabel* hint(const QString& text, QWidget* parent) {
  auto* label = new QLabel(text, parent);
  label->setFont(small_font());
  label->setForegroundRole(QPalette::PlaceholderText);
  label->setWordWrap(true);
  return label;
}

} // namespace

MeasuresView::MeasuresView(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), pages_(new QTabWidget(this)) {
  setObjectName("measures_view");
  pages_->setObjectName("measures_pages");
  pages_->setDocumentMode(true);
  pages_->setAccessibleName(tr("Measures of the bay"));
  pages_->tabBar()->setAccessibleName(tr("Measures of the bay"));
  pages_->addTab(ports_page(), tr("Ports"));
  pages_->addTab(keep_outs_page(), tr("Keep-outs"));
  pages_->addTab(movement_page(), tr("Movement and clearances"));
  photographs_ = new PhotographList(session_);
  connect(photographs_, &PhotographList::add_requested, this, &MeasuresView::photograph_requested);
  pages_->addTab(photographs_, tr("Photographs"));
  pages_->setCornerWidget(corner());
  auto* column = column_in(this, gap);
  column->addWidget(pages_);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (!(changes & (Changes(Change::document) | Change::selection)))
      return;
    if (!isVisible()) { // no drag in another view waits for what nobody sees
      if (changes & Change::document)
        refresh_tables(false);
      stale_ = true;
      return;
    }
    if (changes & Change::document)
      refresh();
    show_picked();
  });
  refresh();
  show_picked();
}

QWidget* MeasuresView::ports_page() {
  auto* page = new QWidget;
  ports_ = new Sheet(
      "ports", tr("Ports"),
      tr("This build has no ports. They come with machines: start a new build from a recipe."),
      [this] { return port_columns(session_); }, [this] { return port_keys(session_); }, page);
  connect(ports_, &Sheet::picked, this, [this](int row) {
    session_.select(PickedPort{session_.build().ports.at(static_cast<std::size_t>(row)).id});
  });
  connect(ports_, &Sheet::unpicked, this, [this] {
    if (std::holds_alternative<PickedPort>(session_.selection()))
      session_.select(std::monostate{});
  });
  auto* column = column_in(page, 0);
  ports_hint_ = hint({}, page);
  column->addWidget(ports_hint_);
  column->addWidget(ports_, 1);
  return page;
}

QWidget* MeasuresView::keep_outs_page() {
  auto* page = new QWidget;
  keep_outs_ = new Sheet(
      "keep_outs", tr("Keep-outs"),
      tr("No keep-outs yet: nothing that the ducting must stay clear of.\n\nAdd a box for the battery, a "
         "cylinder for a pulley or the exhaust, a half-space for the line of the bonnet or the ground, or "
         "a scan of the bay."),
      [this] { return keep_out_columns(session_); }, [this] { return keep_out_keys(session_); }, page);
  connect(keep_outs_, &Sheet::picked, this,
          [this](int row) { session_.select(PickedKeepOut{static_cast<std::size_t>(row)}); });

  connect(keep_outs_, &Sheet::unpicked, this, [this] {
    if (picked())
      session_.select(std::monostate{});
  });

  auto* add_button = new QToolButton(page);
  add_button->setObjectName("add_keep_out");
  add_button->setText(tr("Add"));
  add_button->setAccessibleName(tr("Add a keep-out"));
  add_button->setToolButtonStyle(Qt::ToolButtonTextOnly);
  add_button->setPopupMode(QToolButton::InstantPopup);
  add_button->setFocusPolicy(Qt::StrongFocus);
  auto* menu = new QMenu(add_button);
  menu->setObjectName("add_keep_out_menu");
  const auto item = [&](const char* name, const QString& text, auto run) {
    QAction* action = menu->addAction(text);
    action->setObjectName(name);
    connect(action, &QAction::triggered, this, run);
  };
  item("add_box", tr("Box"), [this] { add(NewShape::box); });
  item("add_cylinder", tr("Cylinder"), [this] { add(NewShape::cylinder); });
  item("add_sphere", tr("Sphere"), [this] { add(NewShape::sphere); });
  item("add_half_space", tr("Half-space: all beyond a plane"), [this] { add(NewShape::half_space); });
  menu->addSeparator();
  item("add_scan", tr("Scan of the bay…"), [this] { emit scan_requested(); });
  add_button->setMenu(menu);

  const auto button = [&](const char* name, const QString& text, const QString& tip, auto run) {
    auto* made = new QPushButton(text, page);
    made->setObjectName(name);
    made->setAccessibleName(tip);
    made->setToolTip(tip);
    connect(made, &QPushButton::clicked, this, run);
    return made;
  };
  duplicate_ = button("duplicate_keep_out", tr("Duplicate"), tr("Put a copy behind the picked keep-out"),
                      [this] { duplicate(); });
  mirror_ = button("mirror_keep_out", tr("Mirror"), tr("Put a copy on the other side of the mirror's plane"),
                   [this] { mirror(); });
  remove_ = button("remove_keep_out", tr("Remove"), tr("Remove the picked keep-out"), [this] { remove(); });
  auto* row = new QHBoxLayout;
  row->setSpacing(gap);
  for (QWidget* each : std::initializer_list<QWidget*>{add_button, duplicate_, mirror_, remove_})
    row->addWidget(each);
  keep_outs_hint_ = hint({}, page);
  row->addWidget(keep_outs_hint_, 1);
  auto* column = column_in(page, 0);
  column->addLayout(row);
  column->addWidget(keep_outs_, 1);
  return page;
}

QWidget* MeasuresView::movement_page() {
  auto* area = new QScrollArea;
  area->setWidgetResizable(true);
  area->setFrameShape(QFrame::NoFrame);
  area->setFocusPolicy(Qt::NoFocus);
  auto* content = new QWidget;
  auto* row = new QHBoxLayout(content);
  row->setContentsMargins(0, gap, gap, 0);
  row->setSpacing(2 * wide_gap);
  const BuildNow now = [this]() -> const build::Build& { return session_.build(); };
  const auto part = [&](const QString& title, std::vector<FormRow<build::Build>> rows) {
    auto* box = new QWidget(content);
    auto* column = column_in(box, 0);
    column->addWidget(heading(title, box));
    forms_.push_back(std::make_unique<Form<build::Build>>(
        "measures", std::move(rows), [this](build::Build next, const QString& key, const QString& label) {
          return session_.apply(std::move(next), tr("Change %1").arg(label.toLower()),
                                key.isEmpty() ? QString() : "measures/" + key);
        }));
    column->addWidget(forms_.back()->widget());
    row->addWidget(box, 1);
    return column;
  };
  part(tr("Engine on its mounts"), movement_fields(now))->addStretch(1);
  QVBoxLayout* clearances = part(tr("Clearance by class"), clearance_fields());
  usual_ = new QPushButton(tr("Back to the usual"), content);
  usual_->setObjectName("usual_clearances");
  usual_->setToolTip(tr("Take the usual clearances of all classes again"));
  connect(usual_, &QPushButton::clicked, this, &MeasuresView::use_usual_clearances);
  clearances->addWidget(usual_, 0, Qt::AlignLeft);
  clearances->addStretch(1);
  auto* box = new QWidget(content);
  QVBoxLayout* column = column_in(box, 0);
  column->addWidget(heading(tr("States of the bay"), box));
  states_ = new StateList(session_, box);
  column->addWidget(states_, 1);
  row->addWidget(box, 1);
  area->setWidget(content);
  return area;
}

QWidget* MeasuresView::corner() {
  auto* box = new QWidget(pages_);
  auto* row = new QHBoxLayout(box);
  row->setContentsMargins(0, 0, 0, 2);
  row->setSpacing(gap);
  const QString tip = tr("Where the plane of the mirror stands, to the left of the origin");
  auto* label = new QLabel(tr("Mirror’s plane, left"), box);
  label->setToolTip(tip);
  plane_ = new QuantityEdit(QuantityKind{}, box);
  plane_->set_names("mirror_plane", tr("Plane of the mirror, to the left of the origin"));
  plane_->set_compact(tip);
  plane_->setFixedWidth(90);
  plane_->set_value(0.0);
  connect(plane_, &QuantityEdit::complained, this, &MeasuresView::message);
  mirror_bay_ = new QPushButton(tr("Mirror the whole bay"), box);
  mirror_bay_->setObjectName("mirror_bay");
  mirror_bay_->setToolTip(
      tr("Ports, keep-outs, the engine's axis and each bend's clocking change sides, as for the "
         "left- or right-hand version of a car; photographs go"));
  connect(mirror_bay_, &QPushButton::clicked, this, &MeasuresView::mirror_bay);
  for (QWidget* each : std::initializer_list<QWidget*>{label, plane_, mirror_bay_})
    row->addWidget(each);
  return box;
}

void MeasuresView::refresh() {
  const build::Build& build = session_.build();
  ports_hint_->setText(tr("All lengths in %1. In any of its three cells a whole place can be typed in words: "
                          "“120 mm below and 40 mm left of blower out”.")
                           .arg(length_unit()));
  keep_outs_hint_->setText(
      tr("All lengths in %1. Sizes: box length × width × height, cylinder ⌀ × length, sphere "
         "⌀. Places also in words, as from a port.")
          .arg(length_unit()));
  refresh_tables(!session_.previewing());
  for (const auto& form : forms_)
    form->show(build);
  plane_->set_value(plane_->value());
  usual_->setEnabled(build.clearances.has_value());
  const auto counted = [](const QString& title, std::size_t count) {
    return count == 0 ? title : QString("%1 (%2)").arg(title).arg(count);
  };
  pages_->setTabText(0, counted(tr("Ports"), build.ports.size()));
  pages_->setTabText(1, counted(tr("Keep-outs"), build.keep_outs.size()));
  pages_->setTabText(3, counted(tr("Photographs"), build.photographs.size()));
}

void MeasuresView::refresh_tables(bool fit) {
  ports_->refresh(fit);
  keep_outs_->refresh(fit);
  states_->refresh(fit);
  photographs_->refresh(fit);
}

void MeasuresView::showEvent(QShowEvent* event) {
  QWidget::showEvent(event);
  if (!stale_)
    return;
  stale_ = false;
  refresh();
  show_picked();
}

void MeasuresView::show_picked() {
  const auto* port = std::get_if<PickedPort>(&session_.selection());
  std::optional<int> row;
  const auto& ports = session_.build().ports;
  for (std::size_t i = 0; port != nullptr && i < ports.size(); ++i)
    if (ports[i].id == port->port)
      row = static_cast<int>(i);
  ports_->show_picked(row);
  const auto keep_out = picked();
  keep_outs_->show_picked(keep_out ? std::optional(static_cast<int>(*keep_out)) : std::nullopt);
  if (row || keep_out)
    pages_->setCurrentIndex(row ? 0 : 1);
  refresh_buttons();
}

void MeasuresView::refresh_buttons() {
  for (QPushButton* button : {duplicate_, mirror_, remove_})
    button->setEnabled(picked().has_value());
}

std::optional<std::size_t> MeasuresView::picked() const {
  const auto* keep_out = std::get_if<PickedKeepOut>(&session_.selection());
  return keep_out == nullptr ? std::nullopt : std::optional(keep_out->index);
}

void MeasuresView::insert(std::size_t before, build::KeepOut keep_out, const QString& what) {
  if (const auto error =
          session_.apply(build::with_keep_out_inserted(session_.build(), before, std::move(keep_out)), what))
    emit message(complaint(*error));
  else
    session_.select(PickedKeepOut{before});
}

void MeasuresView::add(NewShape shape) {
  build::KeepOut made = new_keep_out(session_.build(), shape);
  const QString name = QString::fromStdString(made.name);
  insert(session_.build().keep_outs.size(), std::move(made), tr("Add %1").arg(name));
  emit message(tr("%1 lies below the ports until you type its place and size").arg(name));
}

void MeasuresView::duplicate() {
  const auto at = picked();
  if (!at)
    return;
  build::KeepOut copy = session_.build().keep_outs[*at];
  if (!copy.name.empty())
    copy.name = tr("%1, copy").arg(QString::fromStdString(copy.name)).toStdString();
  insert(*at + 1, std::move(copy), tr("Duplicate %1").arg(keep_out_title(session_.build(), *at)));
}

void MeasuresView::mirror() {
  if (const auto at = picked())
    insert(*at + 1, mirror_copy(session_.build().keep_outs[*at], *plane_->value()),
           tr("Mirror %1").arg(keep_out_title(session_.build(), *at)));
}

void MeasuresView::remove() {
  const auto at = picked();
  if (!at)
    return;
  const QString what = tr("Remove %1").arg(keep_out_title(session_.build(), *at));
  if (const auto error = session_.apply(build::with_keep_out_removed(session_.build(), *at), what))
    emit message(complaint(*error));
}

void MeasuresView::mirror_bay() {
  const bool photographs = !session_.build().photographs.empty();
  if (const auto error = session_.apply(build::with_bay_mirrored(session_.build(), *plane_->value()),
                                        tr("Mirror the whole bay")))
    emit message(complaint(*error));
  else
    emit message(photographs ? tr("The bay and all runs are mirrored; the photographs were taken out")
                             : tr("The bay and all runs are mirrored"));
}

void MeasuresView::use_usual_clearances() {
  // The usual ones are valid.
  [[maybe_unused]] const auto error =
      session_.apply(build::with_clearances(session_.build(), std::nullopt), tr("Take the usual clearances"));
}

} // namespace bellmouth::ui
