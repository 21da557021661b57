// SPDX-License-Identifier: GPL-3.0-or-later
// What the fields of all machines are made of.
#pragma once

#include "machine_fields.hpp"

#include <bellmouth/machine/tables_csv.hpp>

#include <QCoreApplication>

namespace bellmouth::ui {

using MachineRow = FormRow<build::Machine>;
using MachineRows = std::vector<MachineRow>;

/// \name The rows of kinds that have a file of their own
///@{
[[nodiscard]] MachineRows rows_of(const machine::DisplacementBlower& blower, const MachineContext& context);
[[nodiscard]] MachineRows rows_of(const machine::TargetCompressor& compressor, const MachineContext& context);
[[nodiscard]] MachineRows rows_of(const machine::GearedCompressor& compressor, const MachineContext& context);
[[nodiscard]] MachineRows rows_of(const machine::ChargeCooler& cooler, const MachineContext& context);
///@}

[[nodiscard]] inline QString machine_text(const char* text) {
  return QCoreApplication::translate("MachineFields", text);
}

/// The kind K of a machine, const or not: a part of it is `kind_of<K>(machine).part`.
template <class K> auto& kind_of(auto& machine) {
  return std::get<K>(machine.kind);
}

/// A number of the machine kind K, in SI.
template <class K>
MachineRow number(const char* key, const char* label, const char* tip, double K::*member, QuantityKind what) {
  return quantity_row<build::Machine>(
      key, machine_text(label), machine_text(tip), std::move(what),
      [member](const build::Machine& machine) { return std::optional(kind_of<K>(machine).*member); },
      [member](build::Machine& machine, std::optional<double> value) {
        kind_of<K>(machine).*member = *value;
      });
}
template <class K>
MachineRow number(const char* key, const char* label, const char* tip, double K::*member,
                  quantity::Dimension dimension) {
  return number<K>(key, label, tip, member, quantity_of(dimension));
}

/// A number of an optional part P of the machine kind K, shown while there is one.
template <class K, class P>
MachineRow part_number(const char* key, const char* label, const char* tip, std::optional<P> K::*part,
                       double P::*member, QuantityKind what) {
  return only_if<build::Machine>(
      [part](const build::Machine& machine) { return (kind_of<K>(machine).*part).has_value(); },
      quantity_row<build::Machine>(
          key, machine_text(label), machine_text(tip), std::move(what),
          [part, member](const build::Machine& machine) {
            return std::optional((*(kind_of<K>(machine).*part)).*member);
          },
          [part, member](build::Machine& machine, std::optional<double> value) {
            (*(kind_of<K>(machine).*part)).*member = *value;
          }));
}

/// Whether the machine kind K has an optional part. `first` makes one from the kind.
template <class K, class P>
MachineRow part_check(const char* key, const char* label, const char* tip, std::optional<P> K::*part,
                      std::function<P(const K&)> first) {
  return part_row<build::Machine>(
      key, machine_text(label),
      machine_text(tip), [part](auto& machine) -> auto& { return kind_of<K>(machine).*part; },
      [first](const build::Machine& machine) { return first(kind_of<K>(machine)); });
}

template <class K> MachineRow check(const char* key, const char* label, const char* tip, bool K::*member) {
  return check_row<build::Machine>(
      key, machine_text(label), machine_text(tip),
      [member](const build::Machine& machine) { return kind_of<K>(machine).*member; },
      [member](build::Machine& machine, bool on) { kind_of<K>(machine).*member = on; });
}

/// The measured points of a restriction curve.
template <class K> MachineRow rated_row(const MachineContext& context) {
  using quantity::Dimension;
  const auto points_of = [](const std::vector<machine::RatedPoint>& rated) {
    std::vector<PointTable::Point> points;
    points.reserve(rated.size());
    for (const auto& point : rated)
      points.emplace_back(point.volume_flow_m3_s, point.drop_Pa);
    return points;
  };
  const auto rated_of = [](const std::vector<PointTable::Point>& points) {
    std::vector<machine::RatedPoint> rated;
    rated.reserve(points.size());
    for (const auto& [flow_m3_s, drop_Pa] : points)
      rated.push_back({flow_m3_s, drop_Pa});
    return rated;
  };
  return points_row<build::Machine>(
      "rated", machine_text("Measured drop"),
      machine_text(
          "Air flow and drop as the data sheet gives them, for air at 20 °C and 101.325 kPa. One point or "
          "more"),
      {machine_text("Air flow"), quantity_of(Dimension::volume_flow)},
      {machine_text("Drop"), quantity_of(Dimension::pressure)},
      [points_of](const build::Machine& machine) { return points_of(kind_of<K>(machine).rated); },
      [rated_of](build::Machine& machine, const std::vector<PointTable::Point>& points) {
        kind_of<K>(machine).rated = rated_of(points);
      },
      PointTable::Csv{context.files, machine_text("restriction.csv"),
                      [points_of](const std::string& text, const std::string& file) {
                        return machine::read_restriction_csv(text, file).map(points_of);
                      },
                      [rated_of](const std::vector<PointTable::Point>& points) {
                        return machine::write_csv(rated_of(points));
                      }});
}

} // namespace bellmouth::ui
