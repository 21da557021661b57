// SPDX-License-Identifier: GPL-3.0-or-later
#include "seat.hpp"

#include "words.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::join {

namespace {

/// Gap left between two tube ends (common practice, no source found).
constexpr double usual_gap_m = 8e-3;
/// The share of a reducer's length that its taper takes at least (common practice, no source found).
constexpr double taper_share = 0.25;
/// Longest engagement that is still useful, over what is wanted (this program's own).
constexpr double longest_engagement = 1.5;

double hump_m(const build::Shape& hose) {
  const auto* hump = std::get_if<build::HumpHose>(&hose);
  return hump != nullptr ? hump->hump_length_m : 0.0;
}

int poor_ends(const trade::Limits& limits, const build::Engagement& engagement) {
  return static_cast<int>(below(engagement.in_m, limits.engagement_caution_m)) +
         static_cast<int>(below(engagement.out_m, limits.engagement_caution_m));
}

std::optional<Seat> if_enough(const trade::Limits& limits, Seat seat) {
  if (below(std::min(seat.engagement.in_m, seat.engagement.out_m), limits.engagement_stop_m))
    return std::nullopt;
  seat.poor = poor_ends(limits, seat.engagement);
  return seat;
}

/// Takes a length off two engagements, from the longer first.
build::Engagement shortened(build::Engagement engagement, double by_m) {
  auto& [in_m, out_m] = engagement;
  const double off_longer_m = std::min(by_m, std::abs(in_m - out_m));
  (in_m > out_m ? in_m : out_m) -= off_longer_m;
  in_m -= (by_m - off_longer_m) / 2;
  out_m -= (by_m - off_longer_m) / 2;
  return engagement;
}

/// Gives a length to two engagements as far as there is room; what is left over comes back.
double lengthened(build::Engagement& engagement, const build::Engagement& most, double by_m) {
  const double spare_in_m = std::max(most.in_m - engagement.in_m, 0.0);
  const double spare_out_m = std::max(most.out_m - engagement.out_m, 0.0);
  double in_m = std::min(by_m / 2, spare_in_m);
  const double out_m = std::min(by_m - in_m, spare_out_m);
  in_m = std::min(by_m - out_m, spare_in_m);
  engagement.in_m += in_m;
  engagement.out_m += out_m;
  return by_m - in_m - out_m;
}

/// A hose with a gap between its spigots, the hump counted to the gap.
std::optional<Seat> seat_with_gap(const trade::Limits& limits, const build::Shape& hose,
                                  const build::Engagement& room, double longest_m) {
  const double least_m = least_gap_m(limits, hose), most_m = std::max(widest_gap_m(limits, hose), least_m);
  const double usual_m = std::clamp(hump_m(hose) + usual_gap_m, least_m, most_m);
  const double want_m = limits.engagement_caution_m;
  Seat seat;
  seat.engagement = {std::min(want_m, room.in_m), std::min(want_m, room.out_m)};
  const double needed_m = seat.engagement.in_m + seat.engagement.out_m + usual_m;
  const double spare_m = longest_m - needed_m;
  seat.length_m = needed_m;
  if (spare_m < 0) {
    const double from_gap_m = std::min(-spare_m, usual_m - least_m);
    seat.engagement = shortened(seat.engagement, -spare_m - from_gap_m);
    seat.length_m = longest_m;
    return if_enough(limits, seat);
  }
  const build::Engagement most{std::min(room.in_m, longest_engagement * want_m),
                               std::min(room.out_m, longest_engagement * want_m)};
  build::Engagement whole = seat.engagement;
  const double left_m = lengthened(whole, most, std::max(spare_m - (most_m - usual_m), 0.0));
  if (left_m <= 1e-9 || hump_m(hose) > 0) { // a hump is moulded into the middle: the hose stays whole
    seat.engagement = whole;
    seat.length_m = longest_m;
  }
  return if_enough(limits, seat);
}

} // namespace

build::Engagement engagement_of(const build::Shape& hose) {
  return std::visit(
      [](const auto& s) -> build::Engagement {
        if constexpr (requires { s.engagement; })
          return s.engagement;
        else
          return {0, 0};
      },
      hose);
}

build::Engagement straight_ends_m(const build::Shape& hose) {
  if (const auto* reducer = std::get_if<build::HoseReducer>(&hose)) {
    const double each_m = (1 - taper_share) / 2 * reducer->length_m;
    return {each_m, each_m};
  }
  return {build::land_in_m(hose), build::land_out_m(hose)};
}

double widest_gap_m(const trade::Limits& limits, const build::Shape& hose) {
  return std::min(limits.tube_gap_most_m, limits.tube_gap_most_bores * build::bore_in_m(hose)) + hump_m(hose);
}

double least_gap_m(const trade::Limits& limits, const build::Shape& hose) {
  return std::max(limits.tube_gap_least_m, hump_m(hose));
}

build::Shape seated(build::Shape hose, const Seat& seat) {
  std::visit(
      [&](auto& s) {
        if constexpr (requires { s.engagement; }) {
          s.engagement = seat.engagement;
          if constexpr (requires { s.length_m; })
            s.length_m = seat.length_m;
        }
      },
      hose);
  return hose;
}

std::optional<Seat> seat(const trade::Limits& limits, const build::Shape& hose, const Spigots& spigots) {
  if (std::holds_alternative<build::Hose>(hose))
    return seat_with_gap(limits, hose, {spigots.room_in_m, spigots.room_out_m}, spigots.longest_m);
  const build::Engagement straight = straight_ends_m(hose);
  const build::Engagement room{std::min(spigots.room_in_m, straight.in_m),
                               std::min(spigots.room_out_m, straight.out_m)};
  if (std::holds_alternative<build::HumpHose>(hose))
    return seat_with_gap(limits, hose, room, build::full_length_m(hose));
  const double want_m = limits.engagement_caution_m;
  return if_enough(
      limits, {build::full_length_m(hose), {std::min(want_m, room.in_m), std::min(want_m, room.out_m)}, 0});
}

} // namespace bellmouth::join
