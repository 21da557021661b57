// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/buy/sawing.hpp>
#include <bellmouth/list/text.hpp>

#include <spdlog/fmt/fmt.h>

#include <map>
#include <numbers>

namespace bellmouth::buy {
namespace {

std::string mm(double length_m) {
  return quantity::write_fixed(quantity::Dimension::length, length_m, "mm", 1, false);
}

/// "312.5 straight", "straight 50.0, 45 deg at R 95.0, straight 100.0".
std::string words(const Body& body) {
  if (body.angle_rad == 0)
    return mm(body.length_m()) + " straight";
  std::string text = fmt::format("{} deg at R {}", list::in_deg(body.angle_rad), mm(body.radius_m));
  if (body.straight_in_m > 0)
    text = fmt::format("straight {}, {}", mm(body.straight_in_m), text);
  if (body.straight_out_m > 0)
    text += fmt::format(", straight {}", mm(body.straight_out_m));
  return text;
}

} // namespace

list::Table sawing(const build::Build& build, const Purchase& purchase) {
  list::Table table{
      "sawing", {"cut from", "length [mm]", "piece", "from [mm]", "to [mm]", "which way", "what"}, {}};
  const Task& task = purchase.task;
  std::map<std::size_t, int> of_item;
  const auto add = [&](std::vector<build::PieceRef> pieces, std::vector<std::string> cells) {
    table.rows.push_back(std::move(cells));
    table.pieces.push_back(std::move(pieces));
  };
  for (const Use& use : purchase.plan.uses) {
    if (use.cuts.empty())
      continue;
    const Source& source = task.sources[use.offer];
    const build::StockItem& item = (*build.stock)[source.item];
    const std::string thing = fmt::format("{} no. {}{}", item.name.empty() ? item.id.text : item.name,
                                          ++of_item[source.item], source.owned ? ", owned" : "");
    const std::string length = mm(use.length_m);
    for (const Cut& cut : use.cuts) {
      const Part& part = task.parts[cut.need];
      add({part.piece}, {thing, length, list::place(part.piece) + (part.spare ? " (spare)" : ""),
                         mm(cut.from_m), mm(cut.to_m), cut.turned ? "its outlet first" : "its inlet first",
                         words(task.question.needs[cut.need].body)});
    }
    for (const Body& left : use.offcuts)
      if (left.length_m() > task.question.kerf_m)
        add({}, {thing, length, "left over", "", "", "", words(left)});
  }
  return table;
}

} // namespace bellmouth::buy
