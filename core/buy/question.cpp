// SPDX-License-Identifier: GPL-3.0-or-later
// What an option needs, and what the build has on offer for it.
#include <bellmouth/buy.hpp>
#include <bellmouth/stock.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace bellmouth::buy {
namespace {

using build::Piece;
using build::StockItem;
using build::StockKind;

bool is_sawn(StockKind kind) {
  return kind == StockKind::tube || kind == StockKind::tube_bend || kind == StockKind::hose;
}

/// What a piece is as a body; nothing where it is had whole.
std::optional<Body> body_of(const build::Shape& shape) {
  if (const auto* bend = std::get_if<build::TubeBend>(&shape))
    return Body{bend->leg_in_m, bend->radius_m, bend->angle_rad, bend->leg_out_m};
  if (std::holds_alternative<build::Tube>(shape) || std::holds_alternative<build::MitredBend>(shape) ||
      std::holds_alternative<build::Hose>(shape))
    return Body{.straight_in_m = build::full_length_m(shape)};
  return std::nullopt;
}

/// What an item is as a body; nothing where it leaves a size open or is used whole.
std::optional<Body> body_of(const StockItem& item) {
  if (item.kind == StockKind::tube_bend && item.radius_m && item.angle_rad && item.leg_in_m && item.leg_out_m)
    return Body{*item.leg_in_m, *item.radius_m, *item.angle_rad, *item.leg_out_m};
  if ((item.kind == StockKind::tube || item.kind == StockKind::hose) &&
      (item.length_m || item.per == build::Per::metre))
    return Body{.straight_in_m = item.length_m.value_or(0)};
  return std::nullopt;
}

/// Whether a straight piece could come out of the straight ends of a bend or an elbow.
bool is_leg_of(const StockItem& item, const Piece& piece) {
  if (item.kind != StockKind::tube_bend || item.material != piece.material)
    return false;
  const auto* tube = std::get_if<build::Tube>(&piece.shape);
  constexpr double tolerance_m = 0.25e-3; // as stock::serves()
  const auto same = [](const std::optional<double>& stated_m, double wanted_m) {
    return stated_m && std::abs(*stated_m - wanted_m) <= tolerance_m;
  };
  return tube != nullptr && same(item.outer_diameter_m, tube->outer_diameter_m) &&
         same(item.wall_m, tube->wall_m) &&
         std::max(item.leg_in_m.value_or(0), item.leg_out_m.value_or(0)) >= tube->length_m;
}

class Asker {
public:
  Asker(const build::Build& build, const build::Option& option, const Wishes& wishes)
      : build_(build), option_(option) {
    const trade::Limits limits = build::limits_of(build);
    task_.question.kerf_m = limits.kerf_m;
    task_.question.angle_short_rad = limits.angle_short_rad;
    task_.question.aim = wishes.aim;
    task_.question.seconds = wishes.seconds;
  }

  void add_piece(const build::Run& run, std::size_t row) {
    const Piece& piece = run.pieces[row];
    const std::optional<Body> body = body_of(piece.shape);
    Need need;
    if (body) {
      need.form = Form::sawn;
      need.body = *body;
      if (const auto* mitred = std::get_if<build::MitredBend>(&piece.shape)) {
        // A slanting cut takes more of the length than a square one.
        const double cut_rad = mitred->angle_rad / (2 * mitred->joints);
        need.own_cuts = mitred->joints;
        need.body.straight_in_m += mitred->joints * task_.question.kerf_m * (1 / std::cos(cut_rad) - 1);
      }
    }
    const StockItem* chosen = piece.stock.text.empty() ? nullptr : build_.find(piece.stock);
    const auto& stock = *build_.stock;
    for (std::size_t item = 0; item < stock.size(); ++item) {
      if (chosen != nullptr && chosen != &stock[item] && !stock::no_worse(stock[item], *chosen))
        continue;
      if (body && is_sawn(stock[item].kind) && body_of(stock[item])) {
        if (stock::has_section_of(stock[item], piece) || is_leg_of(stock[item], piece))
          offer_sawn(need, item);
      } else if (stock::serves(stock[item], piece)) {
        if (body)
          offer_made_to_measure(need, item);
        else
          offer_whole(need, item);
      }
    }
    add(std::move(need), {.piece = {option_.id, run.id, row}}, stock::kind_of(piece.shape));
  }

