// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_view.hpp"

#include "form.hpp"
#include "piece_text.hpp"
#include "theme.hpp"

#include <QComboBox>
#include <QEvent>
#include <QLabel>
#include <QPushButton>
#include <QSlider>
#include <QToolBar>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>
#include <array>

namespace bellmouth::ui {

namespace {

constexpr int share_steps = 200;
constexpr int widest_chooser_px = 130;

void name(QWidget& widget, const QString& object_name, const QString& accessible_name, const QString& tip) {
  widget.setObjectName(object_name);
  widget.setAccessibleName(accessible_name);
  widget.setToolTip(tip);
}

QToolButton* made_button(const QString& text, const QString& object_name, const QString& tip, bool checkable,
                         QWidget* parent) {
  auto* made = new QToolButton(parent);
  made->setText(text);
  made->setCheckable(checkable);
  made->setFocusPolicy(Qt::TabFocus);
  name(*made, object_name, text, tip);
  return made;
}

} // namespace

BayView::BayView(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), canvas_(new BayCanvas(session)), tools_(new QToolBar) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(0);
  column->addWidget(tools_);
  column->addWidget(canvas_, 1);
  setFocusProxy(canvas_);
  make_tools();
  make_section_plate();
  make_empty_words();
  make_offer();
  connect(canvas_, &BayCanvas::edit_requested, this, &BayView::edit_requested);
  connect(canvas_, &BayCanvas::message, this, &BayView::message);
  connect(canvas_, &BayCanvas::routes_requested, this, &BayView::routes_requested);
  connect(canvas_, &BayCanvas::pass_requested, this, &BayView::pass_requested);
  connect(canvas_, &BayCanvas::look_changed, this, &BayView::refresh_look);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & (Changes(Change::document) | Change::evaluation | Change::bay_state))
      refresh();
  });
  refresh();
  refresh_look();
}

void BayView::make_tools() {
  tools_->setObjectName("bay_tools");
  tools_->setMovable(false);
  tools_->setContextMenuPolicy(Qt::PreventContextMenu);
  const auto button = [&](const QString& text, const QString& object_name, const QString& tip,
                          bool checkable) { return made_button(text, object_name, tip, checkable, tools_); };
  auto* fit = button(tr("Fit"), "bay_fit", tr("Show everything (F); what is picked: Shift+F"), false);
  connect(fit, &QToolButton::clicked, canvas_, &BayCanvas::fit_all);
  tools_->addWidget(fit);
  tools_->addSeparator();
  using enum scene::StandardView;
  struct Side {
    scene::StandardView view;
    QString text, object_name;
  };
  const std::array sides{Side{front, tr("Front"), "bay_front"}, Side{rear, tr("Rear"), "bay_rear"},
                         Side{left, tr("Left"), "bay_left"},    Side{right, tr("Right"), "bay_right"},
                         Side{above, tr("Above"), "bay_above"}, Side{below, tr("Below"), "bay_below"}};
  int key = 1;
  for (const Side& side : sides) {
    auto* made =
        button(side.text, side.object_name, tr("Look from this side (%1); slantwise: 0").arg(key++), false);
    connect(made, &QToolButton::clicked, this, [this, view = side.view] { canvas_->look_from(view); });
    tools_->addWidget(made);
  }
  perspective_ = button(tr("Perspective"), "bay_perspective",
                        tr("Farther things look smaller (P); without it all is to one scale"), true);
  connect(perspective_, &QToolButton::clicked, canvas_, &BayCanvas::set_perspective);
  tools_->addWidget(perspective_);
  tools_->addSeparator();
  measure_ = button(tr("Measure"), "bay_measure",
                    tr("Click on two points to read how far apart they are (M); Escape ends it"), true);
  connect(measure_, &QToolButton::clicked, canvas_, &BayCanvas::set_measuring);
  tools_->addWidget(measure_);
  colouring_ = new ComboBox(tools_);
  for (const BayColouring colouring : all_bay_colourings)
    colouring_->addItem(tr("Colour: %1").arg(bay_colouring_name(colouring)));
  name(*colouring_, "bay_colouring", tr("What the colours say"), tr("What the colours of the pieces say"));
  connect(colouring_, &QComboBox::activated, this,
          [this](int index) { canvas_->set_colouring(all_bay_colourings[static_cast<std::size_t>(index)]); });
  tools_->addWidget(colouring_);
  section_ = new ComboBox(tools_);
  section_->addItems({tr("Whole"), tr("Cut across"), tr("Cut lengthwise"), tr("Cut level")});
  name(*section_, "bay_section", tr("Section"), tr("Cut the bay open: square to forward, to left, or to up"));
  connect(section_, &QComboBox::activated, this, &BayView::change_section);
  tools_->addWidget(section_);
  states_ = new ComboBox(tools_);
  name(*states_, "bay_state", tr("State of the bay"), tr("The state in which the bay is shown"));
  connect(states_, &QComboBox::activated, this, [this](int index) {
    const QString id = states_->itemData(index).toString();
    session_.show_bay_state(id.isEmpty() ? std::nullopt : std::optional(build::StateId{id.toStdString()}));
  });
  states_action_ = tools_->addWidget(states_);
  photographs_ =
      button(tr("Photograph"), "bay_photographs",
             tr("Photographs lie under the bay, seen from their own side without perspective"), true);
  connect(photographs_, &QToolButton::clicked, canvas_, &BayCanvas::set_photographs_shown);
  photographs_action_ = tools_->addWidget(photographs_);
  for (QComboBox* chooser : {colouring_, section_})
    chooser->setMaximumWidth(widest_chooser_px);
  states_->setMaximumWidth(widest_chooser_px + 30);
  // What finds no room stands behind this button.
  if (auto* more = tools_->findChild<QToolButton*>("qt_toolbar_ext_button"))
    more->setAccessibleName(tr("More tools of the bay"));
}

