// SPDX-License-Identifier: GPL-3.0-or-later
// Fittings out of place, tapers and mitres, materials, what is not chosen yet, waivers of nothing.
#include "mending.hpp"
#include "seat.hpp"
#include "words.hpp"

#include <bellmouth/build/fittings.hpp>
#include <bellmouth/joint/threads.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

namespace bellmouth::join {

namespace {

/// Where on a host a fitting can sit, from its inlet end [m]; nothing where there is no room.
struct Free {
  double from_m, to_m;
};
std::optional<Free> free_on(const trade::Limits& limits, const RunWork& work, std::size_t host) {
  double from_m = limits.fitting_from_hose_m,
         to_m = build::full_length_m(work.shape(host)) - limits.fitting_from_hose_m;
  for (const joint::Joint& joint : work.fit().joints) {
    if (joint.kind != joint::Kind::hose)
      continue;
    if (joint.downstream.row == host)
      from_m += joint.engagement_m;
    if (joint.upstream.row == host)
      to_m -= joint.engagement_m;
  }
  if (below(to_m, from_m))
    return std::nullopt;
  return Free{from_m, to_m};
}

void set_position(build::Shape& shape, double position_m) {
  std::visit(
      [&](auto& s) {
        if constexpr (requires { s.position_m; })
          s.position_m = position_m;
      },
      shape);
}

std::optional<std::size_t> host_of(const RunWork& work, std::size_t row) {
  return work.fit().rows[row].host;
}

bool move_fitting(RunWork& work, std::size_t row, double position_m) {
  build::Piece piece = work.run().pieces[row];
  const double before_m = build::position_m(piece.shape);
  if (!differ(before_m, position_m))
    return false;
  set_position(piece.shape, position_m);
  std::string step = fmt::format("{}: {} along its host instead of {}", work.name(row),
                                 millimetres(position_m), millimetres(before_m));
  work.replace(row, std::move(piece), std::move(step));
  return true;
}

/// Distance of a row's inlet end from the start of the run along the centreline [m].
double begins_m(const RunWork& work, std::size_t row) {
  double length_m = 0;
  for (std::size_t before = 0; before < row; ++before)
    length_m += work.fit().rows[before].centreline_length_m;
  return length_m;
}

/// The included angle of a taper that widens downstream [rad]; 0 of one that does not.
double included_rad(const build::Shape& shape) {
  const double wider_m = build::bore_out_m(shape) - build::bore_in_m(shape);
  const build::Engagement in = engagement_of(shape);
  const double length_m = build::full_length_m(shape) - in.in_m - in.out_m;
  return wider_m > 0 && length_m > 0 ? 2 * std::atan(wider_m / (2 * length_m)) : 0;
}

/// The piece of the cheapest item that serves it as it is; nothing where there is none.
std::optional<build::Piece> bought(const Mending& mending, build::Piece piece) {
  const auto items = stock::choices(mending.build, piece);
  if (items.empty())
    return std::nullopt;
  const auto cheapest = std::ranges::min_element(
      items, {}, [&](const build::StockItem* item) { return mending.shop.price_minor(*item, piece); });
  piece.stock = (*cheapest)->id;
  return piece;
}

} // namespace

bool mend_fitting(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  const auto host = work != nullptr && row ? host_of(*work, *row) : std::nullopt;
  const auto free = host ? free_on(mending.limits, *work, *host) : std::nullopt;
  return free && move_fitting(*work, *row,
                              std::clamp(build::position_m(work->shape(*row)), free->from_m, free->to_m));
}

bool mend_sensor_near_cooler(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  const auto host = work != nullptr && row ? host_of(*work, *row) : std::nullopt;
  const auto free = host ? free_on(mending.limits, *work, *host) : std::nullopt;
  if (!free)
    return false;
  const build::Port* from = mending.build.find(work->run().from);
  const double wanted_m = mending.limits.sensor_from_cooler_bores * from->bore_m - begins_m(*work, *host);
  return !above(wanted_m, free->to_m) && move_fitting(*work, *row, std::max(wanted_m, free->from_m));
}

/// Whether a boss of that thread takes a temperature sensor: smaller ones are for gauges and lines.
bool takes_sensor(const std::string& name) {
  constexpr double least_m = 10.5e-3;
  const auto* thread = joint::find_thread(name);
  return thread != nullptr &&
         (thread->form == joint::ThreadForm::metric || thread->major_diameter_m > least_m);
}

/// The thread of the first boss for a sensor that the option has: its sensor is at hand.
std::optional<std::string> thread_at_hand(const Evaluation& evaluation, const build::Build& build) {
  const build::Option& option = *build.find(evaluation.option);
  for (const RunResult& run : evaluation.runs)
    for (const build::Piece& piece : option.find(run.id)->pieces)
      if (const auto* boss = std::get_if<build::SensorBoss>(&piece.shape);
          boss != nullptr && takes_sensor(boss->thread))
        return boss->thread;
  return std::nullopt;
}

bool mend_no_charge_sensor(Mending& mending) {
  // The last run on the path that has room for a boss, as near as can be to 150 mm ahead of its end.
  constexpr double wanted_from_end_m = 0.15;
  const build::StockItem* best = nullptr;
  const std::optional<std::string> there = thread_at_hand(mending.evaluation, mending.build);
  for (const build::StockItem& item : *mending.build.stock) {
    if (item.kind != build::StockKind::sensor_boss || !item.thread || !takes_sensor(*item.thread) ||
        (there && *item.thread != *there))
      continue;
    const build::Piece piece = stock::piece_of(item);
    if (best == nullptr ||
        mending.shop.price_minor(item, piece) < mending.shop.price_minor(*best, stock::piece_of(*best)))
      best = &item;
  }
  if (best == nullptr || mending.evaluation.runs.empty())
    return false;
  RunWork& work = mending.run(mending.evaluation.runs.back().id);
  const double length_m = begins_m(work, work.run().pieces.size());
  std::optional<std::tuple<double, std::size_t, double>> nearest; // how far off, host, position
  for (std::size_t row = 0; row < work.run().pieces.size(); ++row) {
    const bool plain = std::holds_alternative<build::Tube>(work.shape(row)); // no boss on an arc or a taper
    const auto free = plain ? free_on(mending.limits, work, row) : std::nullopt;
    if (!free)
      continue;
    // A tube's places are counted from its end, the run's from the first port.
    const double at_m =
        std::clamp(length_m - wanted_from_end_m - begins_m(work, row), free->from_m, free->to_m);
    const double off_m = std::abs(length_m - wanted_from_end_m - begins_m(work, row) - at_m);
    if (!nearest || off_m < std::get<0>(*nearest))
      nearest = {off_m, row, at_m};
  }
  if (!nearest)
    return false;
  const auto [off_m, host, position_m] = *nearest;
  build::Piece boss = stock::piece_of(*best);
  set_position(boss.shape, position_m);
  std::string step = fmt::format("{}: put {} on it, {} from its inlet end", work.name(host), best->name,
                                 millimetres(position_m));
  work.insert_before(host + 1, {std::move(boss)});
  work.say(host + 1, std::move(step));
  return true;
}

bool mend_cone(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  if (work == nullptr || !row)
    return false;
  const build::Piece old = work->run().pieces[*row];
  const auto joints = mending.joints();
  std::optional<build::Piece> best;
  std::tuple<bool, double> least; // whether it is still steep; how long
  const auto look = [&](const Part& part) {
    if (part.piece.shape.index() != old.shape.index() || part.piece.material != old.material)
      return;
    build::Piece piece = old;
    piece.shape = part.piece.shape;
    piece.stock = part.item->id;
    constexpr double same_m = 0.25e-3;
    const auto same = [&](double a_m, double b_m) { return std::abs(a_m - b_m) <= same_m; };
    if (!same(build::outer_diameter_in_m(piece.shape), build::outer_diameter_in_m(old.shape)) ||
        !same(build::outer_diameter_out_m(piece.shape), build::outer_diameter_out_m(old.shape)) ||
        !same(build::wall_m(piece.shape), build::wall_m(old.shape)))
      return;
    if (build::is_flexible(piece.shape)) {
      const auto sits = seat(mending.limits, piece.shape,
                             {work->room_m(joints.front(), work->fit().joints[joints.front()].upstream),
                              work->room_m(joints.back(), work->fit().joints[joints.back()].downstream),
                              Shop::longest_m(*part.item)});
      if (!sits)
        return;
      piece.shape = seated(piece.shape, *sits);
    }
    std::visit(
        [&](auto& shape) {
          const auto& was = std::get<std::decay_t<decltype(shape)>>(old.shape);
          if constexpr (requires { shape.beads; })
            shape.beads = was.beads;
          if constexpr (requires { shape.connection_in; }) {
            shape.connection_in = was.connection_in;
            shape.connection_out = was.connection_out;
          }
        },
        piece.shape);
    const double angle_rad = included_rad(piece.shape);
    if (!below(angle_rad, included_rad(old.shape)))
      return;
    const std::tuple cost(above(angle_rad, mending.limits.cone_note_rad), build::full_length_m(piece.shape));
    if (!best || cost < least) {
      best = std::move(piece);
      least = cost;
    }
  };
  std::ranges::for_each(mending.shop.tapers(), look);
  std::ranges::for_each(mending.shop.hoses(), look);
  if (!best)
    return false;
  std::string step = fmt::format("{}: replace it by {}", work->name(*row), described(mending.build, *best));
  work->replace(*row, *std::move(best), std::move(step));
  return true;
}

namespace {

bool set_cuts(Mending& mending, bool (*enough)(const trade::Limits&, const build::MitredBend&), int step) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  if (work == nullptr || !row || !std::holds_alternative<build::MitredBend>(work->shape(*row)))
    return false;
  build::Piece piece = work->run().pieces[*row];
  auto& bend = std::get<build::MitredBend>(piece.shape);
  const int before = bend.joints;
  constexpr int most = 20;
  while (bend.joints >= 1 && bend.joints <= most && !enough(mending.limits, bend))
    bend.joints += step;
  if (bend.joints < 1 || bend.joints > most || bend.joints == before)
    return false;
  const auto words = [](int joints) {
    return joints == 1 ? std::string("1 cut") : fmt::format("{} cuts", joints);
  };
  std::string said = fmt::format("{}: {} instead of {}", work->name(*row), words(bend.joints), words(before));
  work->replace(*row, std::move(piece), std::move(said));
  return true;
}

} // namespace

