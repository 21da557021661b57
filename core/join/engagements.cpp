// SPDX-License-Identifier: GPL-3.0-or-later
// How far spigots go into hoses, and beads.
#include "run_work.hpp"
#include "seat.hpp"
#include "words.hpp"

#include <bellmouth/stock.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <limits>
#include <tuple>

namespace bellmouth::join {

namespace {

/// What is wrong with a hose on its spigots: what cannot stay, then what is less than wanted.
struct Faults {
  int grave = 0, poor = 0;
  [[nodiscard]] bool none() const { return grave == 0 && poor == 0; }
  friend bool operator<(const Faults& a, const Faults& b) {
    return std::tie(a.grave, a.poor) < std::tie(b.grave, b.poor);
  }
};

Faults faults(const trade::Limits& limits, const build::Shape& hose, const Spigots& spigots, bool has_gap) {
  const build::Engagement in = engagement_of(hose), straight = straight_ends_m(hose);
  Faults found;
  const auto look = [&](double engagement_m, double room_m) {
    found.grave += below(engagement_m, limits.engagement_stop_m) || above(engagement_m, room_m) ? 1 : 0;
    found.poor += below(engagement_m, limits.engagement_caution_m) ? 1 : 0;
  };
  // A reducer's ends are not as straight as they are taken for where they are chosen here.
  const bool reducer = std::holds_alternative<build::HoseReducer>(hose);
  look(in.in_m, reducer ? spigots.room_in_m : std::min(spigots.room_in_m, straight.in_m));
  look(in.out_m, reducer ? spigots.room_out_m : std::min(spigots.room_out_m, straight.out_m));
  if (!has_gap)
    return found;
  const double gap_m = build::full_length_m(hose) - in.in_m - in.out_m;
  found.grave += below(gap_m, limits.tube_gap_least_m) || above(gap_m, widest_gap_m(limits, hose)) ? 1 : 0;
  return found;
}

/// Only what is wrong is set right; the length stays.
build::Shape with_ends_set(const trade::Limits& limits, const build::Shape& hose, const Spigots& spigots) {
  const build::Engagement now = engagement_of(hose), straight = straight_ends_m(hose);
  const auto set = [&](double engagement_m, double room_m) {
    return below(room_m, limits.engagement_stop_m) // then it is not the engagement that is wrong
               ? engagement_m
               : std::min(std::max(engagement_m, limits.engagement_caution_m), room_m);
  };
  return seated(hose, {build::full_length_m(hose),
                       {set(now.in_m, std::min(spigots.room_in_m, straight.in_m)),
                        set(now.out_m, std::min(spigots.room_out_m, straight.out_m))},
                       0});
}

void set_bead(build::Shape& shape, bool at_outlet, bool bead) {
  std::visit(
      [&](auto& s) {
        if constexpr (requires { s.beads; })
          (at_outlet ? s.beads.out : s.beads.in) = bead;
      },
      shape);
}

std::string engagement_words(const build::Shape& shape) {
  const build::Engagement in = engagement_of(shape);
  return fmt::format("{} and {}", millimetres(in.in_m), millimetres(in.out_m));
}

} // namespace

bool RunWork::set_engagement(std::size_t row, std::optional<double> wanted_m) {
  const auto [before, behind] = joints_of(row);
  const joint::Joint &first = fit_.joints[before], &second = fit_.joints[behind];
  const bool in = first.kind == joint::Kind::hose, out = second.kind == joint::Kind::hose;
  if (!in && !out)
    return false;
  const build::Piece old = run_.pieces[row];
  trade::Limits limits = shop_.limits();
  limits.engagement_caution_m = wanted_m.value_or(limits.engagement_caution_m);
  // An end without a spigot is left alone.
  const auto room = [&](bool has_spigot, std::size_t index, const joint::End& end) {
    return has_spigot ? room_m(index, end) : std::numeric_limits<double>::infinity();
  };
  Spigots spigots{room(in, before, first.upstream), room(out, behind, second.downstream),
                  build::full_length_m(old.shape)};
  const bool straight = std::holds_alternative<build::Hose>(old.shape);
  const bool has_gap = in && out && (straight || std::holds_alternative<build::HumpHose>(old.shape));
  const Faults now = faults(limits, old.shape, spigots, has_gap);
  if (now.none())
    return false;

  std::optional<build::Piece> best;
  std::tuple<Faults, int, std::int64_t> least{now, 0, 0};
  const auto take = [&](build::Piece piece, int effort, std::int64_t minor) {
    const build::Engagement sits = engagement_of(piece.shape);
    if (above(sits.in_m + sits.out_m, build::full_length_m(piece.shape)))
      return;
    const Faults left = faults(limits, piece.shape, spigots, has_gap);
    if (left < now && std::tuple(left, effort, minor) < least) {
      least = {left, effort, minor};
      best = std::move(piece);
    }
  };
  const auto with_shape = [&](build::Shape shape) {
    build::Piece piece = old;
    piece.shape = std::move(shape);
    return piece;
  };
  const auto sit = [&](const build::Piece& piece, double longest_m, int effort, std::int64_t minor) {
    if (const auto sits = seat(limits, piece.shape, {spigots.room_in_m, spigots.room_out_m, longest_m})) {
      build::Piece set = piece;
      set.shape = seated(piece.shape, *sits);
      take(std::move(set), effort, minor);
    }
  };
  // The ends alone, the hose as long as it is, another length of the same, another hose: in this order where
  // they leave the same undone.
  take(with_shape(with_ends_set(limits, old.shape, spigots)), 0, 0);
  sit(old, build::full_length_m(old.shape), 1, 0);
  const build::StockItem* item = old.stock.text.empty() ? nullptr : shop_.build().find(old.stock);
  if (straight)
    sit(old, item != nullptr ? Shop::longest_m(*item) : std::numeric_limits<double>::infinity(), 2, 0);
  for (const Part& part : shop_.hoses()) {
    const build::Shape& other = part.piece.shape;
    if (other.index() != old.shape.index() || !stands(limits, *part.item, part.piece, duty_) ||
        !shop_.fits(build::bore_in_m(other),
                    in ? first.upstream.outer_diameter_m : build::bore_in_m(old.shape)) ||
        !shop_.fits(build::bore_out_m(other),
                    out ? second.downstream.outer_diameter_m : build::bore_out_m(old.shape)))
      continue;
    build::Piece piece = old;
    piece.shape = other;
    piece.material = part.piece.material;
    piece.stock = part.item->id;
    piece.give = {};
    sit(piece, Shop::longest_m(*part.item), 3, shop_.price_minor(*part.item, piece));
  }
  if (!best)
    return false;
  const build::Piece& first_piece = before_engagements_.try_emplace(origins_[row].number, old).first->second;
  const bool other_hose = best->stock != first_piece.stock;
  std::string step = other_hose
                         ? fmt::format("{}: replace it by {}, {} on its spigots", name(row),
                                       described(shop_.build(), *best), engagement_words(best->shape))
                         : fmt::format("{}: {} on its spigots instead of {}", name(row),
                                       engagement_words(best->shape), engagement_words(first_piece.shape));
  const double length_m = build::full_length_m(best->shape),
               before_m = build::full_length_m(first_piece.shape);
  if (!other_hose && differ(length_m, before_m))
    step += fmt::format(", {} long instead of {}", millimetres(length_m), millimetres(before_m));
  const auto is_of_row = [&](const Said& said) {
    return said.of_engagement && said.number == origins_[row].number;
  };
  std::erase_if(said_, is_of_row);
  replace(row, *std::move(best), std::move(step));
  said_.back().of_engagement = true;
  return true;
}

bool RunWork::set_engagements(Ends ends) {
  const auto is_new = [&](const joint::End& end) { return end.row && !origins_[*end.row].row; };
  bool any = false;
  for (std::size_t row = 0; row < run_.pieces.size(); ++row) {
    if (!build::is_flexible(shape(row)))
      continue;
    const auto [before, behind] = joints_of(row);
    const bool meant = ends == Ends::all || !origins_[row].row || is_new(fit_.joints[before].upstream) ||
                       is_new(fit_.joints[behind].downstream);
    any = (meant && set_engagement(row)) || any;
  }
  return any;
}

bool RunWork::take_bead_off_weld(std::size_t index) {
  const joint::Joint joint = fit_.joints[index];
  if (joint.kind != joint::Kind::weld)
    return false;
  bool any = false;
  for (const joint::End* end : {&joint.upstream, &joint.downstream})
    if (end->row && end->beaded) {
      build::Piece piece = run_.pieces[*end->row];
      set_bead(piece.shape, end == &joint.upstream, false);
      replace(*end->row, std::move(piece),
              fmt::format("{}: no bead on its {}, which is welded", name(*end->row),
                          end == &joint.upstream ? "outlet" : "inlet"));
      any = true;
    }
  return any;
}

void RunWork::take_beads_off_welds() {
  for (std::size_t index = 0; index < fit_.joints.size(); ++index)
    take_bead_off_weld(index);
}

bool RunWork::roll_bead(std::size_t index) {
  const joint::Joint joint = fit_.joints[index];
  const joint::End& spigot = joint.spigot();
  if (joint.kind != joint::Kind::hose || spigot.beaded || !spigot.row)
    return false;
  build::Piece piece = run_.pieces[*spigot.row];
  set_bead(piece.shape, !joint.upstream.flexible, true);
  replace(
      *spigot.row, std::move(piece),
      fmt::format("{}: a bead on its {}", name(*spigot.row), joint.upstream.flexible ? "inlet" : "outlet"));
  return true;
}

void RunWork::roll_beads(const std::vector<double>& gauge_Pa, Ends ends) {
  const auto is_new = [&](const joint::End& end) { return end.row && !origins_[*end.row].row; };
  for (std::size_t index = 0; index < fit_.joints.size() && index < gauge_Pa.size(); ++index)
    if (above(gauge_Pa[index], shop_.limits().bead_from_gauge_Pa) &&
        (ends == Ends::all || is_new(fit_.joints[index].upstream) || is_new(fit_.joints[index].downstream)))
      roll_bead(index);
}

} // namespace bellmouth::join