void BayView::make_section_plate() {
  section_plate_ = new QWidget(canvas_);
  section_plate_->setAutoFillBackground(true);
  auto* row = new QHBoxLayout(section_plate_);
  row->setContentsMargins(gap, 2, gap, 2);
  row->addWidget(new QLabel(tr("Cut at")));
  section_share_ = new QSlider(Qt::Horizontal);
  section_share_->setRange(0, share_steps);
  section_share_->setValue(share_steps / 2);
  section_share_->setFixedWidth(220);
  name(*section_share_, "bay_section_place", tr("Place of the section"), tr("Where the bay is cut"));
  connect(section_share_, &QSlider::valueChanged, this, &BayView::change_section);
  row->addWidget(section_share_);
  other_side_ = made_button(tr("Other half"), "bay_section_side", tr("Show what the section takes away"),
                            true, section_plate_);
  connect(other_side_, &QToolButton::clicked, this, &BayView::change_section);
  row->addWidget(other_side_);
}

void BayView::make_empty_words() {
  empty_ = new QWidget(canvas_);
  empty_->setObjectName("bay_empty");
  auto* column = new QVBoxLayout(empty_);
  column->setSpacing(wide_gap);
  empty_words_ =
      new QLabel(tr("No port is measured yet. Say where the ports are and which way they point: the "
                    "runs that begin there are drawn here, and how far each ends off its port."));
  empty_words_->setObjectName("bay_empty_words");
  empty_words_->setWordWrap(true);
  empty_words_->setAlignment(Qt::AlignCenter);
  auto* measure = new QPushButton(tr("Measure the ports"));
  name(*measure, "measure_ports", tr("Measure the ports"), tr("Go to the first port that is not measured"));
  connect(measure, &QPushButton::clicked, this, &BayView::measure_ports_requested);
  column->addWidget(empty_words_);
  column->addWidget(measure, 0, Qt::AlignHCenter);
}

void BayView::make_offer() {
  offer_ = new QWidget(canvas_);
  offer_->setObjectName("bay_offer");
  offer_->setAutoFillBackground(true);
  offer_words_ = new QLabel;
  auto* find = new QPushButton(tr("Find routes"));
  name(*find, "bay_find_routes", tr("Find routes for the run without pieces"),
       tr("Find ways from port to port with pieces from stock, clear of everything"));
  connect(find, &QPushButton::clicked, this, [this] { emit routes_requested(offered_); });
  auto* row = new QHBoxLayout(offer_);
  row->setContentsMargins(gap, 2, gap, 2);
  row->addWidget(offer_words_);
  row->addWidget(find);
}

void BayView::refresh() {
  empty_->setVisible(!canvas_->ports_measured());
  const auto& runs = session_.build().find(session_.option())->runs;
  const auto bare = std::ranges::find_if(runs, [this](const auto& run) {
    return run->pieces.empty() && session_.build().find(run->from)->pose &&
           session_.build().find(run->to)->pose;
  });
  offer_->setVisible(bare != runs.end());
  if (bare != runs.end()) {
    offered_ = (*bare)->id;
    offer_words_->setText(tr("%1 has no pieces yet").arg(run_name(offered_)));
  }
  place_plates();
  refresh_states();
  photographs_action_->setVisible(!session_.build().photographs.empty());
}

void BayView::refresh_states() {
  const QSignalBlocker quiet(states_);
  states_->clear();
  states_->addItem(tr("At rest"), QString());
  for (const build::BayState& state : session_.build().states) {
    const QString id = QString::fromStdString(state.id.text);
    states_->addItem(QString(id).replace('_', ' '), id);
    if (session_.bay_state() == state.id)
      states_->setCurrentIndex(states_->count() - 1);
  }
  states_action_->setVisible(!session_.build().states.empty());
}

void BayView::refresh_look() {
  perspective_->setChecked(canvas_->lookout().camera.perspective);
  measure_->setChecked(canvas_->measuring());
  photographs_->setChecked(canvas_->photographs_shown());
  colouring_->setCurrentIndex(static_cast<int>(std::ranges::find(all_bay_colourings, canvas_->colouring()) -
                                               all_bay_colourings.begin()));
  section_plate_->setVisible(canvas_->section().has_value());
  place_plates();
}

void BayView::change_section() {
  const int axis = section_->currentIndex() - 1;
  canvas_->set_section(
      axis < 0 ? std::nullopt
               : std::optional(BaySection{static_cast<std::size_t>(axis),
                                          static_cast<double>(section_share_->value()) / share_steps,
                                          other_side_->isChecked()}));
}

void BayView::place_plates() {
  const int width = std::min(460, std::max(240, canvas_->width() - 40));
  const int height =
      empty_->hasHeightForWidth() ? empty_->heightForWidth(width) : empty_->sizeHint().height();
  empty_->setGeometry((canvas_->width() - width) / 2, std::max(0, (canvas_->height() - height) / 2), width,
                      height);
  const QSize plate = section_plate_->sizeHint();
  const QSize offer = offer_->sizeHint();
  offer_->setGeometry((canvas_->width() - offer.width()) / 2, gap, offer.width(), offer.height());
  section_plate_->setGeometry((canvas_->width() - plate.width()) / 2,
                              canvas_->height() - plate.height() - gap, plate.width(), plate.height());
}

void BayView::resizeEvent(QResizeEvent* event) {
  QWidget::resizeEvent(event);
  layout()->activate();
  place_plates();
}

void BayView::changeEvent(QEvent* event) {
  QWidget::changeEvent(event);
  if (event->type() == QEvent::FontChange)
    place_plates();
}

} // namespace bellmouth::ui
