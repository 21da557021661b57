// SPDX-License-Identifier: GPL-3.0-or-later
#include "chain_view.hpp"

#include "chain_paint.hpp"
#include "piece_text.hpp"
#include "units.hpp"

#include <QAccessible>
#include <QHelpEvent>
#include <QKeyEvent>
#include <QPainter>
#include <QScrollBar>
#include <QToolTip>
#include <QWheelEvent>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

/// What the colours of the strip under the runs mean. Stands below the drawing, so that it never covers a
/// label.
class VelocityKey final : public QWidget {
public:
  static constexpr int height_px = 20;
  using QWidget::QWidget;

protected:
  void paintEvent(QPaintEvent*) override {
    QPainter painter(this);
    painter.fillRect(rect(), theme().panel);
    paint_velocity_key(painter, QRectF(rect()).adjusted(0, 0, -wide_gap, 0), theme());
  }
};

} // namespace

ChainView::ChainView(Session& session, QWidget* parent) : QAbstractScrollArea(parent), session_(session) {
  setObjectName("chain_view");
  setAccessibleName("Air path");
  setFocusPolicy(Qt::StrongFocus);
  setAcceptDrops(true);
  setFrameShape(QFrame::NoFrame);
  setViewportMargins(0, 0, 0, VelocityKey::height_px);
  velocity_key_ = new VelocityKey(this);
  viewport()->setMouseTracking(true);
  viewport()->setAcceptDrops(true);
  connect(&session_, &Session::changed, this, &ChainView::on_changed);
  relayout();
  tell_selection();
}

QSize ChainView::sizeHint() const {
  return {900, 380};
}
QSize ChainView::minimumSizeHint() const {
  return {320, 150};
}

QPointF ChainView::drawing_to_viewport(QPointF point) const {
  return point - QPointF(horizontalScrollBar()->value(), verticalScrollBar()->value());
}
QPointF ChainView::to_drawing(QPointF viewport_point) const {
  return viewport_point + QPointF(horizontalScrollBar()->value(), verticalScrollBar()->value());
}

// ---------------------------------------------------------------- layout and scale

void ChainView::on_changed(Changes changes) {
  if (changes & (Change::document | Change::evaluation))
    relayout();
  if (changes & (Change::document | Change::evaluation | Change::selection)) {
    if (changes & Change::selection)
      reveal_selection();
    tell_selection();
    viewport()->update();
  }
}

void ChainView::relayout() {
  const double width = viewport()->width(), height = viewport()->height();
  const QFontMetricsF metrics(small_font());
  const auto lay_out = [&] {
    chain_ = lay_out_chain(session_.build(), session_.evaluation(), scale_px_m_, height, metrics);
  };
  if (scale_px_m_ > 0)
    lay_out();
  // A fitted path keeps its scale through small changes and while something is dragged, so that the drawing
  // stays still.
  const bool fits = scale_px_m_ > 0 && chain_.width <= width && chain_.width >= 0.9 * width;
  if (scale_px_m_ <= 0 || (fitted_ && !fits && !value_drag_)) {
    scale_px_m_ = fitting_scale_px_m(session_.build(), session_.evaluation(), width - 1);
    lay_out();
  }
  hovered_.reset();
  update_bars();
}

void ChainView::update_bars() {
  const auto set = [](QScrollBar* bar, double content, int room) {
    bar->setRange(0, std::max(0, static_cast<int>(std::floor(content + 0.01)) - room));
    bar->setPageStep(room);
    bar->setSingleStep(24);
  };
  set(horizontalScrollBar(), chain_.width, viewport()->width());
  set(verticalScrollBar(), chain_.height, viewport()->height());
}

void ChainView::set_scale(double px_m, double keep_viewport_x) {
  const double new_scale = std::clamp(px_m, lowest_scale_px_m, highest_scale_px_m);
  const double share =
      chain_.width > 0 ? (keep_viewport_x + horizontalScrollBar()->value()) / chain_.width : 0;
  fitted_ = false;
  scale_px_m_ = new_scale;
  relayout();
  horizontalScrollBar()->setValue(static_cast<int>(share * chain_.width - keep_viewport_x));
  viewport()->update();
}

