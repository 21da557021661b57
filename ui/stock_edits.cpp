// SPDX-License-Identifier: GPL-3.0-or-later
#include "stock_edits.hpp"

#include <algorithm>
#include <cassert>
#include <numbers>
#include <unordered_set>

namespace bellmouth::ui {

namespace {

using build::StockItem;
using build::StockKind;

constexpr double right_angle_rad = std::numbers::pi / 2;

/// Gives every piece that is bought as `from` the item `to`.
void rename_in_pieces(build::Build& build, const build::StockId& from, const build::StockId& to) {
  for (build::Option& option : build.options)
    for (auto& run : option.runs) {
      if (std::ranges::none_of(run->pieces, [&](const auto& piece) { return piece.stock == from; }))
        continue;
      build::Run changed = *run;
      for (build::Piece& piece : changed.pieces)
        if (piece.stock == from)
          piece.stock = to;
      run = std::move(changed);
    }
}

} // namespace

StockUses stock_uses(const build::Option& option, const list::Lists& lists) {
  StockUses uses;
  for (const auto& run : option.runs)
    for (std::size_t row = 0; row < run->pieces.size(); ++row)
      if (const build::StockId& stock = run->pieces[row].stock; !stock.text.empty()) {
        StockUse& use = uses[stock.text];
        ++use.count;
        use.pieces.push_back({option.id, run->id, row});
      }
  for (const list::ClampLine& line : lists.clamps)
    if (line.stock) {
      StockUse& use = uses[line.stock->text];
      use.count += line.count;
      use.pieces.insert(use.pieces.end(), line.pieces.begin(), line.pieces.end());
    }
  return uses;
}

BoughtAs bought_as_anywhere(const build::Build& build, const build::StockId& id) {
  BoughtAs result;
  for (const build::Option& option : build.options) {
    const int before = result.pieces;
    for (const auto& run : option.runs)
      result.pieces += static_cast<int>(
          std::ranges::count_if(run->pieces, [&](const build::Piece& piece) { return piece.stock == id; }));
    result.options += result.pieces > before ? 1 : 0;
  }
  return result;
}

build::StockItem ordinary_item(StockKind kind, quantity::Currency currency) {
  StockItem item;
  item.kind = kind;
  item.price = {0, currency};
  const bool flexible = kind == StockKind::hose || kind == StockKind::hump_hose ||
                        kind == StockKind::hose_elbow || kind == StockKind::hose_reducer;
  item.material = flexible                   ? build::Material::silicone
                  : kind == StockKind::clamp ? build::Material::stainless_steel
                                             : build::Material::aluminium;
  switch (kind) {
  case StockKind::tube:
    item.outer_diameter_m = 60e-3;
    item.wall_m = 2e-3;
    item.per = build::Per::metre;
    break;
  case StockKind::tube_bend:
  case StockKind::mitred_bend:
    item.outer_diameter_m = 60e-3;
    item.wall_m = 2e-3;
    item.angle_rad = right_angle_rad;
    item.radius_m = 90e-3;
    item.leg_in_m = item.leg_out_m = 100e-3;
    break;
  case StockKind::cone:
  case StockKind::adapter:
    item.bore_m = 56e-3;
    item.bore_out_m = 66e-3;
    item.wall_m = 2e-3;
    item.length_m = 80e-3;
    break;
  case StockKind::hose:
  case StockKind::hump_hose:
    item.bore_m = 60e-3;
    item.wall_m = 5e-3;
    item.length_m = 76e-3;
    break;
  case StockKind::hose_elbow:
    item.bore_m = 60e-3;
    item.wall_m = 5e-3;
    item.angle_rad = right_angle_rad;
    item.radius_m = 60e-3;
    item.leg_in_m = item.leg_out_m = 100e-3;
    break;
  case StockKind::hose_reducer:
    item.bore_m = 60e-3;
    item.bore_out_m = 70e-3;
    item.wall_m = 5e-3;
    item.length_m = 76e-3;
    break;
  case StockKind::sensor_boss:
    item.thread = "M12x1.5";
    break;
  case StockKind::valve_flange:
    item.bore_m = 25e-3;
    break;
  case StockKind::clamp:
    item.clamp_min_m = 60e-3;
    item.clamp_max_m = 80e-3;
    item.band_width_m = 12e-3;
    item.clamp_type = build::ClampType::worm;
    break;
  }
  return item;
}

build::StockItem of_kind(const StockItem& item, StockKind kind) {
  const StockItem usual = ordinary_item(kind, item.price.currency);
  StockItem next = item;
  next.kind = kind;
  const bool hose = usual.material == build::Material::silicone, clamp = kind == StockKind::clamp;
  const auto keep_if = [](auto& part, bool keep) {
    if (!keep)
      part.reset();
  };
  const bool tapered = kind == StockKind::cone || kind == StockKind::adapter;
  keep_if(next.outer_diameter_m, usual.outer_diameter_m || tapered);
  keep_if(next.bore_m, usual.bore_m.has_value());
  keep_if(next.bore_out_m, usual.bore_out_m || kind == StockKind::hose_elbow);
  keep_if(next.wall_m, usual.wall_m.has_value());
  keep_if(next.length_m, usual.length_m || kind == StockKind::tube);
  keep_if(next.angle_rad, usual.angle_rad.has_value());
  keep_if(next.radius_m, usual.radius_m.has_value());
  keep_if(next.leg_in_m, usual.leg_in_m.has_value());
  keep_if(next.leg_out_m, usual.leg_out_m.has_value());
  keep_if(next.thread, usual.thread.has_value());
  keep_if(next.plies, hose);
  keep_if(next.clamp_type, clamp);
  keep_if(next.torque_Nm, clamp);
  keep_if(next.band_width_m, clamp);
  next.oil_proof = next.oil_proof && hose;
  next.wire = next.wire && hose;
  if (!clamp) {
    next.clamp_min_m.reset();
    next.clamp_max_m.reset();
  } else if (!next.clamp_min_m) { // there is no clamp without its range
    next.clamp_min_m = usual.clamp_min_m;
    next.clamp_max_m = usual.clamp_max_m;
  }
  return next;
}

build::StockId free_stock_id(const build::Build& build, const std::string& wanted) {
  std::unordered_set<std::string_view> taken;
  for (const StockItem& item : *build.stock)
    taken.insert(item.id.text);
  build::StockId id{wanted};
  for (int number = 2; taken.contains(id.text); ++number)
    id.text = wanted + "-" + std::to_string(number);
  return id;
}

build::Build with_item_inserted(const build::Build& build, std::size_t before, StockItem item) {
  std::vector<StockItem> stock = *build.stock;
  stock.insert(stock.begin() + static_cast<std::ptrdiff_t>(std::min(before, stock.size())), std::move(item));
  return build::with_stock(build, std::move(stock));
}

build::Build with_item_replaced(const build::Build& build, const build::StockId& id, StockItem item) {
  const auto at = place_of(build, id);
  assert(at);
  build::Build next = build;
  if (item.id != id) {
    rename_in_pieces(next, id, item.id);
    for (build::Owned& owned : next.owned)
      if (owned.stock == id)
        owned.stock = item.id;
    for (build::Offcut& offcut : next.offcuts)
      if (offcut.stock == id)
        offcut.stock = item.id;
  }
  std::vector<StockItem> stock = *build.stock;
  stock[*at] = std::move(item);
  next.stock = std::move(stock);
  return next;
}

build::Build with_item_removed(const build::Build& build, const build::StockId& id) {
  std::vector<StockItem> stock = *build.stock;
  std::erase_if(stock, [&](const StockItem& item) { return item.id == id; });
  return build::with_stock(build, std::move(stock));
}

std::optional<std::size_t> place_of(const build::Build& build, const build::StockId& id) {
  const auto found = std::ranges::find(*build.stock, id, &StockItem::id);
  return found == build.stock->end() ? std::nullopt
                                     : std::optional(static_cast<std::size_t>(found - build.stock->begin()));
}

bool leaves_bent_offcuts(StockKind kind) {
  return kind == StockKind::tube_bend || kind == StockKind::hose_elbow;
}
bool leaves_offcuts(StockKind kind) {
  return leaves_bent_offcuts(kind) || kind == StockKind::tube || kind == StockKind::hose;
}

std::vector<build::Offcut> offcuts_of(const build::Build& build, const build::StockId& id) {
  std::vector<build::Offcut> offcuts;
  std::ranges::copy_if(build.offcuts, std::back_inserter(offcuts),
                       [&](const build::Offcut& offcut) { return offcut.stock == id; });
  return offcuts;
}

build::Build with_offcuts_of(const build::Build& build, const build::StockId& id,
                             std::vector<build::Offcut> offcuts) {
  std::vector<build::Offcut> all = build.offcuts;
  std::erase_if(all, [&](const build::Offcut& offcut) { return offcut.stock == id; });
  for (build::Offcut& offcut : offcuts)
    all.push_back(std::move(offcut));
  return build::with_offcuts(build, std::move(all));
}

} // namespace bellmouth::ui