bool mend_mitre(Mending& mending) {
  return set_cuts(
      mending,
      [](const trade::Limits& limits, const build::MitredBend& bend) {
        return !above(bend.angle_rad / bend.joints, limits.mitre_rad);
      },
      1);
}

bool mend_wedge(Mending& mending) {
  return set_cuts(
      mending,
      [](const trade::Limits& limits, const build::MitredBend& bend) {
        return bend.joints < 2 ||
               !below(joint::wedge(bend.outer_diameter_m, bend.radius_m, bend.angle_rad, bend.joints)
                          .short_side_m,
                      limits.wedge_short_side_m);
      },
      -1);
}

bool mend_plastic(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  if (work == nullptr || !row || !build::is_rigid(work->shape(*row)))
    return false;
  std::optional<build::Piece> best;
  std::int64_t least = 0;
  for (const build::Material material :
       {build::Material::aluminium, build::Material::stainless_steel, build::Material::mild_steel}) {
    build::Piece piece = work->run().pieces[*row];
    piece.material = material;
    auto found = bought(mending, std::move(piece));
    if (!found)
      continue;
    const std::int64_t price = mending.shop.price_minor(*mending.build.find(found->stock), *found);
    if (!best || price < least) {
      best = std::move(found);
      least = price;
    }
  }
  if (!best)
    return false;
  std::string step = fmt::format("{}: of {}, {}", work->name(*row), build::material_name(best->material),
                                 described(mending.build, *best));
  work->replace(*row, *std::move(best), std::move(step));
  return true;
}

