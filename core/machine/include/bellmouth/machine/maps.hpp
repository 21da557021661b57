// SPDX-License-Identifier: GPL-3.0-or-later
// Maps of blowers and compressors as measured: what they must be, and what they say between their points.
#pragma once

#include <bellmouth/machine.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace bellmouth::machine {

/// What is wrong with a map, in words; nothing when it can be used.
[[nodiscard]] std::optional<std::string> map_fault(const std::vector<BlowerMapPoint>& map);
[[nodiscard]] std::optional<std::string> map_fault(const CompressorMap& map);

/// A displacement blower's map made ready: at each speed a monotone cubic over the pressure ratio, straight
/// between speeds. Goes through its points; value continuous everywhere, the slope over the ratio too.
/// Outside the grid the value at the edge is held, and said so. Reading allocates nothing. Band between the
/// points: bands.hpp.
class BlowerMap {
public:
  /// The map must be without fault (an assertion).
  explicit BlowerMap(const std::vector<BlowerMapPoint>& map);

  struct Reading {
    double volumetric_efficiency, adiabatic_efficiency;
    double volumetric_by_ratio, adiabatic_by_ratio; ///< d/d(pressure ratio)
    bool outside;
  };
  [[nodiscard]] Reading at(double speed_rev_s, double pressure_ratio) const;

private:
  struct Node {
    double volumetric, volumetric_slope, adiabatic, adiabatic_slope;
  };
  std::vector<double> speeds_, ratios_;
  std::vector<Node> nodes_; ///< speed by speed
};

/// Where a working point lies on a compressor's map, seen along its flow.
enum class MapRegion { inside, below_surge, beyond_choke };

/// A dynamic compressor's map made ready.
///
/// Each line of constant speed is taken over the place u on it, 0 at its first point (surge) and 1 at its
/// last (choke), as a monotone cubic of the head coefficient (r^(2/7) - 1)/N^2 (r: pressure ratio, N:
/// corrected speed) and of the efficiency. Between two lines, head coefficient, flow coefficients m/N of both
/// ends, and efficiency go straight with the speed at the same u. So the map goes through its points, and a
/// machine that follows the affinity laws (m ~ N, head ~ N^2) is met exactly between its lines; no other
/// physics enters.
///
/// Outside, so that a solver never meets a hole, and always said so:
/// - left of surge the head coefficient stays (it rises by `surge_rise` for each length of the line);
/// - right of choke the ratio falls by a factor e for each 1/`choke_fall` of the length of the line;
/// - below the lowest and above the highest speed the nearest line is carried on by the affinity laws;
/// - the efficiency is held at the edge.
/// The ratio is continuous everywhere, positive, and has a slope everywhere. Reading allocates nothing. Band
/// between the points: bands.hpp.
class PreparedCompressorMap {
public:
  static constexpr double surge_rise = 0.01;
  static constexpr double choke_fall = 50;

  /// The map must be without fault (an assertion).
  explicit PreparedCompressorMap(const CompressorMap& map);

  struct Reading {
    double corrected_speed_rev_s;
    double pressure_ratio;
    double adiabatic_efficiency;
    double ratio_by_flow;   ///< d(pressure ratio)/d(corrected flow) [s/kg]
    double place;           ///< u: 0 on the surge line, 1 on the choke line
    double margin_to_surge; ///< flow over the surge flow at this speed, less one; negative left of surge
    MapRegion region;
    bool outside_speeds; ///< below the lowest or above the highest line
    [[nodiscard]] bool outside() const { return region != MapRegion::inside || outside_speeds; }
  };
  /// At a corrected speed (> 0) and a corrected flow (>= 0).
  [[nodiscard]] Reading at(double corrected_speed_rev_s, double corrected_flow_kg_s) const;
  /// The lowest speed at which the compressor gives this ratio (>= 1) at this flow (> 0): there always is
  /// one, perhaps outside the map.
  [[nodiscard]] Reading speed_for(double pressure_ratio, double corrected_flow_kg_s) const;

  /// \name Between the stream and the map's corrected quantities, by the total state at the inlet
  ///@{
  [[nodiscard]] double corrected_flow_kg_s(double mass_flow_kg_s, double inlet_pressure_Pa,
                                           double inlet_temperature_K) const;
  [[nodiscard]] double corrected_speed_rev_s(double speed_rev_s, double inlet_temperature_K) const;
  [[nodiscard]] double speed_rev_s(double corrected_speed_rev_s, double inlet_temperature_K) const;
  ///@}

  /// Flow at surge and at choke of a corrected speed, as `at` has them [kg/s].
  struct Ends {
    double surge_kg_s, choke_kg_s;
  };
  [[nodiscard]] Ends ends(double corrected_speed_rev_s) const;
  /// Corrected speeds of the lines, rising.
  [[nodiscard]] std::vector<double> line_speeds() const;

private:
  struct Node {
    double place, head, head_slope, efficiency, efficiency_slope;
  };
  struct Line {
    double speed;
    double surge, choke; ///< flow coefficients m/N
    std::size_t first, last;
  };
  /// Head coefficient and efficiency on a line, with the slope of the former over u.
  struct OnLine {
    double head, head_by_place, efficiency;
  };
  /// The two lines about a speed and how far it is from the first to the second, 0 to 1.
  struct Between {
    const Line *low, *high;
    double share;
    bool outside;
  };
  std::vector<Line> lines_;
  std::vector<Node> nodes_;
  double reference_temperature_K_, reference_pressure_Pa_;

  [[nodiscard]] Between about(double speed) const;
  [[nodiscard]] OnLine on(const Line& line, double place) const;
  [[nodiscard]] Reading read(const Between& between, double speed, double flow) const;
};

} // namespace bellmouth::machine
