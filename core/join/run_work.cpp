// SPDX-License-Identifier: GPL-3.0-or-later
// What is known of a run under work, and how it is changed; the work itself is in the files beside.
#include "run_work.hpp"

#include "seat.hpp"
#include "words.hpp"

#include <bellmouth/build/fittings.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <iterator>

namespace bellmouth::join {

RunWork::RunWork(Shop& shop, build::Run run, Duty duty)
    : shop_(shop), run_(std::move(run)), duty_(duty), fit_(joint::fit(shop.build(), run_)) {
  for (std::size_t row = 0; row < run_.pieces.size(); ++row)
    origins_.push_back({numbers_++, row});
  length_before_m_ = length_m();
}

void RunWork::refresh() {
  fit_ = joint::fit(shop_.build(), run_);
}

double RunWork::length_m() const {
  double length_m = 0;
  for (const joint::Row& row : fit_.rows)
    length_m += row.centreline_length_m;
  return length_m;
}

void RunWork::say(std::size_t row, std::string step) {
  said_.push_back({origins_[row].number, words(run_.id.text) + ", " + std::move(step)});
}

void RunWork::replace(std::size_t row, build::Piece piece, std::string step) {
  shop_.use(piece);
  say(row, std::move(step));
  run_.pieces[row] = std::move(piece);
  refresh();
}

void RunWork::insert_before(std::size_t row, std::vector<build::Piece> pieces) {
  for (const build::Piece& piece : pieces)
    shop_.use(piece);
  std::vector<Origin> origins;
  for (std::size_t i = 0; i < pieces.size(); ++i)
    origins.push_back({numbers_++, std::nullopt});
  const auto at = static_cast<std::ptrdiff_t>(row);
  origins_.insert(origins_.begin() + at, origins.begin(), origins.end());
  run_.pieces.insert(run_.pieces.begin() + at, std::make_move_iterator(pieces.begin()),
                     std::make_move_iterator(pieces.end()));
  refresh();
}

void RunWork::remove(std::size_t row) {
  const auto at = static_cast<std::ptrdiff_t>(row);
  origins_.erase(origins_.begin() + at);
  run_.pieces.erase(run_.pieces.begin() + at);
  refresh();
}

std::pair<std::size_t, std::size_t> RunWork::joints_of(std::size_t row) const {
  const auto behind =
      std::ranges::find_if(fit_.joints, [&](const joint::Joint& each) { return each.upstream.row == row; });
  assert(behind != fit_.joints.end() && behind != fit_.joints.begin());
  const auto index = static_cast<std::size_t>(behind - fit_.joints.begin());
  return {index - 1, index};
}

std::string RunWork::name(std::size_t row) const {
  const build::Piece& piece = run_.pieces[row];
  if (const auto& before = origins_[row].row)
    return fmt::format("row {} ({})", *before + 1, build::title(piece));
  return fmt::format("the new {}", build::kind_name(piece.shape));
}

std::string RunWork::names(const joint::Joint& joint) const {
  const std::string first = joint.upstream.row ? name(*joint.upstream.row) : "port " + words(run_.from.text);
  const std::string second =
      joint.downstream.row ? name(*joint.downstream.row) : "port " + words(run_.to.text);
  return first + " and " + second;
}

double RunWork::room_m(std::size_t joint, const joint::End& end) const {
  if (!end.row)
    return end.land_m;
  const std::size_t row = *end.row;
  const double length_m = build::full_length_m(shape(row));
  const auto [before, behind] = joints_of(row);
  const bool at_outlet = joint == behind;
  const joint::Joint& other = fit_.joints[at_outlet ? before : behind];
  const bool other_is_hosed = other.kind == joint::Kind::hose || wants_pieces(other);
  const double other_m =
      other.kind == joint::Kind::hose ? other.engagement_m : shop_.limits().engagement_caution_m;
  double room_m = end.land_m;
  if (other_is_hosed) // each end has a claim to half the piece
    room_m = std::min(room_m, length_m - std::min(other_m, length_m / 2));
  for (std::size_t at = row + 1; at < run_.pieces.size() && build::is_fitting(shape(at)); ++at) {
    const double position_m = build::position_m(shape(at));
    const double free_m =
        (at_outlet ? length_m - position_m : position_m) - shop_.limits().fitting_from_hose_m;
    if (!below(free_m, shop_.limits().engagement_stop_m)) // else the fitting is what has to move
      room_m = std::min(room_m, free_m);
  }
  return room_m;
}

bool RunWork::is_misfit(const joint::Joint& joint) const {
  return joint.kind == joint::Kind::hose && !shop_.fits(joint.hose().bore_m, joint.spigot().outer_diameter_m);
}

bool RunWork::wants_pieces(const joint::Joint& joint) const {
  const auto is_spigot = [](const joint::End& end) {
    return end.connection.kind == build::Connection::Kind::spigot;
  };
  if (!is_spigot(joint.upstream) || !is_spigot(joint.downstream))
    return false;
  if (joint.kind == joint::Kind::weld)
    return !joint.upstream.row || !joint.downstream.row || (joint.upstream.beaded && joint.downstream.beaded);
  return joint.kind == joint::Kind::wrong;
}

Side RunWork::side_of(std::size_t joint, const joint::End& end) const {
  Side side{end.flexible, end.flexible ? end.bore_m : end.outer_diameter_m, 0, false, end.material};
  if (!end.flexible) {
    side.room_m = room_m(joint, end);
    side.can_be_welded = end.row.has_value() && !end.beaded;
    return side;
  }
  const build::Engagement straight = straight_ends_m(shape(*end.row)), now = engagement_of(shape(*end.row));
  const bool at_outlet = fit_.joints[joint].upstream.row == end.row;
  side.room_m = std::min(std::max(at_outlet ? now.out_m : now.in_m, shop_.limits().engagement_caution_m),
                         at_outlet ? straight.out_m : straight.in_m);
  return side;
}

Wish RunWork::wish() const {
  Wish wish;
  wish.duty = duty_;
  const build::Port* from = shop_.build().find(run_.from);
  const build::Port* to = shop_.build().find(run_.to);
  const auto hoses =
      std::ranges::count_if(run_.pieces, [](const auto& each) { return build::is_flexible(each.shape); });
  const auto gaps =
      std::ranges::count_if(fit_.joints, [&](const joint::Joint& each) { return wants_pieces(each); });
  wish.hump = from->mounting != to->mounting && hoses == 0 && gaps <= 1;
  const auto rigid =
      std::ranges::find_if(run_.pieces, [](const auto& each) { return build::is_rigid(each.shape); });
  if (rigid != run_.pieces.end())
    wish.metal = rigid->material;
  const auto hose =
      std::ranges::find_if(run_.pieces, [](const auto& each) { return build::is_flexible(each.shape); });
  if (hose != run_.pieces.end())
    wish.hose = hose->material;
  return wish;
}

void RunWork::do_all() {
  // What is put in may have to be engaged otherwise, and a hose that fits now may take a tube: few rounds do.
  constexpr int most_rounds = 8;
  bool more = true;
  for (int round = 0; round < most_rounds && more; ++round) {
    more = replace_misfits();
    more = put_in_what_is_missing() || more;
    more = set_engagements() || more;
  }
  take_beads_off_welds();
}

std::vector<std::string> RunWork::steps() const {
  const auto place = [&](const Said& said) {
    return std::ranges::find(origins_, said.number, &Origin::number) - origins_.begin();
  };
  auto said = said_;
  std::ranges::stable_sort(said, {}, place);
  std::vector<std::string> steps;
  steps.reserve(said.size() + 1);
  for (Said& each : said)
    steps.push_back(std::move(each.step));
  const double longer_m = length_m() - length_before_m_;
  constexpr double told_m = 0.05e-3;
  if (!steps.empty() && std::abs(longer_m) >= told_m)
    steps.push_back(
        fmt::format("{}: {} {} along its centreline", words(run_.id.text),
                    quantity::write_fixed(quantity::Dimension::length, std::abs(longer_m), "mm", 1),
                    longer_m > 0 ? "longer" : "shorter"));
  return steps;
}

std::string described(const build::Build& build, const build::Piece& piece) {
  const double length_m = build::full_length_m(piece.shape);
  const build::StockItem* item = piece.stock.text.empty() ? nullptr : build.find(piece.stock);
  if (item == nullptr)
    return fmt::format("{} of {}", build::kind_name(piece.shape), millimetres(length_m));
  const bool straight =
      std::holds_alternative<build::Tube>(piece.shape) || std::holds_alternative<build::Hose>(piece.shape);
  if (!straight)
    return item->name;
  if (item->per == build::Per::metre)
    return fmt::format("{} of {}", millimetres(length_m), item->name);
  return item->length_m && differ(*item->length_m, length_m)
             ? fmt::format("{}, cut to {}", item->name, millimetres(length_m))
             : item->name;
}

} // namespace bellmouth::join