namespace {

/// Makes a piece of the cheapest item that serves it, or gives it the sizes of the nearest.
bool choose_item(const Mending& mending, RunWork& work, std::size_t row, bool or_nearest) {
  const build::Piece& old = work.run().pieces[row];
  auto piece = bought(mending, old);
  if (!piece && or_nearest && !build::is_fitting(old.shape))
    piece = stock::nearest_in_stock(mending.build, old);
  if (!piece || *piece == old)
    return false;
  std::string step = fmt::format("{}: {}", work.name(row), mending.build.find(piece->stock)->name);
  if (piece->shape != old.shape)
    step += ", with the sizes that it has";
  work.replace(row, *std::move(piece), std::move(step));
  return true;
}

bool is_served(const Mending& mending, const build::Piece& piece) {
  const build::StockItem* item = piece.stock.text.empty() ? nullptr : mending.build.find(piece.stock);
  return item != nullptr && stock::serves(*item, piece);
}

/// Chooses for all pieces of the option that ask for it.
bool choose_items(Mending& mending, bool or_nearest, const std::function<bool(const build::Piece&)>& asks) {
  bool any = false;
  for (const RunResult& result : mending.evaluation.runs) {
    RunWork& work = mending.run(result.id);
    for (std::size_t row = 0; row < work.run().pieces.size(); ++row)
      if (asks(work.run().pieces[row]))
        any = choose_item(mending, work, row, or_nearest) || any;
  }
  return any;
}

} // namespace

bool mend_stock_choice(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  if (work == nullptr || !row)
    return false;
  const build::Piece meant = work->run().pieces[*row];
  // A line of the shopping list holds all pieces that are alike.
  return !is_served(mending, meant) && choose_items(mending, true, [&](const build::Piece& piece) {
    return piece.shape == meant.shape && piece.material == meant.material && piece.stock == meant.stock;
  });
}

bool mend_not_chosen(Mending& mending) {
  return choose_items(mending, false, [](const build::Piece& piece) { return piece.stock.text.empty(); });
}

bool mend_idle_waiver(Mending& mending) {
  // The message begins with the rule in quotation marks.
  const auto& message = mending.finding.message;
  const std::size_t from = message.find('"'), to = message.find('"', from + 1);
  if (to == std::string::npos)
    return false;
  const std::string rule = message.substr(from + 1, to - from - 1);
  if (const auto& piece = mending.finding.where.piece)
    mending.changed = build::with_waiver(mending.build, *piece, rule, {});
  else
    mending.changed = build::with_waiver(mending.build, mending.finding.where.machine, rule, {});
  mending.steps.push_back(fmt::format("{}: take back the waiver of {}", mending.finding.where.text, rule));
  return *mending.changed != mending.build;
}

} // namespace bellmouth::join
