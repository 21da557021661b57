// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_scene.hpp"

#include "bay_states.hpp"
#include "piece_text.hpp"
#include "scene/look.hpp"
#include "units.hpp"

#include <QColor>

#include <algorithm>
#include <cmath>
#include <limits>
#include <type_traits>

namespace bellmouth::ui {

namespace {

using scene::Part;

constexpr std::size_t coarse_triangles = 12'000;
/// Colours along a piece between its two ends.
constexpr int ramp_steps = 4;

/// Values at both ends of a piece, in the unit shown.
struct Ends {
  double in, out;
};

quantity::Dimension dimension_of(BayColouring colouring) {
  switch (colouring) {
  case BayColouring::pressure:
    return quantity::Dimension::pressure;
  case BayColouring::temperature:
    return quantity::Dimension::temperature;
  case BayColouring::clearance:
    return quantity::Dimension::length;
  default:
    return quantity::Dimension::velocity;
  }
}

double value_of(BayColouring colouring, const air::Station& station) {
  switch (colouring) {
  case BayColouring::pressure:
    return station.static_pressure_Pa;
  case BayColouring::temperature:
    return station.total_temperature_K;
  default:
    return station.velocity_m_s;
  }
}

bool is_there(const build::KeepOut& keep_out, const std::optional<build::StateId>& state) {
  return keep_out.states.empty() || (state && std::ranges::count(keep_out.states, *state) > 0);
}

/// The box that solids take up in the picture.
QRectF seen_box(const std::vector<scene::Solid>& solids, const scene::Camera& camera, QSizeF viewport) {
  QPointF low(std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()), high = -low;
  for (const scene::Solid& solid : solids) {
    if (!solid.bounded || !solid.mesh || solid.mesh->points_m.empty())
      continue;
    const scene::Extent box = scene::extent(*solid.mesh, solid.placement);
    for (unsigned corner = 0; corner < 8; ++corner) {
      const QPointF at =
          camera
              .project({corner & 1U ? box.high[0] : box.low[0], corner & 2U ? box.high[1] : box.low[1],
                        corner & 4U ? box.high[2] : box.low[2]},
                       viewport)
              .pixel;
      low = {std::min(low.x(), at.x()), std::min(low.y(), at.y())};
      high = {std::max(high.x(), at.x()), std::max(high.y(), at.y())};
    }
  }
  return {low, high};
}

/// Fits the box round all, then closes in on what is seen of the boxes round each: the corners of the one
/// are mostly empty.
scene::Camera closely_fitted(const std::vector<scene::Solid>& solids, const scene::Camera& camera,
                             QSizeF viewport, double margin) {
  const auto all = scene::extent(solids);
  if (!all)
    return camera;
  scene::Camera fitted = camera.fitted(*all, viewport, margin);
  const QSizeF room = viewport * (1 - 2 * margin);
  const QPointF middle(viewport.width() / 2, viewport.height() / 2);
  // In perspective what comes nearer grows unevenly.
  constexpr int rounds = 3;
  for (int i = 0; i < rounds; ++i) {
    const QRectF seen = seen_box(solids, fitted, viewport);
    if (seen.width() < 1 || seen.height() < 1)
      break;
    fitted = fitted.panned(middle - seen.center(), viewport)
                 .zoomed_about(middle, std::min(room.width() / seen.width(), room.height() / seen.height()),
                               viewport);
  }
  return fitted;
}

/// The build as it stands in a state: what is not there then has no shape.
bool is_shown(const build::Build& build, const Part& part, const std::optional<build::StateId>& state) {
  return (part.kind != Part::Kind::keep_out && part.kind != Part::Kind::scan) ||
         is_there(build.keep_outs[part.keep_out], state);
}

} // namespace

QString bay_colouring_name(BayColouring colouring) {
  switch (colouring) {
  case BayColouring::nothing:
    return "material";
  case BayColouring::velocity:
    return "velocity";
  case BayColouring::pressure:
    return "pressure";
  case BayColouring::temperature:
    return "temperature";
  case BayColouring::clearance:
    return "clearance";
  }
  return {};
}

void BayScene::refresh(const Session& session, BayColouring colouring, bool dark) {
  const build::Build& build = session.build();
  solids_ = maker_.solids(build, session.evaluation());
  std::erase_if(solids_, [&](const scene::Solid& solid) {
    return !solid.mesh || !is_shown(build, solid.part, session.bay_state());
  });
  for (scene::Solid& solid : solids_)
    solid.placement = placement_in_state(session, solid);
  clearances_ = clearances_shown(session);
  scene_ = scene::dressed(solids_, dark);
  for (std::size_t i = 0; i < solids_.size(); ++i)
    if (solids_[i].part.kind == Part::Kind::scan)
      if (const auto* scan = std::get_if<build::Scan>(&build.keep_outs[solids_[i].part.keep_out].shape))
        scene_.items[i].coarse = coarse_scan(scan->loaded);
  std::erase_if(coarse_, [](const auto& known) { return known.second.scan.expired(); });
  legend_.reset();
  if (colouring != BayColouring::nothing)
    colour_pieces(session, colouring);
  add_ghost();
  mark(build, session.selection());
}

void BayScene::set_ghost(std::shared_ptr<const RouteGhost> ghost, QRgb colour) {
  ghost_ = std::move(ghost);
  ghost_colour_ = colour;
  add_ghost();
}

void BayScene::add_ghost() {
  constexpr double ghost_opacity = 0.6, faint_opacity = 0.25;
  const auto is_ducting = [this](const Part& part) {
    return ghost_ && (part.kind == Part::Kind::piece || part.kind == Part::Kind::clamp) &&
           part.run == ghost_->run;
  };
  scene_.items.resize(solids_.size());
  for (std::size_t i = 0; i < solids_.size(); ++i)
    if (solids_[i].part.kind == Part::Kind::piece || solids_[i].part.kind == Part::Kind::clamp)
      scene_.items[i].opacity = is_ducting(solids_[i].part) ? faint_opacity : 1;
  if (!ghost_)
    return;
  const QRgb flexible = QColor(ghost_colour_).darker(150).rgb();
  const build::Run* run = ghost_->build.find(ghost_->evaluation.option)->find(ghost_->run);
  for (const scene::Solid& solid : ghost_maker_.solids(ghost_->build, ghost_->evaluation)) {
    if (!solid.mesh || !is_ducting(solid.part))
      continue;
    scene::Item item;
    item.mesh = solid.mesh;
    item.placement = solid.placement;
    const bool rigid =
        solid.part.kind == Part::Kind::piece && !build::is_flexible(run->pieces[solid.part.row].shape);
    item.colour = rigid ? ghost_colour_ : flexible;
    item.finish = scene::Finish::matt;
    item.opacity = ghost_opacity;
    scene_.items.push_back(std::move(item));
  }
}

void BayScene::colour_pieces(const Session& session, BayColouring colouring) {
  const quantity::Dimension dimension = dimension_of(colouring);
  const Evaluation& evaluation = session.evaluation();
  const auto ends_of = [&](const Part& part) -> std::optional<Ends> {
    if (part.kind != Part::Kind::piece)
      return std::nullopt;
    const RunResult* run = find_run(evaluation, part.run);
    if (run && colouring == BayColouring::clearance) {
      const auto& nearest = clearances_[static_cast<std::size_t>(run - evaluation.runs.data())].nearest;
      if (part.row >= nearest.size() || !nearest[part.row])
        return std::nullopt;
      const double distance = in_shown_unit(dimension, nearest[part.row]->distance_m);
      return Ends{distance, distance};
    }
    if (!run || part.row >= run->flow.rows.size() || !evaluation.path.point.usable())
      return std::nullopt;
    const flow::PieceFlow& flow = run->flow.rows[part.row];
    return Ends{in_shown_unit(dimension, value_of(colouring, flow.inlet.station)),
                in_shown_unit(dimension, value_of(colouring, flow.outlet.station))};
  };
  std::vector<double> values;
  for (const scene::Solid& solid : solids_)
    if (const auto ends = ends_of(solid.part)) {
      values.push_back(ends->in);
      values.push_back(ends->out);
    }
  if (values.empty())
    return;
  const auto unit = shown_unit(dimension);
  legend_ = BayLegend{bay_colouring_name(colouring) + ", " +
                          QString::fromUtf8(unit.data(), static_cast<qsizetype>(unit.size())),
                      scene::scale_of(values)};
  for (std::size_t i = 0; i < solids_.size(); ++i)
    if (const auto ends = ends_of(solids_[i].part)) {
      scene::Item& item = scene_.items[i];
      item.colour = legend_->scale.colour((ends->in + ends->out) / 2);
      item.finish = scene::Finish::matt;
      item.ramp.clear();
      if (!item.mesh->along.empty())
        for (int step = 0; step <= ramp_steps; ++step)
          item.ramp.push_back(
              legend_->scale.colour(ends->in + (ends->out - ends->in) * step / double{ramp_steps}));
    }
}

std::shared_ptr<const scene::TriangleMesh>
BayScene::coarse_scan(const std::shared_ptr<const mesh::Scan>& scan) {
  if (!scan || scan->for_display.triangles.size() <= coarse_triangles)
    return {};
  CoarseScan& known = coarse_[scan.get()];
  if (known.scan.lock() != scan)
    known = {scan, std::make_shared<const scene::TriangleMesh>(
                       scene::surface_mesh(mesh::thinned(scan->for_display, coarse_triangles)))};
  return known.mesh;
}

bool BayScene::belongs(const build::Build& build, const Part& part, const Selection& selection) {
  const bool ducting = part.kind == Part::Kind::piece || part.kind == Part::Kind::clamp;
  const bool port = part.kind == Part::Kind::port || part.kind == Part::Kind::arrow;
  const bool keep_out = part.kind == Part::Kind::keep_out || part.kind == Part::Kind::scan;
  return std::visit(
      [&]<class P>(const P& picked) {
        if constexpr (std::is_same_v<P, PickedPiece>) {
          return part.kind == Part::Kind::piece && part.run == picked.run && part.row == picked.row;
        } else if constexpr (std::is_same_v<P, PickedRun>) {
          return ducting && part.run == picked.run;
        } else if constexpr (std::is_same_v<P, PickedPort>) {
          return port && part.port == picked.port;
        } else if constexpr (std::is_same_v<P, PickedKeepOut>) {
          return keep_out && part.keep_out == picked.index;
        } else if constexpr (std::is_same_v<P, PickedMachine>) {
          const build::Port* of = port ? build.find(part.port) : nullptr;
          return (of && of->machine == picked.machine) ||
                 (keep_out && build.keep_outs[part.keep_out].machine == picked.machine);
        } else {
          return false;
        }
      },
      selection);
}

void BayScene::mark(const build::Build& build, const Selection& selection) {
  for (std::size_t i = 0; i < solids_.size(); ++i)
    scene_.items[i].mark =
        belongs(build, solids_[i].part, selection) ? scene::Mark::selected : scene::Mark::none;
}

std::optional<scene::Extent> BayScene::extent() const {
  return scene::extent(solids_);
}

std::vector<scene::Solid> BayScene::picked(const build::Build& build, const Selection& selection) const {
  std::vector<scene::Solid> found;
  std::ranges::copy_if(solids_, std::back_inserter(found),
                       [&](const scene::Solid& solid) { return belongs(build, solid.part, selection); });
  return found;
}

std::optional<scene::Extent> BayScene::extent_of(const build::Build& build,
                                                 const Selection& selection) const {
  return scene::extent(picked(build, selection));
}

scene::Camera BayScene::fitted(const scene::Camera& camera, QSizeF viewport) const {
  constexpr double margin = 0.07;
  return closely_fitted(solids_, camera, viewport, margin);
}

scene::Camera BayScene::fitted_to(const build::Build& build, const Selection& selection,
                                  const scene::Camera& camera, QSizeF viewport) const {
  constexpr double margin = 0.2;
  return closely_fitted(picked(build, selection), camera, viewport, margin);
}

const Part* BayScene::part_of(std::uint32_t id) const {
  return id == 0 || id > solids_.size() ? nullptr : &solids_[id - 1].part;
}

bool BayScene::is_ground(std::uint32_t id) const {
  return id == 0 || id > solids_.size() || !solids_[id - 1].bounded;
}

scene::Scene BayScene::without_planes() const {
  scene::Scene bounded;
  for (std::size_t i = 0; i < solids_.size(); ++i)
    if (solids_[i].bounded)
      bounded.items.push_back(scene_.items[i]);
  std::copy(scene_.items.begin() + std::ssize(solids_), scene_.items.end(),
            std::back_inserter(bounded.items));
  return bounded;
}

std::optional<Selection> BayScene::selection_of(std::uint32_t id) const {
  const Part* part = part_of(id);
  if (!part || is_ground(id))
    return std::nullopt;
  switch (part->kind) {
  case Part::Kind::piece:
  case Part::Kind::clamp:
    return PickedPiece{part->run, part->row};
  case Part::Kind::port:
  case Part::Kind::arrow:
    return PickedPort{part->port};
  case Part::Kind::keep_out:
  case Part::Kind::scan:
    return PickedKeepOut{part->keep_out};
  }
  return std::nullopt;
}

} // namespace bellmouth::ui