void ChainView::zoom_by(double factor) {
  set_scale(scale_px_m_ * factor, viewport()->width() / 2.0);
}

void ChainView::zoom_to_fit() {
  fitted_ = true;
  scale_px_m_ = 0;
  relayout();
  viewport()->update();
}

void ChainView::resizeEvent(QResizeEvent* event) {
  QAbstractScrollArea::resizeEvent(event);
  const QRect drawing = viewport()->geometry();
  velocity_key_->setGeometry(drawing.left(), drawing.bottom() + 1, drawing.width(), VelocityKey::height_px);
  if (fitted_ && !value_drag_)
    scale_px_m_ = 0;
  relayout();
}

void ChainView::changeEvent(QEvent* event) {
  QAbstractScrollArea::changeEvent(event);
  if (event->type() == QEvent::FontChange)
    relayout();
  if (event->type() == QEvent::PaletteChange || event->type() == QEvent::FontChange) {
    viewport()->update();
    velocity_key_->update();
  }
}

void ChainView::paintEvent(QPaintEvent*) {
  QPainter painter(viewport());
  const Theme& colours = theme();
  painter.fillRect(viewport()->rect(), colours.panel);
  const QPointF origin = to_drawing({0, 0});
  painter.translate(-origin);
  ChainScene scene{session_.build(), session_.evaluation(), chain_, session_.selection(), colours,
                   hasFocus()};
  scene.hovered = hovered_;
  scene.drop = drop_;
  if (value_drag_ && session_.previewing())
    scene.length_read_out = show_length(value_drag_->shown_m);
  paint_chain(painter, scene, QRectF(origin, viewport()->size()));
}

// ---------------------------------------------------------------- selection

std::optional<Selection> ChainView::picked_at(QPointF point) const {
  if (const auto item = chain_.item_at(point))
    return selection_of(chain_.items[*item]);
  for (const ChainRun& run : chain_.runs)
    if (point.x() >= run.left && point.x() <= run.right && std::abs(point.y() - chain_.dimension_y + 6) < 14)
      return PickedRun{run.run};
  return std::nullopt;
}

void ChainView::select_item(std::size_t item) {
  if (const auto selection = selection_of(chain_.items[item]))
    session_.select(*selection);
}

void ChainView::step_selection(int step) {
  const auto count = static_cast<int>(chain_.items.size());
  const auto now = selected_item(chain_, session_.selection());
  int next = now ? static_cast<int>(*now) + step : step > 0 ? 0 : count - 1;
  while (next >= 0 && next < count && !selection_of(chain_.items[static_cast<std::size_t>(next)]))
    next += step;
  if (next >= 0 && next < count)
    select_item(static_cast<std::size_t>(next));
}

void ChainView::reveal_selection() {
  const auto item = selected_item(chain_, session_.selection());
  if (!item)
    return;
  const QRectF& body = chain_.items[*item].body;
  QScrollBar* bar = horizontalScrollBar();
  constexpr double air_px = 40;
  if (body.left() - air_px < bar->value())
    bar->setValue(static_cast<int>(body.left() - air_px));
  else if (body.right() + air_px > bar->value() + viewport()->width())
    bar->setValue(static_cast<int>(body.right() + air_px) - viewport()->width());
}

void ChainView::tell_selection() {
  QString text = "nothing selected";
  if (const auto index = selected_item(chain_, session_.selection())) {
    const ChainItem& item = chain_.items[*index];
    text = item.kind == ChainItem::Kind::empty_run ? run_name(item.run) + ": no pieces yet"
                                                   : item.title + ", " + item.size;
    if (item.kind == ChainItem::Kind::piece)
      text = run_name(item.run) + QString(", row %1: ").arg(item.row + 1) + text;
    for (const check::Finding& finding : session_.evaluation().findings)
      if (!finding.waived && finding.where.piece && item.kind == ChainItem::Kind::piece &&
          finding.where.piece->run == item.run && finding.where.piece->row == item.row)
        text += ". " + QString::fromStdString(finding.message);
  } else if (const auto* run = std::get_if<PickedRun>(&session_.selection())) {
    text = "run " + run_name(run->run);
  }
  if (text == accessibleDescription())
    return;
  setAccessibleDescription(text);
  QAccessibleValueChangeEvent event(this, text);
  QAccessible::updateAccessibility(&event);
}

