// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_offers.hpp"

#include "new_piece.hpp"
#include "part_edits.hpp"
#include "piece_art.hpp"
#include "piece_text.hpp"
#include "scene/vector.hpp"

#include <bellmouth/joint.hpp>
#include <bellmouth/stock.hpp>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

QString kind_text(std::size_t shape_index) {
  const auto name = kind_name(shape_index);
  QString text = QString::fromUtf8(name.data(), static_cast<qsizetype>(name.size()));
  text[0] = text[0].toUpper();
  return text;
}

const build::Run& run_of(const build::Build& build, const build::PieceRef& ref) {
  return *build.find(ref.option)->find(ref.run);
}

/// Whether the joints at the ends of a row hold: at the inlet only, or at both.
bool joints_hold(const build::Build& build, const build::PieceRef& ref, bool outlet_too) {
  const joint::RunFit fit = joint::fit(build, run_of(build, ref));
  return std::ranges::all_of(fit.joints, [&](const joint::Joint& joint) {
    const bool inlet = joint.downstream.row == ref.row;
    const bool outlet = outlet_too && joint.upstream.row == ref.row;
    // A hose goes on a spigot a little larger than its bore, hardly on one that is smaller (trade practice).
    constexpr double tightest_m = 1.5e-3, loosest_m = -0.5e-3;
    return (!inlet && !outlet) || joint.kind == joint::Kind::weld ||
           (joint.kind == joint::Kind::hose && joint.interference_m >= loosest_m &&
            joint.interference_m <= tightest_m);
  });
}

void fitting_first(std::vector<BayOffer>& offers) {
  std::stable_partition(offers.begin(), offers.end(), [](const BayOffer& offer) { return offer.fits; });
}

/// The nearest place of a host's centreline to a point of the view.
void consider_host(const RunResult& result, std::size_t row, const build::Run& run,
                   const build::OptionId& option, const BayLookout& lookout, QPointF point, double& nearest,
                   std::optional<BayPlace>& found) {
  const bay::Track track = bay::track(run.pieces[row].shape, 0, 0);
  constexpr double step_m = 5e-3;
  const int steps = static_cast<int>(std::ceil(track.length_m() / step_m));
  for (int step = 1; step < steps; ++step) {
    const double position_m = step * step_m;
    const build::Vector at = bay::along(result.frames[row], track, position_m).position_m;
    const scene::Projected seen = lookout.camera.project(at, lookout.viewport);
    const double distance = std::hypot(seen.pixel.x() - point.x(), seen.pixel.y() - point.y());
    if (distance < nearest && (!lookout.camera.perspective || seen.depth_m > 0)) {
      nearest = distance;
      found = BayPlace{{option, run.id, row + build::rows_with_fittings(run, row)}, at, position_m};
    }
  }
}

} // namespace

std::optional<BayPlace> place_near(const Session& session, const BayLookout& lookout, QPointF point,
                                   std::size_t shape_index, double reach_px) {
  const bool fitting = build::is_fitting(sample_shape(shape_index));
  const build::Option& option = *session.build().find(session.option());
  std::optional<BayPlace> found;
  double nearest = reach_px;
  for (const RunResult& result : session.evaluation().runs) {
    const build::Run* run = option.find(result.id);
    if (!run || result.frames.size() != run->pieces.size() + 1)
      continue;
    for (std::size_t row = 0; row <= run->pieces.size(); ++row) {
      const bool at_fitting = row < run->pieces.size() && build::is_fitting(run->pieces[row].shape);
      if (at_fitting)
        continue;
      if (fitting) {
        if (row < run->pieces.size() && build::is_rigid(run->pieces[row].shape))
          consider_host(result, row, *run, option.id, lookout, point, nearest, found);
        continue;
      }
      const scene::Projected seen = lookout.camera.project(result.frames[row].position_m, lookout.viewport);
      const double distance = std::hypot(seen.pixel.x() - point.x(), seen.pixel.y() - point.y());
      if (distance < nearest && (!lookout.camera.perspective || seen.depth_m > 0)) {
        nearest = distance;
        found = BayPlace{{option.id, run->id, row}, result.frames[row].position_m, std::nullopt};
      }
    }
  }
  return found;
}

