// SPDX-License-Identifier: GPL-3.0-or-later
// Putting in what is missing, and changing hoses that do not fit.
#include "run_work.hpp"
#include "seat.hpp"
#include "words.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

namespace bellmouth::join {

namespace {

std::string listed(const build::Build& build, const std::vector<build::Piece>& pieces) {
  std::vector<std::string> texts;
  texts.reserve(pieces.size());
  for (const build::Piece& piece : pieces)
    texts.push_back(described(build, piece));
  return fmt::format("{}", fmt::join(texts, "; then "));
}

/// The new piece with what the user has said of the old.
build::Piece with_words_of(build::Piece piece, const build::Piece& old) {
  piece.label = old.label;
  piece.lagging = old.lagging;
  piece.waivers = old.waivers;
  return piece;
}

/// An elbow with the clocking of another.
build::Piece clocked_as(build::Piece elbow, const build::Piece& old) {
  std::get<build::HoseElbow>(elbow.shape).clocking_rad = std::get<build::HoseElbow>(old.shape).clocking_rad;
  return with_words_of(std::move(elbow), old);
}

} // namespace

bool RunWork::put_in(std::size_t index) {
  const joint::Joint& joint = fit_.joints[index];
  if (!wants_pieces(joint))
    return false;
  auto pieces = between(shop_, side_of(index, joint.upstream), side_of(index, joint.downstream), wish());
  if (pieces.empty())
    return false;
  std::string step = fmt::format("between {}: put in {}", names(joint), listed(shop_.build(), pieces));
  const std::size_t row = joint.downstream.row.value_or(run_.pieces.size());
  insert_before(row, std::move(pieces));
  say(row, std::move(step));
  return true;
}

bool RunWork::part_weld(std::size_t index) {
  const joint::Joint& joint = fit_.joints[index];
  if (joint.kind != joint::Kind::weld)
    return false;
  Side first = side_of(index, joint.upstream), second = side_of(index, joint.downstream);
  first.can_be_welded = second.can_be_welded = false;
  auto pieces = between(shop_, first, second, wish());
  if (pieces.empty())
    return false;
  std::string step =
      fmt::format("between {}: put in {} instead of the weld", names(joint), listed(shop_.build(), pieces));
  const std::size_t row = joint.downstream.row.value_or(run_.pieces.size());
  insert_before(row, std::move(pieces));
  say(row, std::move(step));
  return true;
}

bool RunWork::put_in_what_is_missing() {
  bool any = false;
  for (std::size_t index = 0; index < fit_.joints.size(); ++index) {
    const std::size_t before = run_.pieces.size();
    if (put_in(index)) {
      index += run_.pieces.size() - before;
      any = true;
    }
  }
  return any;
}

bool RunWork::replace_misfit(std::size_t row) {
  const auto [before, behind] = joints_of(row);
  const joint::Joint &in = fit_.joints[before], &out = fit_.joints[behind];
  if (!is_misfit(in) && !is_misfit(out))
    return false;
  // An end that has no spigot yet keeps its bore.
  const auto spigot = [&](std::size_t index, const joint::End& end, double bore_m) {
    return fit_.joints[index].kind == joint::Kind::hose
               ? side_of(index, end)
               : Side{.size_m = bore_m, .room_m = shop_.limits().engagement_caution_m};
  };
  const Side first = spigot(before, in.upstream, build::bore_in_m(shape(row)));
  const Side second = spigot(behind, out.downstream, build::bore_out_m(shape(row)));
  return std::holds_alternative<build::HoseElbow>(shape(row)) ? change_elbow(row, first, second)
                                                              : change_hose(row, first, second);
}

bool RunWork::change_hose(std::size_t row, const Side& before, const Side& behind) {
  Wish wish = this->wish();
  wish.hump = std::holds_alternative<build::HumpHose>(shape(row));
  Side first = before, second = behind; // they are to have a hose again
  first.can_be_welded = second.can_be_welded = false;
  auto pieces = between(shop_, first, second, wish);
  if (pieces.empty())
    return false;
  std::string step = fmt::format("{}: replace it by {}", name(row), listed(shop_.build(), pieces));
  const build::Piece old = run_.pieces[row];
  if (pieces.size() == 1) {
    replace(row, with_words_of(std::move(pieces.front()), old), std::move(step));
    return true;
  }
  const std::size_t count = pieces.size();
  insert_before(row, std::move(pieces));
  say(row, std::move(step));
  remove(row + count);
  return true;
}

bool RunWork::change_elbow(std::size_t row, const Side& before, const Side& behind) {
  const build::Piece old = run_.pieces[row];
  const double angle_rad = build::angle_rad(old.shape);
  constexpr double same_angle_rad = 0.5 * std::numbers::pi / 180;
  const auto goes_on = [&](const build::Shape& shape, bool first, bool second) {
    return (!first || shop_.fits(build::bore_in_m(shape), before.size_m)) &&
           (!second || shop_.fits(build::bore_out_m(shape), behind.size_m));
  };
  /// The elbow of the same angle that goes on the spigots asked for.
  const auto find = [&](bool first, bool second) {
    const Part* best = nullptr;
    std::optional<Seat> best_seat;
    std::tuple<bool, int, double, std::int64_t> least;
    for (const Part& part : shop_.elbows()) {
      const auto& elbow = std::get<build::HoseElbow>(part.piece.shape);
      if (std::abs(elbow.angle_rad - angle_rad) > same_angle_rad || !goes_on(part.piece.shape, first, second))
        continue;
      const auto sits = seat(shop_.limits(), part.piece.shape,
                             {before.room_m, behind.room_m, build::full_length_m(part.piece.shape)});
      if (!sits)
        continue;
      const double off_m = std::abs(elbow.radius_m - std::get<build::HoseElbow>(old.shape).radius_m);
      const std::tuple cost(!stands(shop_.limits(), *part.item, part.piece, duty_), sits->poor, off_m,
                            shop_.price_minor(*part.item, part.piece));
      if (best == nullptr || cost < least) {
        best = &part;
        best_seat = sits;
        least = cost;
      }
    }
    if (best == nullptr)
      return std::optional<build::Piece>();
    build::Piece piece = best->piece;
    piece.shape = seated(piece.shape, *best_seat);
    return std::optional(clocked_as(std::move(piece), old));
  };

  if (auto whole = find(true, true)) {
    std::string step = fmt::format("{}: replace it by {}", name(row), described(shop_.build(), *whole));
    replace(row, *std::move(whole), std::move(step));
    return true;
  }
  // One end goes on as it is, or by another elbow; the other gets pieces that change the size.
  for (const bool at_inlet : {true, false}) {
    build::Piece elbow = old;
    if (!goes_on(old.shape, at_inlet, !at_inlet)) {
      auto other = find(at_inlet, !at_inlet);
      if (!other)
        continue;
      elbow = *std::move(other);
    }
    const double open_bore_m = at_inlet ? build::bore_out_m(elbow.shape) : build::bore_in_m(elbow.shape);
    const Side hose{.flexible = true, .size_m = open_bore_m, .room_m = shop_.limits().engagement_caution_m};
    auto pieces = at_inlet ? between(shop_, hose, behind, wish()) : between(shop_, before, hose, wish());
    if (pieces.empty())
      continue;
    const std::string put = listed(shop_.build(), pieces);
    std::string step = fmt::format("{} {}: put in {}", at_inlet ? "behind" : "before", name(row), put);
    if (elbow != old)
      replace(row, elbow, fmt::format("{}: replace it by {}", name(row), described(shop_.build(), elbow)));
    const std::size_t at = at_inlet ? row + 1 : row;
    insert_before(at, std::move(pieces));
    say(at, std::move(step));
    return true;
  }
  return false;
}

bool RunWork::replace_misfits() {
  bool any = false;
  for (std::size_t row = 0; row < run_.pieces.size(); ++row)
    if (build::is_flexible(shape(row))) {
      const std::size_t before = run_.pieces.size();
      if (replace_misfit(row)) {
        row += run_.pieces.size() - before;
        any = true;
      }
    }
  return any;
}

} // namespace bellmouth::join