// ---------------------------------------------------------------- keys and focus

void ChainView::keyPressEvent(QKeyEvent* event) {
  if (event->key() == Qt::Key_Escape && (value_drag_ || move_drag_)) {
    cancel_drag();
    return;
  }
  if (event->modifiers() & (Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier)) {
    event->ignore();
    return;
  }
  constexpr double zoom_step = 1.25;
  switch (event->key()) {
  case Qt::Key_Left:
    step_selection(-1);
    break;
  case Qt::Key_Right:
    step_selection(1);
    break;
  case Qt::Key_Home:
    session_.select(std::monostate{});
    step_selection(1);
    break;
  case Qt::Key_End:
    session_.select(std::monostate{});
    step_selection(-1);
    break;
  case Qt::Key_Plus:
  case Qt::Key_Equal:
    zoom_by(zoom_step);
    break;
  case Qt::Key_Minus:
    zoom_by(1 / zoom_step);
    break;
  case Qt::Key_F:
    zoom_to_fit();
    break;
  case Qt::Key_Return:
  case Qt::Key_Enter:
    emit edit_requested();
    break;
  default:
    event->ignore();
  }
}

void ChainView::focusInEvent(QFocusEvent* event) {
  QAbstractScrollArea::focusInEvent(event);
  viewport()->update();
}
void ChainView::focusOutEvent(QFocusEvent* event) {
  QAbstractScrollArea::focusOutEvent(event);
  viewport()->update();
}

bool ChainView::viewportEvent(QEvent* event) {
  if (event->type() == QEvent::Leave && hovered_) {
    hovered_.reset();
    viewport()->update();
  }
  if (event->type() != QEvent::ToolTip)
    return QAbstractScrollArea::viewportEvent(event);
  const auto* help = static_cast<const QHelpEvent*>(event);
  const auto index = chain_.item_at(to_drawing(help->pos()));
  QString text;
  if (index) {
    const ChainItem& item = chain_.items[*index];
    const build::Build& build = session_.build();
    if (item.kind == ChainItem::Kind::piece) {
      const build::Piece* piece = build::find(build, {session_.option(), item.run, item.row});
      const RunResult* result = find_run(session_.evaluation(), item.run);
      if (piece && result)
        text = piece_tip(*piece, *result, item.row);
    } else if (const build::Machine* machine = build.find(item.machine)) {
      text = machine_tip(*machine, find_machine(build, session_.evaluation(), item.step));
    }
  }
  text.isEmpty() ? QToolTip::hideText() : QToolTip::showText(help->globalPos(), text, viewport());
  return true;
}

void ChainView::wheelEvent(QWheelEvent* event) {
  if (!(event->modifiers() & Qt::ControlModifier)) {
    QAbstractScrollArea::wheelEvent(event);
    return;
  }
  set_scale(scale_px_m_ * std::pow(1.0015, event->angleDelta().y()), event->position().x());
  event->accept();
}

void ChainView::contextMenuEvent(QContextMenuEvent* event) {
  QPoint global = event->globalPos();
  if (event->reason() == QContextMenuEvent::Keyboard) {
    if (const auto item = selected_item(chain_, session_.selection()))
      global = viewport()->mapToGlobal(drawing_to_viewport(chain_.items[*item].body.center()).toPoint());
  } else {
    session_.select(picked_at(to_drawing(event->pos())).value_or(Selection{}));
  }
  emit menu_requested(global);
  event->accept();
}

} // namespace bellmouth::ui
