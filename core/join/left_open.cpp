// SPDX-License-Identifier: GPL-3.0-or-later
// What stays wrong with the joints of a run, and why.
#include "run_work.hpp"
#include "seat.hpp"
#include "words.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace bellmouth::join {

namespace {

std::string kilopascals(double value_Pa) {
  return quantity::write_fixed(quantity::Dimension::pressure, value_Pa, "kPa", 1);
}

std::string_view form(build::Connection::Kind kind) {
  switch (kind) {
  case build::Connection::Kind::flange:
    return "flange";
  case build::Connection::Kind::thread:
    return "thread";
  case build::Connection::Kind::spigot:
    break;
  }
  return "plain end";
}

std::string connection_words(const joint::End& end) {
  if (end.connection.kind == build::Connection::Kind::spigot)
    return fmt::format("a {}", end.flexible ? "hose end" : "plain end");
  return fmt::format("a {} {}", form(end.connection.kind), end.connection.size);
}

/// The parts that lead from nearly the one size to nearly the other.
std::string nearest(const Shop& shop, double from_m, double to_m) {
  std::map<double, std::string> found; ///< by how far off they are
  const auto look = [&](double in_m, double out_m) {
    if (std::abs(in_m - out_m) > 1e-6)
      found.try_emplace(std::abs(in_m - from_m) + std::abs(out_m - to_m),
                        fmt::format("{} to {}", millimetres(in_m), millimetres(out_m)));
  };
  for (const Part& part : shop.hoses())
    look(build::bore_in_m(part.piece.shape), build::bore_out_m(part.piece.shape));
  for (const Part& part : shop.tapers())
    look(build::outer_diameter_in_m(part.piece.shape), build::outer_diameter_out_m(part.piece.shape));
  std::vector<std::string> texts;
  for (const auto& [off_m, text] : found)
    if (texts.size() < 3 && std::ranges::find(texts, text) == texts.end())
      texts.push_back(text);
  return texts.empty() ? "there are no reducers, cones or adapters in stock"
                       : fmt::format("the nearest there are: {}", fmt::join(texts, ", "));
}

} // namespace

std::string RunWork::why_wrong(std::size_t index) const {
  const joint::Joint& joint = fit_.joints[index];
  const joint::End &a = joint.upstream, &b = joint.downstream;
  if (!wants_pieces(joint))
    return fmt::format("{} does not go with {}; which adapter there is for it cannot be told from the stock",
                       connection_words(a), connection_words(b));
  if (a.flexible && b.flexible)
    return fmt::format(
        "no tube in stock, and no tubes with a reducer between them, go into hose bores of {} and {}",
        millimetres(a.bore_m), millimetres(b.bore_m));
  for (const joint::End* end : {&a, &b})
    if (!end->flexible && below(room_m(index, *end), shop_.limits().engagement_stop_m))
      return fmt::format("rigid ends of {} and {}; only {} of one are straight, {} are the least for a hose",
                         millimetres(a.outer_diameter_m), millimetres(b.outer_diameter_m),
                         millimetres(std::max(room_m(index, *end), 0.0)),
                         millimetres(shop_.limits().engagement_stop_m));
  return fmt::format("nothing in stock leads from {} to {}; {}", millimetres(a.outer_diameter_m),
                     millimetres(b.outer_diameter_m), nearest(shop_, a.outer_diameter_m, b.outer_diameter_m));
}

std::string RunWork::why_short(std::size_t index) const {
  const joint::Joint& joint = fit_.joints[index];
  const joint::End& spigot = joint.spigot();
  const double want_m = shop_.limits().engagement_caution_m;
  if (const double free_m = room_m(index, spigot); below(free_m, want_m))
    return fmt::format("a hose can use {} of the rigid end", millimetres(std::max(free_m, 0.0)));
  const build::Shape& hose = shape(*joint.hose().row);
  const build::Engagement straight = straight_ends_m(hose);
  const double end_m = joint.upstream.flexible ? straight.out_m : straight.in_m;
  if (below(end_m, want_m))
    return fmt::format("the straight end of the {} is {} long", build::kind_name(hose), millimetres(end_m));
  const std::size_t other = joint.upstream.flexible ? index - 1 : index + 1;
  const joint::Joint& far = fit_.joints[other];
  if (far.kind == joint::Kind::hose && below(room_m(other, far.spigot()), shop_.limits().engagement_stop_m))
    return fmt::format("the {} has nothing straight to sit on at its other end", build::kind_name(hose));
  return fmt::format("no longer {} of that size is in stock", build::kind_name(hose));
}

std::vector<std::string> RunWork::open(const std::vector<double>& gauge_Pa) const {
  const trade::Limits& limits = shop_.limits();
  std::vector<std::string> lines;
  struct Clampless {
    int count = 0;
    std::size_t line = 0;
  };
  std::map<std::int64_t, Clampless> clampless; ///< by installed diameter [um]
  const auto put = [&](const joint::Joint& joint, const std::string& text) {
    lines.push_back(fmt::format("{}, {}: {}", words(run_.id.text), names(joint), text));
  };
  for (std::size_t index = 0; index < fit_.joints.size(); ++index) {
    const joint::Joint& joint = fit_.joints[index];
    if (joint.kind == joint::Kind::wrong || (joint.kind == joint::Kind::weld && wants_pieces(joint)))
      put(joint, why_wrong(index));
    if (joint.kind != joint::Kind::hose)
      continue;
    const joint::End& spigot = joint.spigot();
    if (is_misfit(joint))
      put(joint, fmt::format("hose bore {} on a spigot of {}; no hose in stock goes on both its ends",
                             millimetres(joint.hose().bore_m), millimetres(spigot.outer_diameter_m)));
    if (below(joint.engagement_m, limits.engagement_caution_m))
      put(joint, fmt::format("the spigot goes {} in, {} are wanted: {}", millimetres(joint.engagement_m),
                             millimetres(limits.engagement_caution_m), why_short(index)));
    if (!spigot.beaded && index < gauge_Pa.size() && above(gauge_Pa[index], limits.bead_from_gauge_Pa))
      put(joint, fmt::format("a plain end of {} under {} gauge; a port is not changed here",
                             millimetres(spigot.outer_diameter_m), kilopascals(gauge_Pa[index])));
    if (joint.clamp == nullptr) {
      Clampless& same = clampless[std::llround(joint.installed_diameter_m * 1e6)];
      if (same.count++ == 0) {
        same.line = lines.size();
        constexpr double half_range_m = 10e-3; // of a worm clamp
        put(joint, fmt::format("no clamp in stock goes round {}; one of about {:.0f} to {:.0f} mm is wanted",
                               millimetres(joint.installed_diameter_m),
                               (joint.installed_diameter_m - half_range_m) * 1e3,
                               (joint.installed_diameter_m + half_range_m) * 1e3));
      }
    }
  }
  for (const auto& [diameter, same] : clampless)
    if (same.count > 1)
      lines[same.line] += fmt::format(" ({} of them)", same.count);
  return lines;
}

} // namespace bellmouth::join
