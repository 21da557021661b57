// SPDX-License-Identifier: GPL-3.0-or-later
// From a buying plan to places for the saw.
#include <bellmouth/buy/sawing.hpp>
#include <bellmouth/list/text.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <map>
#include <utility>

namespace bellmouth::buy {
namespace {

/// Places on one body.
class Ruler {
public:
  Ruler(const Body& body, double length_m, double outer_diameter_m)
      : body_(body), length_m_(length_m), half_m_(outer_diameter_m / 2) {}

  [[nodiscard]] Place at(double from_a_m) const {
    Place place;
    place.from_a_m = from_a_m;
    if (body_.angle_rad <= 0)
      return place;
    const double into_arc_m = from_a_m - body_.straight_in_m;
    const double arc_m = body_.radius_m * body_.angle_rad;
    if (into_arc_m <= nothing_m) {
      place.on = Place::On::leg_a;
      place.from_arc_m = std::max(-into_arc_m, 0.0);
    } else if (into_arc_m < arc_m - nothing_m) {
      const double angle_rad = into_arc_m / body_.radius_m;
      place.on = Place::On::arc;
      place.arc = {angle_rad, (body_.radius_m - half_m_) * angle_rad, into_arc_m,
                   (body_.radius_m + half_m_) * angle_rad};
    } else {
      place.on = Place::On::leg_b;
      place.from_arc_m = std::max(into_arc_m - arc_m, 0.0);
    }
    return place;
  }
  [[nodiscard]] double length_m() const { return length_m_; }

private:
  const Body& body_;
  double length_m_, half_m_;
};

SawnThing parts_of(const Question& question, const Use& use, double outer_diameter_m) {
  const double kerf_m = question.kerf_m;
  const Ruler ruler(question.offers[use.offer].body, use.length_m, outer_diameter_m);
  SawnThing thing;
  thing.offer = use.offer;
  thing.length_m = use.length_m;
  thing.kerf_m = kerf_m;
  const auto add = [&](double from_m, double to_m) -> SawnPart& {
    SawnPart& part = thing.parts.emplace_back();
    part.from = ruler.at(from_m);
    part.to = ruler.at(to_m);
    part.sawn_from = from_m > nothing_m;
    part.sawn_to = to_m < ruler.length_m() - nothing_m;
    return part;
  };
  double free_m = 0; // where what is not taken yet begins
  for (const Cut& cut : use.cuts) {
    if (cut.from_m - kerf_m - free_m > nothing_m)
      add(free_m, cut.from_m - kerf_m);
    SawnPart& part = add(cut.from_m, cut.to_m);
    part.need = cut.need;
    part.turned = cut.turned;
    part.short_by_rad = cut.short_by_rad;
    part.own_cuts = question.needs[cut.need].own_cuts;
    free_m = cut.to_m + kerf_m;
  }
  if (ruler.length_m() - free_m > nothing_m)
    add(free_m, ruler.length_m());
  return thing;
}

std::string mm(double length_m) {
  return quantity::write_fixed(quantity::Dimension::length, length_m, "mm", 1, false);
}

std::string on_bend(const Place& place) {
  switch (place.on) {
  case Place::On::straight:
    return "";
  case Place::On::leg_a:
    return fmt::format("in the leg at A, {} before the arc", mm(place.from_arc_m));
  case Place::On::arc:
    return fmt::format("in the arc at {} deg: inside {}, centre {}, outside {} from its start",
                       list::in_deg(place.arc.angle_rad), mm(place.arc.inside_m), mm(place.arc.centreline_m),
                       mm(place.arc.outside_m));
  case Place::On::leg_b:
    break;
  }
  return fmt::format("in the other leg, {} behind the arc", mm(place.from_arc_m));
}

std::string note(const SawnPart& part) {
  std::string words;
  const auto add = [&](std::string text) { words += (words.empty() ? "" : "; ") + std::move(text); };
  constexpr double least_rad = 1e-4; // what a hundredth of a degree shows
  if (part.short_by_rad > least_rad)
    add(fmt::format("falls {} deg short of its angle", list::in_deg(part.short_by_rad)));
  else if (part.short_by_rad < -least_rad)
    add(fmt::format("has {} deg more than its angle", list::in_deg(-part.short_by_rad)));
  if (part.own_cuts > 0)
    add(fmt::format("saw it into {} pieces: see the wedges", part.own_cuts + 1));
  return words;
}

/// Outside diameter of what is sawn from an item; 0 where it does not say.
double outer_diameter_m(const build::StockItem& item) {
  if (item.outer_diameter_m)
    return *item.outer_diameter_m;
  return item.bore_m && item.wall_m ? *item.bore_m + 2 * *item.wall_m : 0.0;
}

} // namespace

std::vector<SawnThing> sawn_things(const Question& question, const Plan& plan,
                                   std::span<const double> outer_diameters_m) {
  assert(outer_diameters_m.size() == question.offers.size());
  std::vector<SawnThing> things;
  for (const Use& use : plan.uses) {
    if (use.cuts.empty())
      continue;
    things.push_back(parts_of(question, use, outer_diameters_m[use.offer]));
  }
  return things;
}

list::Table table(const std::vector<SawnThing>& things, std::span<const OfferWords> offers,
                  std::span<const NeedWords> needs) {
  list::Table table{"sawing",
                    {"from", "its number", "its length [mm]", "part", "begins from A [mm]",
                     "ends from A [mm]", "length [mm]", "begins on the bend", "ends on the bend",
                     "saw where it begins", "saw where it ends", "kerf [mm]", "its inlet end", "note"},
                    {},
                    {}};
  std::map<std::pair<std::string, bool>, int> numbers;
  for (const SawnThing& thing : things) {
    const OfferWords& offer = offers[thing.offer];
    const int number = ++numbers[{offer.name, offer.owned}];
    for (const SawnPart& part : thing.parts) {
      std::string name = "left over";
      std::vector<build::PieceRef> pieces;
      if (part.need) {
        name = needs[*part.need].name + (needs[*part.need].spare ? " (spare)" : "");
        pieces = needs[*part.need].pieces;
      }
      const auto saw = [&](bool sawn) { return offer.made_to_measure ? "" : sawn ? "yes" : "no"; };
      table.rows.push_back({offer.name + (offer.owned ? " (owned)" : ""), fmt::format("{}", number),
                            mm(thing.length_m), std::move(name), mm(part.from.from_a_m), mm(part.to.from_a_m),
                            mm(part.length_m()), on_bend(part.from), on_bend(part.to), saw(part.sawn_from),
                            saw(part.sawn_to), offer.made_to_measure ? "" : mm(thing.kerf_m),
                            !part.need    ? ""
                            : part.turned ? "far from A"
                                          : "near A",
                            note(part)});
      table.pieces.push_back(std::move(pieces));
    }
  }
  return table;
}

list::Table sawing(const build::Build& build, const Purchase& purchase) {
  const std::vector<build::StockItem>& stock = *build.stock;
  std::vector<double> diameters_m;
  std::vector<OfferWords> offers;
  for (const Source& source : purchase.task.sources) {
    const build::StockItem& item = stock.at(source.item);
    diameters_m.push_back(outer_diameter_m(item));
    offers.push_back({item.name.empty() ? item.id.text : item.name, source.owned, source.made_to_measure});
  }
  std::vector<NeedWords> needs;
  for (const Part& part : purchase.task.parts) {
    const build::Piece* const piece = build::find(build, part.piece);
    assert(piece != nullptr);
    needs.push_back(
        {fmt::format("{} ({})", list::place(part.piece), build::title(*piece)), {part.piece}, part.spare});
  }
  return table(sawn_things(purchase.task.question, purchase.plan, diameters_m), offers, needs);
}

} // namespace bellmouth::buy
