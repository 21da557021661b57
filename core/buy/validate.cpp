// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/buy/plan.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>
#include <utility>

namespace bellmouth::buy {
namespace {

constexpr double most_kerf_m = 20e-3;
constexpr double most_short_rad = 5 * std::numbers::pi / 180;
constexpr double longest_m = 1000;
constexpr int most_cuts = 1000;

using Complaint = std::optional<Error>;

Complaint wrong(std::string path, std::string found, std::string accepted) {
  Error error;
  error.place.path = std::move(path);
  error.found = std::move(found);
  error.accepted = std::move(accepted);
  return error;
}

Complaint within(const std::string& path, double value, double lowest, double highest,
                 std::string_view unit) {
  if (value >= lowest && value <= highest)
    return std::nullopt;
  return wrong(path, fmt::format("{} {}", value, unit), fmt::format("{} to {} {}", lowest, highest, unit));
}

Complaint body_wrong(const std::string& path, const Body& body) {
  for (const auto& [name, value] : {std::pair{"straight_in_m", body.straight_in_m},
                                    {"radius_m", body.radius_m},
                                    {"straight_out_m", body.straight_out_m}})
    if (Complaint complaint = within(path + "." + name, value, 0, longest_m, "m"))
      return complaint;
  if (Complaint complaint = within(path + ".angle_rad", body.angle_rad, 0, 2 * std::numbers::pi, "rad"))
    return complaint;
  if (body.angle_rad > 0 && body.radius_m <= 0)
    return wrong(path + ".radius_m", "0 m", "more than 0 m where there is an arc");
  if (body.length_m() <= nothing_m)
    return wrong(path, fmt::format("a length of {} m", body.length_m()),
                 fmt::format("more than {} m", nothing_m));
  return std::nullopt;
}

std::string_view name_of(Form form) {
  return form == Form::whole ? "whole" : "sawn";
}

Complaint need_wrong(const std::string& path, const Need& need, const Question& question) {
  if (need.form == Form::sawn) {
    if (Complaint complaint = body_wrong(path + ".body", need.body))
      return complaint;
    if (need.own_cuts < 0 || need.own_cuts > most_cuts)
      return wrong(path + ".own_cuts", fmt::format("{}", need.own_cuts), fmt::format("0 to {}", most_cuts));
  }
  if (need.own_cuts != 0 && (need.form == Form::whole || need.body.angle_rad > 0))
    return wrong(path + ".own_cuts", fmt::format("{}", need.own_cuts),
                 "0 in what is not a straight sawn piece");
  for (std::size_t i = 0; i < need.offers.size(); ++i) {
    const std::string at = fmt::format("{}.offers[{}]", path, i);
    const std::size_t offer = need.offers[i];
    if (offer >= question.offers.size())
      return wrong(at, fmt::format("{}", offer), fmt::format("a number below {}", question.offers.size()));
    if (question.offers[offer].form != need.form)
      return wrong(at, fmt::format("an offer that is {}", name_of(question.offers[offer].form)),
                   fmt::format("one that is {} as the need", name_of(need.form)));
    if (std::find(need.offers.begin(), need.offers.begin() + static_cast<std::ptrdiff_t>(i), offer) !=
        need.offers.begin() + static_cast<std::ptrdiff_t>(i))
      return wrong(at, fmt::format("{} again", offer), "each offer once");
  }
  return std::nullopt;
}

Complaint offer_wrong(const std::string& path, const Offer& offer, const Question& question) {
  if (offer.price_minor < 0 || offer.price_minor > highest_price_minor)
    return wrong(path + ".price_minor", fmt::format("{}", offer.price_minor),
                 fmt::format("0 to {}", highest_price_minor));
  if (offer.supplier && *offer.supplier >= question.postage.size())
    return wrong(path + ".supplier", fmt::format("{}", *offer.supplier),
                 fmt::format("a number below {}, as many as there are in postage", question.postage.size()));
  if (offer.available && *offer.available < 0)
    return wrong(path + ".available", fmt::format("{}", *offer.available), "0 or more");
  if (offer.pack < 1)
    return wrong(path + ".pack", fmt::format("{}", offer.pack), "1 or more");
  if (!offer.by_metre)
    return offer.form == Form::sawn ? body_wrong(path + ".body", offer.body) : std::nullopt;
  if (offer.form == Form::whole)
    return wrong(path + ".by_metre", "whole things by the metre", "by the metre only what is sawn");
  if (offer.pack != 1)
    return wrong(path + ".pack", fmt::format("{}", offer.pack), "1 where the price is for a metre");
  if (offer.available)
    return wrong(path + ".available", fmt::format("{}", *offer.available),
                 "nothing where the price is for a metre");
  if (!(offer.longest_m > 0))
    return wrong(path + ".longest_m", fmt::format("{} m", offer.longest_m), "more than 0 m");
  return std::nullopt;
}

} // namespace

std::optional<Error> validate(const Question& question) {
  if (Complaint complaint = within("kerf_m", question.kerf_m, 0, most_kerf_m, "m"))
    return complaint;
  if (Complaint complaint = within("angle_short_rad", question.angle_short_rad, 0, most_short_rad, "rad"))
    return complaint;
  if (!(question.seconds >= 0))
    return wrong("seconds", fmt::format("{} s", question.seconds), "0 s or more");
  for (std::size_t i = 0; i < question.postage.size(); ++i) {
    const Postage& postage = question.postage[i];
    for (const auto& [name, price] : {std::pair{"price_minor", postage.price_minor},
                                      {"free_from_minor", postage.free_from_minor.value_or(0)}})
      if (price < 0 || price > highest_price_minor)
        return wrong(fmt::format("postage[{}].{}", i, name), fmt::format("{}", price),
                     fmt::format("0 to {}", highest_price_minor));
  }
  for (std::size_t i = 0; i < question.offers.size(); ++i)
    if (Complaint complaint = offer_wrong(fmt::format("offers[{}]", i), question.offers[i], question))
      return complaint;
  for (std::size_t i = 0; i < question.needs.size(); ++i)
    if (Complaint complaint = need_wrong(fmt::format("needs[{}]", i), question.needs[i], question))
      return complaint;
  return std::nullopt;
}

} // namespace bellmouth::buy
