// SPDX-License-Identifier: GPL-3.0-or-later
// The dynamic compressor's map between and beyond its points.
#include "monotone.hpp"

#include <bellmouth/machine/maps.hpp>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::machine {

namespace {

/// (gamma - 1)/gamma of air. It only shapes the way between the points of a map.
constexpr double head_exponent = 2.0 / 7.0;

/// Head of a pressure ratio: r^(2/7) - 1, and the same the other way round below a ratio of one, so that
/// every head has a positive ratio.
double head_of(double ratio) {
  return ratio >= 1 ? std::pow(ratio, head_exponent) - 1 : 1 - std::pow(ratio, -head_exponent);
}

/// The pressure ratio of a head and its slope.
CurveValue ratio_of(double head) {
  const double x = 1 + std::abs(head);
  const double grown = x * x * x * std::sqrt(x); // x^(7/2)
  const double ratio = head >= 0 ? grown : 1 / grown;
  return {ratio, ratio / (head_exponent * x)};
}

/// Root of a continuous `f` between two places where it has different signs, by inverse quadratic steps that
/// fall back to halving (Chandrupatla 1997, Adv. Eng. Software 28, 145-149), to the last digits.
template <class Function> double root_between(double a, double fa, double b, double fb, Function f) {
  double c = a, fc = fa, share = 0.5;
  for (int rounds = 0; rounds < 200; ++rounds) {
    const double t = a + share * (b - a), ft = f(t);
    if ((ft > 0) == (fa > 0)) {
      c = a;
      fc = fa;
    } else {
      c = b;
      fc = fb;
      b = a;
      fb = fa;
    }
    a = t;
    fa = ft;
    const double best = std::abs(fa) < std::abs(fb) ? a : b;
    const double least = 2e-15 * std::abs(best) / std::abs(b - c);
    if (least > 0.5 || fa == 0 || fb == 0)
      return best;
    const double xi = (a - b) / (c - b), phi = (fa - fb) / (fc - fb);
    const bool inverse = phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi;
    share =
        inverse ? fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb) : 0.5;
    share = std::clamp(share, least, 1 - least);
  }
  return a;
}

} // namespace

PreparedCompressorMap::PreparedCompressorMap(const CompressorMap& map)
    : reference_temperature_K_(map.reference_temperature_K),
      reference_pressure_Pa_(map.reference_pressure_Pa) {
  assert(!map_fault(map));
  assert(reference_temperature_K_ > 0 && reference_pressure_Pa_ > 0);
  const auto& points = map.points;
  std::vector<double> places, heads, efficiencies;
  for (std::size_t begin = 0; begin < points.size();) {
    const double speed = points[begin].corrected_speed_rev_s;
    std::size_t end = begin;
    while (end < points.size() && points[end].corrected_speed_rev_s == speed)
      ++end;
    const double surge = points[begin].corrected_flow_kg_s, choke = points[end - 1].corrected_flow_kg_s;
    places.clear();
    heads.clear();
    efficiencies.clear();
    for (std::size_t i = begin; i < end; ++i) {
      places.push_back((points[i].corrected_flow_kg_s - surge) / (choke - surge));
      heads.push_back(head_of(points[i].pressure_ratio) / (speed * speed));
      efficiencies.push_back(points[i].adiabatic_efficiency);
    }
    const auto head_slopes = monotone_slopes(places, heads);
    const auto efficiency_slopes = monotone_slopes(places, efficiencies);
    for (std::size_t i = 0; i < places.size(); ++i)
      nodes_.push_back({places[i], heads[i], head_slopes[i], efficiencies[i], efficiency_slopes[i]});
    lines_.push_back({speed, surge / speed, choke / speed, begin, end - 1});
    begin = end;
  }
}

PreparedCompressorMap::Between PreparedCompressorMap::about(double speed) const {
  const auto above = std::ranges::upper_bound(lines_, speed, {}, &Line::speed);
  if (above == lines_.begin())
    return {&lines_.front(), &lines_.front(), 0, true};
  const Line* low = &above[-1];
  if (above == lines_.end())
    return {low, low, 0, speed > low->speed};
  return {low, &*above, (speed - low->speed) / (above->speed - low->speed), false};
}

PreparedCompressorMap::OnLine PreparedCompressorMap::on(const Line& line, double place) const {
  const Node* node = &nodes_[line.first];
  const Node* last = &nodes_[line.last] - 1;
  while (node < last && place > node[1].place)
    ++node;
  const double width = node[1].place - node[0].place, share = (place - node[0].place) / width;
  const CurveValue head =
      hermite(share, width, node[0].head, node[0].head_slope, node[1].head, node[1].head_slope);
  return {head.value, head.slope,
          hermite(share, width, node[0].efficiency, node[0].efficiency_slope, node[1].efficiency,
                  node[1].efficiency_slope)
              .value};
}

