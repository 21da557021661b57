// SPDX-License-Identifier: GPL-3.0-or-later
#include "attempt.hpp"
#include "sizes.hpp"
#include "surroundings.hpp"

#include <bellmouth/stock.hpp>

#include <algorithm>
#include <cassert>

namespace bellmouth::route {
namespace {

/// What differs, over all sizes.
std::vector<Change> changes(const build::Run& from, const build::Run& to) {
  std::vector<Change> found;
  for (std::size_t row = 0; row < from.pieces.size(); ++row)
    for (const What what : all_sizes) {
      const auto before = value(from.pieces[row].shape, what), after = value(to.pieces[row].shape, what);
      if (before && *before != *after)
        found.push_back({row, what, *before, *after});
    }
  return found;
}

std::optional<bay::Gap> tightest(const std::vector<Near>& near) {
  const auto least = std::ranges::min_element(near, {}, [](const Near& each) { return each.gap.margin_m(); });
  return least == near.end() ? std::nullopt : std::optional(least->gap);
}

/// Takes stock items off rows that they no longer serve.
std::vector<std::size_t> without_stock(const build::Build& build, const build::Run& from, build::Run& to) {
  std::vector<std::size_t> rows;
  for (std::size_t row = 0; row < to.pieces.size(); ++row) {
    build::Piece& piece = to.pieces[row];
    const build::StockItem* const item = piece.stock.text.empty() ? nullptr : build.find(piece.stock);
    if (!item || piece.shape == from.pieces[row].shape || !stock::serves(*item, from.pieces[row]) ||
        stock::serves(*item, piece))
      continue;
    piece.stock = {};
    rows.push_back(row);
  }
  return rows;
}

} // namespace

Met meet(const build::Build& build, const build::OptionId& option, const build::RunId& run_id,
         const std::vector<Freedom>& freedoms, const Wanted& wanted) {
  const build::Option* const chosen = build.find(option);
  assert(chosen != nullptr && chosen->find(run_id) != nullptr);
  const build::Run& run = *chosen->find(run_id);
  assert(!validate(run, freedoms));
  Task task{build, option, run, freedoms, wanted};
  std::ranges::sort(task.freedoms, {}, [](const Freedom& each) { return std::pair(each.row, each.what); });

  Attempt found = attempt(task, {});
  if (found.stop == Stop::met && wanted.few)
    found = with_few_changes(task, std::move(found));
  Met met;
  met.stop = found.stop;
  met.iterations = found.evaluations;
  met.binding = found.binding;
  met.in_the_way = found.in_the_way;
  met.before = lay(build, run).meeting;
  if (met.before && wanted.keep_clear) {
    Surroundings surroundings(task);
    met.tightest_before = tightest(surroundings.near(run));
    met.tightest_after = tightest(surroundings.near(found.run));
  }
  if (found.stop != Stop::met && found.stop != Stop::not_measured && wanted.help)
    met.help = helps(task, found);
  met.changes = changes(run, found.run);
  met.without_stock = without_stock(build, run, found.run);
  met.after = lay(build, found.run).meeting;
  met.build = met.changes.empty() ? build : with_run(build, option, std::move(found.run));
  return met;
}

} // namespace bellmouth::route
