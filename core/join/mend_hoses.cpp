// SPDX-License-Identifier: GPL-3.0-or-later
// Hoses that do not stand what they have to.
#include "mending.hpp"
#include "seat.hpp"
#include "words.hpp"

#include <bellmouth/joint/hoses.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

namespace bellmouth::join {

namespace {

/// What the hose of one row has to stand.
Duty duty_of_row(const Mending& mending, const build::RunId& run, std::size_t row) {
  flow::RunFlow one;
  if (const auto& rows = mending.result(run).flow.rows; !rows.empty())
    one.rows = {rows[row]};
  return duty_of(mending.build, one);
}

/// All flexible rows of the option that ask for it; some may stay as they are, which is said.
bool make_all(Mending& mending, const std::function<bool(const RunWork&, std::size_t)>& asks,
              const std::function<bool(const build::StockItem&, const build::Piece&, const Duty&)>& serves,
              std::string_view why_not) {
  bool any = false;
  for (const RunResult& result : mending.evaluation.runs) {
    RunWork& work = mending.run(result.id);
    for (std::size_t row = 0; row < work.run().pieces.size(); ++row) {
      if (!build::is_flexible(work.shape(row)) || !asks(work, row))
        continue;
      const Duty duty = duty_of_row(mending, result.id, row);
      const bool made = make_hose_of_other(
          mending, work, row,
          [&](const build::StockItem& item, const build::Piece& piece) { return serves(item, piece, duty); });
      if (!made)
        mending.open.push_back(fmt::format("{}, {}: {}", words(result.id.text), work.name(row), why_not));
      any = any || made;
    }
  }
  return any;
}

/// Whether the air of a run has been through a blower on an earlier step of its own path.
bool is_behind_blower(const build::Build& build, const build::RunId& run) {
  const auto found = std::ranges::find_if(build.path, [&](const build::PathStep& step) {
    const auto* id = std::get_if<build::RunId>(&step);
    return id != nullptr && *id == run;
  });
  const auto at = static_cast<std::size_t>(found - build.path.begin());
  const build::BranchId& branch = found->branch;
  for (std::size_t step = 0; step < at; ++step)
    if (const auto* id = std::get_if<build::MachineId>(&build.path[step]))
      if (const bool beside = !branch.text.empty() && !build.path[step].branch.text.empty() &&
                              build.path[step].branch != branch;
          !beside && build::is_blower(build.find(*id)->kind))
        return true;
  return false;
}

} // namespace

bool mend_movement(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  if (work == nullptr || !row || !std::holds_alternative<build::Hose>(work->shape(*row)))
    return false;
  const auto joints = mending.joints();
  const joint::Joint &first = work->fit().joints[joints.front()], &second = work->fit().joints[joints.back()];
  if (first.kind != joint::Kind::hose || second.kind != joint::Kind::hose)
    return false;
  const build::Piece old = work->run().pieces[*row];
  std::optional<build::Piece> best;
  std::tuple<bool, int, std::int64_t> least;
  for (const Part& part : mending.shop.hoses()) {
    const build::Shape& hump = part.piece.shape;
    if (!std::holds_alternative<build::HumpHose>(hump) ||
        !mending.shop.fits(build::bore_in_m(hump), first.spigot().outer_diameter_m) ||
        !mending.shop.fits(build::bore_out_m(hump), second.spigot().outer_diameter_m))
      continue;
    const auto sits = seat(mending.limits, hump,
                           {work->room_m(joints.front(), first.upstream),
                            work->room_m(joints.back(), second.downstream), Shop::longest_m(*part.item)});
    if (!sits)
      continue;
    build::Piece piece = old;
    piece.shape = seated(hump, *sits);
    piece.material = part.piece.material;
    piece.stock = part.item->id;
    piece.give = {};
    const std::tuple cost(
        !stands(mending.limits, *part.item, piece, duty_of_row(mending, work->run().id, *row)), sits->poor,
        mending.shop.price_minor(*part.item, piece));
    if (!best || cost < least) {
      best = std::move(piece);
      least = cost;
    }
  }
  if (!best)
    return false;
  std::string step = fmt::format("{}: replace it by {}", work->name(*row), described(mending.build, *best));
  work->replace(*row, *std::move(best), std::move(step));
  return true;
}

bool mend_soft_hose(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  if (work == nullptr || !row)
    return false;
  const Duty duty = duty_of_row(mending, work->run().id, *row);
  return make_hose_of_other(mending, *work, *row,
                            [&](const build::StockItem& item, const build::Piece& piece) {
                              return joint::is_stiff(piece.shape, &item, mending.limits) &&
                                     stands(mending.limits, item, piece, duty);
                            });
}

bool mend_hose_rating(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  if (work == nullptr || !row || !build::is_flexible(work->shape(*row)))
    return false;
  Duty duty = duty_of_row(mending, work->run().id, *row);
  duty.gauge_Pa /= mending.limits.hose_gauge_share; // so that the margin is left too
  return make_hose_of_other(mending, *work, *row,
                            [&](const build::StockItem& item, const build::Piece& piece) {
                              return stands(mending.limits, item, piece, duty);
                            });
}

bool mend_assumed_rating(Mending& mending) {
  const auto item_of = [&](const build::Piece& piece) {
    return piece.stock.text.empty() ? nullptr : mending.build.find(piece.stock);
  };
  return make_all(
      mending,
      [&](const RunWork& work, std::size_t row) {
        const build::Piece& piece = work.run().pieces[row];
        const Duty duty = duty_of_row(mending, work.run().id, row);
        return !joint::working_gauge_Pa(piece, item_of(piece), mending.limits).stated &&
               above(duty.gauge_Pa, mending.limits.bead_from_gauge_Pa);
      },
      [&](const build::StockItem& item, const build::Piece& piece, const Duty& duty) {
        return item.max_gauge_Pa && stands(mending.limits, item, piece, duty);
      },
      "no hose of that size in stock says what pressure it is made for");
}

bool mend_oil_mist(Mending& mending) {
  const auto proof = [](const build::StockItem* item, const build::Piece& piece) {
    return piece.material != build::Material::silicone || (item != nullptr && item->oil_proof);
  };
  return make_all(
      mending,
      [&](const RunWork& work, std::size_t row) {
        const build::Piece& piece = work.run().pieces[row];
        return is_behind_blower(mending.build, work.run().id) &&
               !proof(piece.stock.text.empty() ? nullptr : mending.build.find(piece.stock), piece);
      },
      [&](const build::StockItem& item, const build::Piece& piece, const Duty& duty) {
        return item.oil_proof && stands(mending.limits, item, piece, duty);
      },
      "no hose of that size in stock is proof against oil");
}

bool mend_near_miss(Mending& mending) {
  RunWork* work = mending.run();
  const auto row = mending.row();
  if (work == nullptr || !row)
    return false;
  const Duty duty = duty_of_row(mending, work->run().id, *row);
  const auto exact = [&](const joint::Joint& joint, double bore_m) {
    return joint.kind != joint::Kind::hose ||
           !above(std::abs(joint.spigot().outer_diameter_m - bore_m), mending.limits.near_miss_least_m);
  };
  const auto joints = mending.joints();
  return make_hose_of_other(
      mending, *work, *row, [&](const build::StockItem& item, const build::Piece& piece) {
        return exact(work->fit().joints[joints.front()], build::bore_in_m(piece.shape)) &&
               exact(work->fit().joints[joints.back()], build::bore_out_m(piece.shape)) &&
               stands(mending.limits, item, piece, duty);
      });
}

} // namespace bellmouth::join