build::Build with_kind_placed(const build::Build& build, std::size_t shape_index, const BayPlace& place) {
  build::Piece piece = new_piece(shape_index, build, place.before);
  if (place.position_m && value_of(piece.shape, GripValue::position))
    piece.shape = with_value(std::move(piece.shape), GripValue::position, *place.position_m);
  return build::with_piece_inserted(build, place.before, std::move(piece));
}

std::vector<BayOffer> offers_to_continue(const build::Build& build, const build::PieceRef& before) {
  std::vector<BayOffer> offers;
  const build::Run& run = run_of(build, before);
  const auto ahead = run.pieces.begin() + static_cast<std::ptrdiff_t>(before.row);
  const auto host = std::find_if(std::make_reverse_iterator(ahead), run.pieces.rend(),
                                 [](const build::Piece& piece) { return !build::is_fitting(piece.shape); });
  for (std::size_t kind = 0; kind < shape_count; ++kind) {
    BayOffer offer;
    const bool fitting = build::is_fitting(sample_shape(kind));
    offer.text = kind_text(kind);
    offer.row = before.row;
    offer.next = with_kind_placed(build, kind, {before, {}, std::nullopt});
    offer.what = QString("Add %1 to %2").arg(offer.text.toLower(), run_name(before.run));
    offer.fits = fitting ? host != run.pieces.rend() && build::is_rigid(host->shape)
                         : joints_hold(offer.next, before, false);
    if (!build::validate(offer.next))
      offers.push_back(std::move(offer));
  }
  fitting_first(offers);
  return offers;
}

std::vector<BayOffer> offers_to_swap(const build::Build& build, const build::PieceRef& ref) {
  const build::Piece& now = *build::find(build, ref);
  const bool fitting = build::is_fitting(now.shape);
  std::vector<BayOffer> offers;
  const auto offer = [&](QString text, build::Piece piece) {
    BayOffer made;
    made.text = std::move(text);
    made.row = ref.row;
    piece.label = now.label;
    made.next = build::with_piece_replaced(build, ref, std::move(piece));
    if (made.next == build || build::validate(made.next))
      return;
    made.what = QString("Swap %1 for %2").arg(piece_title(now), made.text);
    made.fits = fitting || joints_hold(made.next, ref, true);
    offers.push_back(std::move(made));
  };
  for (const build::StockItem& item : *build.stock)
    if (item.kind == stock::kind_of(now.shape) && stock::piece_of(item).shape.index() == now.shape.index())
      offer(QString::fromStdString(item.name), bought_as(now, item));
  // Of stock, only what goes on the neighbours' ends: the rest is a matter of sizes, not of this place.
  std::erase_if(offers, [](const BayOffer& made) { return !made.fits; });
  const build::Build without = build::with_piece_removed(build, ref);
  for (std::size_t kind = 0; kind < shape_count; ++kind)
    if (kind != now.shape.index() && build::is_fitting(sample_shape(kind)) == fitting) {
      build::Piece piece = new_piece(kind, fitting ? build : without, ref);
      for (const GripValue kept :
           {GripValue::length, GripValue::position, GripValue::clocking, GripValue::angle})
        if (const auto value = value_of(now.shape, kept);
            value && piece.stock.text.empty() && value_of(piece.shape, kept))
          piece.shape = with_value(std::move(piece.shape), kept, *value);
      offer(kind_text(kind), std::move(piece));
    }
  fitting_first(offers);
  return offers;
}

build::PieceRef behind(const build::Build& build, const build::PieceRef& ref) {
  return {ref.option, ref.run, ref.row + build::rows_with_fittings(run_of(build, ref), ref.row)};
}

std::optional<double> cut_place(const Session& session, const build::PieceRef& ref,
                                const build::Vector& point_m) {
  const build::Piece* piece = build::find(session.build(), ref);
  const auto* tube = piece ? std::get_if<build::Tube>(&piece->shape) : nullptr;
  const RunResult* result = find_run(session.evaluation(), ref.run);
  const double step_m = snap_step(GripValue::length, false);
  if (!tube || !result || ref.row >= result->frames.size() || tube->length_m < 2 * step_m)
    return std::nullopt;
  const bay::Frame& start = result->frames[ref.row];
  const double along_m = scene::dot(scene::minus(point_m, start.position_m), start.direction);
  const double whole_m = snapped(GripValue::length, along_m, false);
  return std::clamp(whole_m, step_m, tube->length_m - step_m);
}

} // namespace bellmouth::ui