  void add_clamp(const build::Run& run, const joint::Joint& joint) {
    Need need;
    const auto& stock = *build_.stock;
    for (std::size_t item = 0; joint.clamp != nullptr && item < stock.size(); ++item)
      if (&stock[item] == joint.clamp || is_the_same_clamp(stock[item], *joint.clamp))
        offer_whole(need, item);
    add(std::move(need),
        {.piece = {option_.id, run.id, *joint.hose().row},
         .clamp = true,
         .installed_diameter_m = joint.installed_diameter_m},
        StockKind::clamp);
  }

  [[nodiscard]] Task task() && {
    add_spares();
    return std::move(task_);
  }

private:
  /// The offers of a stock item: as sold, as owned, each kind of its offcuts.
  using Offers = std::vector<std::size_t>;

  static bool is_the_same_clamp(const StockItem& item, const StockItem& clamp) {
    return item.kind == StockKind::clamp && item.clamp_min_m == clamp.clamp_min_m &&
           item.clamp_max_m == clamp.clamp_max_m && item.band_width_m == clamp.band_width_m &&
           item.clamp_type == clamp.clamp_type && item.material == clamp.material;
  }

  void add(Need need, Part part, StockKind kind) {
    task_.question.needs.push_back(std::move(need));
    task_.parts.push_back(std::move(part));
    kinds_.push_back(kind);
  }

  void offer_sawn(Need& need, std::size_t item) { offer(need, item, Form::sawn); }
  void offer_whole(Need& need, std::size_t item) { offer(need, item, Form::whole); }

  void offer(Need& need, std::size_t item, Form form) {
    const auto [found, is_new] = offers_.try_emplace({item, form});
    if (is_new)
      found->second = make_offers(item, form);
    need.offers.insert(need.offers.end(), found->second.begin(), found->second.end());
  }

  /// An item whose open sizes are those of the piece, or from which nothing is sawn: it yields the piece and
  /// no more.
  void offer_made_to_measure(Need& need, std::size_t item) {
    Offer offer = as_sold(item, Form::sawn);
    offer.body = need.body;
    if (offer.body.angle_rad == 0)
      offer.body.straight_in_m += need.own_cuts * task_.question.kerf_m;
    offer.by_metre = false;
    if ((*build_.stock)[item].per == build::Per::metre)
      offer.price_minor = stock::price_of((*build_.stock)[item], offer.body.length_m()).minor;
    need.offers.push_back(put(offer, {.item = item, .owned = false, .made_to_measure = true}));
  }

  Offers make_offers(std::size_t number, Form form) {
    const StockItem& item = (*build_.stock)[number];
    Offers offers{put(as_sold(number, form), {.item = number})};
    const auto put_owned = [&](const Body& body, int count) {
      Offer owned;
      owned.form = form;
      owned.body = body;
      owned.available = count;
      owned.owned = true;
      offers.push_back(put(owned, {.item = number, .owned = true}));
    };
    const auto owned = std::ranges::find(build_.owned, item.id, &build::Owned::stock);
    if (owned != build_.owned.end()) {
      // Less than a saw cut is nothing; no option needs more than a kilometre.
      constexpr double least_m = 1e-3, most_m = 1e3;
      if (item.per == build::Per::metre && owned->quantity >= least_m)
        put_owned({.straight_in_m = std::min(owned->quantity, most_m)}, 1);
      if (const int pieces = static_cast<int>(std::floor(owned->quantity + 1e-9));
          item.per == build::Per::each && pieces > 0)
        put_owned(form == Form::sawn ? *body_of(item) : Body{}, pieces);
    }
    if (form == Form::sawn)
      for (const build::Offcut& offcut : build_.offcuts)
        if (offcut.stock == item.id)
          put_owned({offcut.straight_in_m, offcut.angle_rad > 0 ? item.radius_m.value_or(0) : 0,
                     offcut.angle_rad, offcut.straight_out_m},
                    offcut.count);
    return offers;
  }

