// SPDX-License-Identifier: GPL-3.0-or-later
// The right button's menu in the bay, and pieces dropped from the tray.
#include "bay_canvas.hpp"
#include "bay_text.hpp"
#include "new_piece.hpp"
#include "piece_text.hpp"
#include "quantity_edit.hpp"
#include "tray.hpp"
#include "units.hpp"

#include <QContextMenuEvent>
#include <QDragEnterEvent>
#include <QMenu>
#include <QMimeData>

#include <algorithm>
#include <numeric>

namespace bellmouth::ui {

namespace {

std::optional<std::size_t> dragged_shape(const QMimeData& data) {
  bool is_number = false;
  const qulonglong index = data.data(piece_mime_type).toULongLong(&is_number);
  return is_number && index < shape_count ? std::optional(static_cast<std::size_t>(index)) : std::nullopt;
}

/// One entry for each offer, a line between what fits and what does not.
template <class Take>
void add_offers(QMenu& menu, std::vector<BayOffer> offers, const QString& names, const Take& take) {
  menu.setEnabled(!offers.empty());
  bool fitted = true;
  int number = 0;
  for (BayOffer& offer : offers) {
    if (fitted && !offer.fits && number > 0)
      menu.addSection("does not fit as it is");
    fitted = offer.fits;
    QAction* entry = menu.addAction(QString(offer.text).replace('&', "&&"));
    entry->setObjectName(QString("%1_%2").arg(names).arg(number++));
    QObject::connect(entry, &QAction::triggered, &menu, [take, offer = std::move(offer)] { take(offer); });
  }
}

} // namespace

void BayCanvas::take(const BayOffer& offer) {
  const Selection before = session_.selection();
  if (const auto error = session_.apply(offer.next, offer.what)) {
    emit message(complaint(*error));
    return;
  }
  if (const auto* piece = std::get_if<PickedPiece>(&before))
    session_.select(PickedPiece{piece->run, offer.row});
  else if (const auto* port = std::get_if<PickedPort>(&before))
    for (const auto& run : session_.build().find(session_.option())->runs)
      if (run->from == port->port || run->to == port->port)
        session_.select(PickedPiece{run->id, offer.row});
}

void BayCanvas::add_route_entries(QMenu& menu, std::optional<build::Vector> point_m) {
  const auto add = [&](const QString& text, const QString& name, const build::RunId& run) {
    QAction* entry = menu.addAction(QString(text).replace('&', "&&"));
    entry->setObjectName(name);
    connect(entry, &QAction::triggered, this, [this, run] { emit routes_requested(run); });
  };
  const build::Option& option = *session_.build().find(session_.option());
  if (const auto* piece = std::get_if<PickedPiece>(&session_.selection()))
    add(QString("Find routes for %1").arg(run_name(piece->run)), "find_routes_for", piece->run);
  if (const auto* port = std::get_if<PickedPort>(&session_.selection()))
    for (const auto& run : option.runs)
      if (run->from == port->port || run->to == port->port)
        add(QString("Find routes from here to %1")
                .arg(port_title(run->from == port->port ? run->to : run->from)),
            "find_routes_to", run->id);
  if (point_m && !option.runs.empty()) {
    QAction* entry = menu.addAction("Have routes pass near this point");
    entry->setObjectName("pass_here");
    connect(entry, &QAction::triggered, this, [this, point = *point_m] { emit pass_requested(point); });
  }
  menu.addSeparator();
}

void BayCanvas::show_menu(QPoint global, std::optional<build::Vector> point_m) {
  hovered_ = 0;
  update();
  auto* menu = new QMenu(this);
  menu->setObjectName("bay_menu");
  menu->setAttribute(Qt::WA_DeleteOnClose);
  const build::Build& build = session_.build();
  const auto take_it = [this](const BayOffer& offer) { take(offer); };
  const auto submenu = [&](const QString& title, const char* name) {
    QMenu* made = menu->addMenu(title);
    made->setObjectName(name);
    return made;
  };
  if (const auto* picked = std::get_if<PickedPiece>(&session_.selection());
      picked && session_.picked_piece()) {
    const build::PieceRef ref{session_.option(), picked->run, picked->row};
    const build::Piece& piece = *session_.picked_piece();
    const QString name = piece_title(piece);
    add_offers(*submenu("Continue with", "continue_with"), offers_to_continue(build, behind(build, ref)),
               "continue", take_it);
    add_offers(*submenu("Swap for", "swap_for"), offers_to_swap(build, ref), "swap", take_it);
    const auto add = [&](const QString& text, const char* object_name, bool possible, auto make_next,
                         const QString& what) {
      QAction* entry = menu->addAction(text);
      entry->setObjectName(object_name);
      entry->setEnabled(possible);
      connect(entry, &QAction::triggered, this, [this, make_next, what] {
        if (const auto error = session_.apply(make_next(session_.build()), what))
          emit message(complaint(*error));
      });
    };
    const auto cut_m = point_m ? cut_place(session_, ref, *point_m) : std::nullopt;
    add(
        cut_m ? QString("Split here, at %1").arg(show_length(*cut_m)) : QString("Split here"), "split_here",
        cut_m.has_value(),
        [ref, cut_m](const build::Build& b) { return build::with_tube_split(b, ref, *cut_m); },
        QString("Split %1").arg(name));
    add(
        "Turn round", "turn_round", build::ends_differ(piece.shape),
        [ref](const build::Build& b) { return build::with_piece_turned_round(b, ref); },
        QString("Turn %1 round").arg(name));
    menu->addSeparator();
    connect(menu->addAction("Edit"), &QAction::triggered, this, &BayCanvas::edit_requested);
    add(
        "Remove", "remove", true, [ref](const build::Build& b) { return build::with_piece_removed(b, ref); },
        QString("Remove %1").arg(name));
    menu->addSeparator();
  } else if (const auto* port = std::get_if<PickedPort>(&session_.selection())) {
    const build::Option& option = *build.find(session_.option());
    for (const auto& run : option.runs)
      if (run->from == port->port)
        add_offers(*submenu("Begin with", "begin_with"), offers_to_continue(build, {option.id, run->id, 0}),
                   "begin", take_it);
      else if (run->to == port->port)
        add_offers(*submenu("Continue with", "continue_with"),
                   offers_to_continue(build, {option.id, run->id, run->pieces.size()}), "continue", take_it);
    connect(menu->addAction("Edit"), &QAction::triggered, this, &BayCanvas::edit_requested);
    menu->addSeparator();
  }
  add_route_entries(*menu, point_m);
  if (!std::holds_alternative<std::monostate>(session_.selection()))
    connect(menu->addAction("Fit what is picked"), &QAction::triggered, this, &BayCanvas::fit_selection);
  connect(menu->addAction("Fit all"), &QAction::triggered, this, &BayCanvas::fit_all);
  menu->addSeparator();
  menu->setToolTipsVisible(true);
  QAction* drawn_with = menu->addAction(renderer_ ? "Drawn with " + renderer_->name() : QString());
  drawn_with->setObjectName("drawn_with");
  drawn_with->setToolTip(renderer_missing_.join("\n"));
  drawn_with->setEnabled(false);
  drawn_with->setVisible(renderer_ != nullptr);
  menu->popup(global);
}

void BayCanvas::contextMenuEvent(QContextMenuEvent* event) {
  // The mouse opens it when the button is let go without a drag.
  if (event->reason() != QContextMenuEvent::Mouse) {
    const auto extent = scene_.extent_of(session_.build(), session_.selection());
    const build::Vector middle = extent ? build::Vector{std::midpoint(extent->low[0], extent->high[0]),
                                                        std::midpoint(extent->low[1], extent->high[1]),
                                                        std::midpoint(extent->low[2], extent->high[2])}
                                        : camera_.target_m;
    const QPointF at = camera_.project(middle, size()).pixel;
    show_menu(mapToGlobal(at).toPoint(), extent ? std::optional(middle) : std::nullopt);
  }
  event->accept();
}

// ---------------------------------------------------------------- from the tray

void BayCanvas::dragEnterEvent(QDragEnterEvent* event) {
  if (event->mimeData()->hasFormat(piece_mime_type))
    event->acceptProposedAction();
}

void BayCanvas::dragMoveEvent(QDragMoveEvent* event) {
  const auto shape = dragged_shape(*event->mimeData());
  drop_ = shape ? place_near(session_, lookout(), event->position(), *shape) : std::nullopt;
  update();
  drop_ ? event->acceptProposedAction() : event->ignore();
}

void BayCanvas::dragLeaveEvent(QDragLeaveEvent*) {
  drop_.reset();
  update();
}

void BayCanvas::dropEvent(QDropEvent* event) {
  const auto shape = dragged_shape(*event->mimeData());
  const auto place = shape ? place_near(session_, lookout(), event->position(), *shape) : std::nullopt;
  drop_.reset();
  update();
  if (!place)
    return;
  event->acceptProposedAction();
  const QString kind = QString::fromStdString(std::string(kind_name(*shape)));
  if (const auto error = session_.apply(with_kind_placed(session_.build(), *shape, *place),
                                        QString("Add %1 to %2").arg(kind, run_name(place->before.run))))
    emit message(complaint(*error));
  else
    session_.select(PickedPiece{place->before.run, place->before.row});
}

} // namespace bellmouth::ui
