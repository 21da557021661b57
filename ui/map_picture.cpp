// SPDX-License-Identifier: GPL-3.0-or-later
#include "map_picture.hpp"

#include "units.hpp"

#include <bellmouth/machine/maps.hpp>

#include <QCoreApplication>

#include <algorithm>
#include <set>

namespace bellmouth::ui {

using quantity::Dimension;

namespace {

QString tr(const char* text) {
  return QCoreApplication::translate("MapPicture", text);
}
QString unit_of(Dimension dimension) {
  const auto unit = shown_unit(dimension);
  return QString::fromUtf8(unit.data(), static_cast<qsizetype>(unit.size()));
}

/// Curves are drawn through so many places.
constexpr int places = 25;

TextCell number(const QString& text) {
  return {text, 0, true};
}
/// A quantity for a column whose head has the unit.
TextCell bare(const QString& with_unit) {
  return number(with_unit.left(with_unit.lastIndexOf(' ')));
}

double shown_flow(double flow_kg_s) {
  return in_shown_unit(Dimension::mass_flow, flow_kg_s);
}

QString speeds(std::size_t count, double lowest_rev_s, double highest_rev_s) {
  return tr("%1 speeds from %2 to %3")
      .arg(count)
      .arg(show_count(60 * lowest_rev_s), show_count(60 * highest_rev_s) + " rpm");
}

/// The corrected flow through the impeller. What a bypass valve lets back to the inlet goes through it again
/// and comes hot; it is mixed with what is drawn as gases of one specific heat.
double impeller_flow_kg_s(const machine::PreparedCompressorMap& map,
                          const std::optional<machine::BypassValve>& bypass, const flow::MachineFlow& flow) {
  const bool goes_back = bypass && bypass->to == machine::BypassTo::inlet;
  const double drawn_kg_s = flow.inlet.mass_flow_kg_s, back_kg_s = goes_back ? flow.bypass_kg_s : 0;
  const double through_kg_s = drawn_kg_s + back_kg_s;
  const double inlet_K =
      back_kg_s > 0
          ? (drawn_kg_s * flow.inlet.total_temperature_K + back_kg_s * flow.outlet.total_temperature_K) /
                through_kg_s
          : flow.inlet.total_temperature_K;
  return map.corrected_flow_kg_s(std::max(through_kg_s, 0.0), flow.inlet.total_pressure_Pa, inlet_K);
}

/// Where on its map a compressor works, in words.
QString place_words(const flow::MapPlace& place) {
  if (place.below_surge)
    return tr("left of the surge line: it would surge");
  if (place.beyond_choke)
    return tr("right of the choke line");
  const QString margin = tr("%1 above the flow at surge").arg(show_percent(place.margin_to_surge, 0));
  return place.outside_speeds ? tr("outside the speeds of the map, %1").arg(margin) : margin;
}

} // namespace

MapPicture picture_of(const machine::CompressorMap& map, const std::optional<machine::BypassValve>& bypass,
                      const flow::MachineFlow* flow) {
  const machine::PreparedCompressorMap prepared(map);
  MapPicture picture;
  picture.title = tr("Pressure ratio over corrected flow, %1").arg(unit_of(Dimension::mass_flow));
  picture.key = tr("Lines of speed; dashed: surge on the left, choke on the right");
  MapCurve surge{MapCurve::Kind::surge, {}, {}}, choke{MapCurve::Kind::choke, {}, {}};
  const std::vector<double> line_speeds = prepared.line_speeds();
  for (const double speed : line_speeds) {
    const auto [first_kg_s, last_kg_s] = prepared.ends(speed);
    MapCurve line{MapCurve::Kind::speed_line, show_count(60 * speed), {}};
    for (int i = 0; i < places; ++i) {
      const double flow_kg_s = first_kg_s + (last_kg_s - first_kg_s) * i / (places - 1);
      line.points << QPointF(shown_flow(flow_kg_s), prepared.at(speed, flow_kg_s).pressure_ratio);
    }
    surge.points << line.points.front();
    choke.points << line.points.back();
    picture.curves.push_back(std::move(line));
  }
  picture.curves.push_back(std::move(surge));
  picture.curves.push_back(std::move(choke));
  picture.summary = tr("%1 points, %2")
                        .arg(map.points.size())
                        .arg(speeds(line_speeds.size(), line_speeds.front(), line_speeds.back()));
  picture.points.header = QStringList{tr("Speed, rpm"), tr("Flow, %1").arg(unit_of(Dimension::mass_flow)),
                                      tr("Ratio"), tr("Efficiency")};
  for (const auto& point : map.points)
    picture.points.rows.push_back({number(show_count(60 * point.corrected_speed_rev_s)),
                                   bare(show_mass_flow(point.corrected_flow_kg_s)),
                                   number(show_ratio(point.pressure_ratio, 3)),
                                   number(show_ratio(point.adiabatic_efficiency, 3))});
  if (flow != nullptr) {
    const double corrected_kg_s = impeller_flow_kg_s(prepared, bypass, *flow);
    picture.working_point = QPointF(shown_flow(corrected_kg_s), flow->pressure_ratio);
    picture.working_words = tr("Working now at %1 corrected, ratio %2")
                                .arg(show_mass_flow(corrected_kg_s), show_ratio(flow->pressure_ratio));
    if (flow->on_map)
      picture.working_words += "; " + place_words(*flow->on_map);
  }
  return picture;
}

MapPicture picture_of(const std::vector<machine::BlowerMapPoint>& map, const flow::MachineFlow* flow) {
  const machine::BlowerMap prepared(map);
  MapPicture picture;
  picture.title = tr("Efficiency over pressure ratio");
  picture.key = tr("Solid: adiabatic; dotted: volumetric");
  std::set<double> all_speeds, ratios;
  for (const auto& point : map) {
    all_speeds.insert(point.speed_rev_s);
    ratios.insert(point.pressure_ratio);
  }
  const double lowest = *ratios.begin(), highest = *ratios.rbegin();
  for (const double speed : all_speeds) {
    MapCurve adiabatic{MapCurve::Kind::speed_line, show_count(60 * speed), {}};
    MapCurve volumetric{MapCurve::Kind::second_line, {}, {}};
    for (int i = 0; i < places; ++i) {
      const double ratio = lowest + (highest - lowest) * i / (places - 1);
      const auto reading = prepared.at(speed, ratio);
      adiabatic.points << QPointF(ratio, reading.adiabatic_efficiency);
      volumetric.points << QPointF(ratio, reading.volumetric_efficiency);
    }
    picture.curves.push_back(std::move(volumetric));
    picture.curves.push_back(std::move(adiabatic));
  }
  picture.summary = tr("%1 points, %2")
                        .arg(map.size())
                        .arg(speeds(all_speeds.size(), *all_speeds.begin(), *all_speeds.rbegin()));
  picture.points.header = QStringList{tr("Speed, rpm"), tr("Ratio"), tr("Volumetric"), tr("Adiabatic")};
  for (const auto& point : map)
    picture.points.rows.push_back({number(show_count(60 * point.speed_rev_s)),
                                   number(show_ratio(point.pressure_ratio, 3)),
                                   number(show_ratio(point.volumetric_efficiency, 3)),
                                   number(show_ratio(point.adiabatic_efficiency, 3))});
  if (flow != nullptr) {
    picture.working_point = QPointF(flow->pressure_ratio, flow->adiabatic_efficiency);
    picture.working_words = tr("Working now at ratio %1, %2 of the blower's shaft")
                                .arg(show_ratio(flow->pressure_ratio), show_engine_speed(flow->speed_rev_s));
  }
  return picture;
}

} // namespace bellmouth::ui