  Offer as_sold(std::size_t number, Form form) {
    const StockItem& item = (*build_.stock)[number];
    Offer offer;
    offer.form = form;
    offer.by_metre = form == Form::sawn && item.per == build::Per::metre;
    if (form == Form::sawn && !offer.by_metre)
      offer.body = body_of(item).value_or(Body{});
    if (offer.by_metre && item.length_m)
      offer.longest_m = *item.length_m;
    offer.pack = item.pack;
    offer.price_minor = item.price.minor;
    offer.supplier = supplier(item.supplier);
    return offer;
  }

  std::optional<std::size_t> supplier(const std::string& label) {
    if (label.empty())
      return std::nullopt;
    const auto found = std::ranges::find(task_.suppliers, label);
    if (found != task_.suppliers.end())
      return static_cast<std::size_t>(found - task_.suppliers.begin());
    task_.suppliers.push_back(label);
    Postage postage;
    const auto& known = build_.budget.postage;
    if (const auto stated = std::ranges::find(known, label, &build::Postage::supplier);
        stated != known.end()) {
      postage.price_minor = stated->price.minor;
      if (stated->free_from)
        postage.free_from_minor = stated->free_from->minor;
    }
    task_.question.postage.push_back(postage);
    return task_.suppliers.size() - 1;
  }

  std::size_t put(const Offer& offer, Source source) {
    task_.question.offers.push_back(offer);
    task_.sources.push_back(source);
    return task_.sources.size() - 1;
  }

  /// Needs that the same offers serve are of one sort; the spare ones are like the largest of them.
  void add_spares() {
    std::map<std::pair<StockKind, std::vector<std::size_t>>, std::vector<std::size_t>> sorts;
    for (std::size_t need = 0; need < kinds_.size(); ++need)
      sorts[{kinds_[need], task_.question.needs[need].offers}].push_back(need);
    for (const auto& [sort, members] : sorts) {
      const auto& spares = build_.budget.spares;
      const auto policy = std::ranges::find(spares, sort.first, &build::Spare::kind);
      if (policy == spares.end())
        continue;
      const std::size_t count = (members.size() * static_cast<std::size_t>(policy->percent) + 99) / 100;
      const std::size_t largest = *std::ranges::max_element(
          members, {}, [&](std::size_t need) { return task_.question.needs[need].body.length_m(); });
      for (std::size_t i = 0; i < count; ++i) {
        Part part = task_.parts[largest];
        part.spare = true;
        add(task_.question.needs[largest], std::move(part), sort.first);
      }
    }
  }

  const build::Build& build_;
  const build::Option& option_;
  Task task_;
  std::vector<StockKind> kinds_; ///< of each need
  std::map<std::pair<std::size_t, Form>, Offers> offers_;
};

} // namespace

Task task(const list::Work& work, const Wishes& wishes) {
  Asker asker(work.build, work.option, wishes);
  for (std::size_t i = 0; i < work.runs.size(); ++i) {
    const build::Run& run = *work.runs[i];
    for (std::size_t row = 0; row < run.pieces.size(); ++row)
      asker.add_piece(run, row);
    for (const joint::Joint& joint : work.fits[i].joints)
      for (int clamp = 0; clamp < joint::clamps_needed(joint); ++clamp)
        asker.add_clamp(run, joint);
  }
  return std::move(asker).task();
}

} // namespace bellmouth::buy