PreparedCompressorMap::Reading PreparedCompressorMap::read(const Between& between, double speed,
                                                           double flow) const {
  const auto& [low, high, share, outside_speeds] = between;
  const double surge = speed * (low->surge + share * (high->surge - low->surge));
  const double choke = speed * (low->choke + share * (high->choke - low->choke));
  const double length = choke - surge, place = (flow - surge) / length;
  const double held = std::clamp(place, 0.0, 1.0);
  OnLine line = on(*low, held);
  if (share > 0) {
    const OnLine other = on(*high, held);
    line.head += share * (other.head - line.head);
    line.head_by_place += share * (other.head_by_place - line.head_by_place);
    line.efficiency += share * (other.efficiency - line.efficiency);
  }
  Reading found{speed, 0, line.efficiency, 0, place, flow / surge - 1, MapRegion::inside, outside_speeds};
  if (place < 0) {
    found.region = MapRegion::below_surge;
    line.head_by_place = -surge_rise * std::abs(line.head);
    line.head += line.head_by_place * place;
  }
  const CurveValue ratio = ratio_of(line.head * speed * speed);
  if (place > 1) {
    found.region = MapRegion::beyond_choke;
    found.pressure_ratio = ratio.value * std::exp(-choke_fall * (place - 1));
    found.ratio_by_flow = -choke_fall * found.pressure_ratio / length;
  } else {
    found.pressure_ratio = ratio.value;
    found.ratio_by_flow = ratio.slope * line.head_by_place * speed * speed / length;
  }
  return found;
}

PreparedCompressorMap::Reading PreparedCompressorMap::at(double corrected_speed_rev_s,
                                                         double corrected_flow_kg_s) const {
  assert(corrected_speed_rev_s > 0 && corrected_flow_kg_s >= 0);
  return read(about(corrected_speed_rev_s), corrected_speed_rev_s, corrected_flow_kg_s);
}

PreparedCompressorMap::Reading PreparedCompressorMap::speed_for(double pressure_ratio,
                                                                double corrected_flow_kg_s) const {
  assert(pressure_ratio >= 1 && corrected_flow_kg_s > 0);
  const auto excess = [&](double speed) {
    return at(speed, corrected_flow_kg_s).pressure_ratio - pressure_ratio;
  };
  double high = lines_.front().speed, above = excess(high);
  double low = high, below = above;
  if (above >= 0) // the compressor turns slower than its lowest line; at rest it gives nothing
    while (below >= 0) {
      high = low;
      above = below;
      low /= 2;
      below = excess(low);
    }
  else // the first line that gives enough, or beyond the last one
    for (std::size_t next = 1; above < 0; ++next) {
      low = high;
      below = above;
      high = next < lines_.size() ? lines_[next].speed : 2 * high;
      above = excess(high);
    }
  return at(root_between(low, below, high, above, excess), corrected_flow_kg_s);
}

double PreparedCompressorMap::corrected_flow_kg_s(double mass_flow_kg_s, double inlet_pressure_Pa,
                                                  double inlet_temperature_K) const {
  return mass_flow_kg_s * std::sqrt(inlet_temperature_K / reference_temperature_K_) * reference_pressure_Pa_ /
         inlet_pressure_Pa;
}

double PreparedCompressorMap::corrected_speed_rev_s(double speed_rev_s, double inlet_temperature_K) const {
  return speed_rev_s * std::sqrt(reference_temperature_K_ / inlet_temperature_K);
}

double PreparedCompressorMap::speed_rev_s(double corrected_speed_rev_s, double inlet_temperature_K) const {
  return corrected_speed_rev_s * std::sqrt(inlet_temperature_K / reference_temperature_K_);
}

PreparedCompressorMap::Ends PreparedCompressorMap::ends(double corrected_speed_rev_s) const {
  const auto [low, high, share, outside] = about(corrected_speed_rev_s);
  return {corrected_speed_rev_s * (low->surge + share * (high->surge - low->surge)),
          corrected_speed_rev_s * (low->choke + share * (high->choke - low->choke))};
}

std::vector<double> PreparedCompressorMap::line_speeds() const {
  std::vector<double> speeds;
  for (const Line& line : lines_)
    speeds.push_back(line.speed);
  return speeds;
}

} // namespace bellmouth::machine
