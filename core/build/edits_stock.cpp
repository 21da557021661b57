// SPDX-License-Identifier: GPL-3.0-or-later
// Edits of stock, money, what is owned, and what is waived.
#include "run_edit.hpp"

#include <bellmouth/build/edits.hpp>

#include <set>

namespace bellmouth::build {

namespace {

/// Puts an entry in the place of the one with the same key, or behind the last; nothing takes that one out.
template <class Entry, class Same>
void put(std::vector<Entry>& entries, std::optional<Entry> entry, const Same& same) {
  const auto found = std::ranges::find_if(entries, same);
  if (!entry) {
    if (found != entries.end())
      entries.erase(found);
  } else if (found != entries.end()) {
    *found = *std::move(entry);
  } else {
    entries.push_back(*std::move(entry));
  }
}

std::optional<Waiver> waiver(const std::string& rule, std::string reason) {
  return reason.empty() ? std::nullopt : std::optional(Waiver{rule, std::move(reason)});
}

} // namespace

Build with_budget(const Build& build, Budget budget) {
  Build result = build;
  result.budget = std::move(budget);
  return result;
}

Build with_owned(const Build& build, const StockId& stock, double quantity) {
  const auto entry = std::ranges::find(build.owned, stock, &Owned::stock);
  return with_owned(build, {stock, quantity, entry == build.owned.end() ? std::nullopt : entry->paid});
}

Build with_owned(const Build& build, Owned owned) {
  assert(build.find(owned.stock));
  Build result = build;
  const StockId stock = owned.stock;
  put(result.owned, owned.quantity != 0 ? std::optional(std::move(owned)) : std::nullopt,
      [&](const Owned& each) { return each.stock == stock; });
  return result;
}

Build with_offcuts(const Build& build, std::vector<Offcut> offcuts) {
  Build result = build;
  result.offcuts = std::move(offcuts);
  return result;
}

Build with_stock(const Build& build, std::vector<StockItem> stock) {
  Build result = build;
  std::set<StockId> there;
  for (const StockItem& item : stock)
    there.insert(item.id);
  result.stock = std::move(stock);
  std::erase_if(result.owned, [&](const Owned& each) { return !there.contains(each.stock); });
  std::erase_if(result.offcuts, [&](const Offcut& each) { return !there.contains(each.stock); });
  const auto gone = [&](const Piece& piece) {
    return !piece.stock.text.empty() && !there.contains(piece.stock);
  };
  for (Option& option : result.options)
    for (auto& run : option.runs) {
      if (std::ranges::none_of(run->pieces, gone))
        continue;
      Run changed = *run;
      for (Piece& piece : changed.pieces)
        if (gone(piece))
          piece.stock = {};
      run = std::move(changed);
    }
  return result;
}

Build with_waiver(const Build& build, const PieceRef& ref, const std::string& rule, std::string reason) {
  return with_run(build, ref.option, ref.run, [&](Run& run) {
    assert(ref.row < run.pieces.size());
    put(run.pieces[ref.row].waivers, waiver(rule, std::move(reason)),
        [&](const Waiver& each) { return each.rule == rule; });
  });
}

Build with_waiver(const Build& build, const std::optional<MachineId>& machine, const std::string& rule,
                  std::string reason) {
  Build result = build;
  auto what = waiver(rule, std::move(reason));
  put(result.waivers, what ? std::optional(BuildWaiver{*std::move(what), machine}) : std::nullopt,
      [&](const BuildWaiver& each) { return each.what.rule == rule && each.machine == machine; });
  return result;
}

Build with_threshold(const Build& build, const std::string& key, std::optional<double> value) {
  Build result = build;
  put(result.thresholds, value ? std::optional(ChangedThreshold{key, *value}) : std::nullopt,
      [&](const ChangedThreshold& each) { return each.key == key; });
  return result;
}

} // namespace bellmouth::build
