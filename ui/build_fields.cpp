// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_fields.hpp"

#include "budget_fields.hpp"
#include "units.hpp"

#include <bellmouth/machine/tables_csv.hpp>

#include <QCoreApplication>

#include <memory>

namespace bellmouth::ui {

namespace {

using build::Build;
using quantity::Dimension;
using Row = FormRow<Build>;
using Rows = std::vector<Row>;

QString tr(const char* text) {
  return QCoreApplication::translate("BuildFields", text);
}

/// Whether the build has the alternative A of a variant.
template <class A, class V> Row::Applies with(V Build::*part) {
  return [part](const Build& build) { return std::holds_alternative<A>(build.*part); };
}

/// A number of one alternative A of a variant of the build, in SI.
template <class A, class V>
Row number(const char* key, const char* label, const char* tip, V Build::*part, double A::*member,
           QuantityKind kind) {
  return shown_if<Build>(with<A>(part), quantity_row<Build>(
                                            key, tr(label), tr(tip), std::move(kind),
                                            [part, member](const Build& build) {
                                              return std::optional(std::get<A>(build.*part).*member);
                                            },
                                            [part, member](Build& build, std::optional<double> value) {
                                              std::get<A>(build.*part).*member = *value;
                                            }));
}
/// The same, set in.
Row set_in(Row row) {
  row.nested = true;
  return row;
}

Rows title_rows() {
  return {text_row<Build>(
      "title", tr("Title"), tr("What the build is called"),
      [](const Build& build) { return QString::fromStdString(build.title); },
      [](Build& build, const QString& text) -> std::optional<QString> {
        build.title = text.trimmed().toStdString();
        return std::nullopt;
      })};
}

Rows ambient_rows() {
  using build::Altitude;
  using build::OpenInlet;
  using build::Weather;
  const auto other = std::make_shared<std::optional<build::Ambient>>();
  const auto lip_m = std::make_shared<double>(0);
  QuantityKind altitude = quantity_of(Dimension::length);
  altitude.unit = units().length == UnitChoice::Length::inches ? "ft" : "m";
  return {
      choice_row<Build>(
          "ambient", tr("Air"), tr("As measured on the day, or the standard atmosphere at an altitude"),
          {tr("weather of the day"), tr("standard, by altitude")},
          [](const Build& shown) { return static_cast<int>(shown.ambient.index()); },
          [other](Build& changed, int index) {
            if (static_cast<std::size_t>(index) == changed.ambient.index())
              return;
            const build::Ambient before = changed.ambient;
            if (*other && (*other)->index() == static_cast<std::size_t>(index)) {
              changed.ambient = **other;
            } else if (index == 0) {
              // The same air, as a barometer and a thermometer there would read it.
              const auto air = build::ambient_air(before);
              changed.ambient =
                  Weather{air.pressure_Pa, air.temperature_K, std::get<Altitude>(before).relative_humidity};
            } else {
              changed.ambient = Altitude{0, std::get<Weather>(before).relative_humidity};
            }
            *other = before;
          }),
      set_in(number("pressure", "Pressure", "Of the air at the place, not reduced to sea level",
                    &Build::ambient, &Weather::pressure_Pa, absolute_pressure())),
      set_in(number("temperature", "Temperature", "Of the air outside", &Build::ambient,
                    &Weather::temperature_K, quantity_of(Dimension::temperature))),
      set_in(number("humidity", "Relative humidity", "0 % to 100 %", &Build::ambient,
                    &Weather::relative_humidity, percentage())),
      set_in(number("altitude", "Altitude", "Above mean sea level; ISO 2533 gives pressure and temperature",
                    &Build::ambient, &Altitude::altitude_m, altitude)),
      set_in(number("altitude_humidity", "Relative humidity", "0 % to 100 %", &Build::ambient,
                    &Altitude::relative_humidity, percentage())),
      choice_row<Build>(
          "inlet", tr("Open inlet"),
          tr("How the air gets in where the path begins with a run and not with a filter"),
          {tr("bellmouth"), tr("flush"), tr("projecting")},
          [](const Build& shown) { return static_cast<int>(shown.inlet.kind); },
          [lip_m](Build& changed, int index) {
            OpenInlet& inlet = changed.inlet;
            if (inlet.kind == OpenInlet::Kind::bellmouth)
              *lip_m = inlet.lip_radius_m;
            inlet.kind = static_cast<OpenInlet::Kind>(index);
            inlet.lip_radius_m = inlet.kind == OpenInlet::Kind::bellmouth ? *lip_m : 0;
          }),
      only_if<Build>(
          [](const Build& build) { return build.inlet.kind == OpenInlet::Kind::bellmouth; },
          quantity_row<Build>(
              "lip_radius", tr("Lip radius"), tr("Of the bellmouth"), QuantityKind{},
              [](const Build& shown) { return std::optional(shown.inlet.lip_radius_m); },
              [](Build& changed, std::optional<double> value) { changed.inlet.lip_radius_m = *value; }))};
}

/// A bay as warm as one is after a drive, to start from.
build::BayAir warm_bay() {
  constexpr double sixty_celsius_K = 333.15, standing_about_m_s = 2;
  return {sixty_celsius_K, standing_about_m_s};
}

Rows bay_rows() {
  const auto there = [](const Build& build) { return build.bay.has_value(); };
  const auto row = [&](const char* key, const char* label, const char* tip, double build::BayAir::*member,
                       Dimension dimension) {
    return only_if<Build>(
        there, quantity_row<Build>(
                   key, tr(label), tr(tip), quantity_of(dimension),
                   [member](const Build& build) { return std::optional((*build.bay).*member); },
                   [member](Build& build, std::optional<double> value) { (*build.bay).*member = *value; }));
  };
  return {part_row<Build>(
              "bay", tr("Air of the bay"),
              tr("The air round the ducting, for the heat that comes in through its walls"),
              [](auto& build) -> auto& { return build.bay; }, [](const Build&) { return warm_bay(); }),
          row("bay_temperature", "Bay temperature", "Of the air in the bay, warm from the drive",
              &build::BayAir::temperature_K, Dimension::temperature),
          row("bay_speed", "Bay air speed", "Of that air past the ducting; 0: it stands still",
              &build::BayAir::speed_m_s, Dimension::velocity),
          shown_if<Build>([](const Build& build) { return !build.bay; },
                          note_row<Build>("bay_note", tr("Without it the ducting picks up no heat.")))};
}

template <class M>
Row count(const char* key, const char* label, const char* tip, M machine::Engine::*member) {
  return shown_if<Build>(with<machine::Engine>(&Build::demand),
                         quantity_row<Build>(
                             key, tr(label), tr(tip),
                             QuantityKind{.dimension = Dimension::ratio, .whole = true},
                             [member](const Build& build) {
                               return std::optional<double>(std::get<machine::Engine>(build.demand).*member);
                             },
                             [member](Build& build, std::optional<double> value) {
                               std::get<machine::Engine>(build.demand).*member = whole_number(*value);
                             }));
}

Row efficiency_row(const TableFiles& files) {
  using machine::Engine;
  const auto points_of = [](const std::vector<machine::EfficiencyPoint>& efficiency) {
    std::vector<PointTable::Point> points;
    points.reserve(efficiency.size());
    for (const auto& point : efficiency)
      points.emplace_back(point.speed_rev_s, point.volumetric_efficiency);
    return points;
  };
  const auto efficiency_of = [](const std::vector<PointTable::Point>& points) {
    std::vector<machine::EfficiencyPoint> efficiency;
    efficiency.reserve(points.size());
    for (const auto& [speed_rev_s, share] : points)
      efficiency.push_back({speed_rev_s, share});
    return efficiency;
  };
  return shown_if<Build>(
      with<Engine>(&Build::demand),
      points_row<Build>(
          "efficiency", tr("Volumetric efficiency"),
          tr("Over engine speed, on the density in the manifold; straight lines between the points"),
          {tr("Engine speed"), quantity_of(Dimension::rotational_speed)}, {tr("Efficiency"), percentage()},
          [points_of](const Build& build) { return points_of(std::get<Engine>(build.demand).efficiency); },
          [efficiency_of](Build& build, const std::vector<PointTable::Point>& points) {
            std::get<Engine>(build.demand).efficiency = efficiency_of(points);
          },
          PointTable::Csv{files, tr("volumetric-efficiency.csv"),
                          [points_of](const std::string& text, const std::string& file) {
                            return machine::read_efficiency_csv(text, file).map(points_of);
                          },
                          [efficiency_of](const std::vector<PointTable::Point>& points) {
                            return machine::write_csv(efficiency_of(points));
                          }}));
}

/// The crank work of a kilogram of air; empty: by the rule of the trade.
Row work_row() {
  using machine::Engine;
  constexpr double kilo = 1e3;
  QuantityKind work = in_own_unit({.symbol = "kJ/kg", .factor = kilo, .step = 10 * kilo});
  work.optional = true;
  work.when_empty = tr("rule of the trade, %1 kJ/kg")
                        .arg(show_count(machine::default_work_per_air_J_kg / kilo))
                        .toStdString();
  return shown_if<Build>(
      with<Engine>(&Build::demand),
      quantity_row<Build>(
          "work_per_air", tr("Work of the air"),
          tr("Crank work of a kilogram of trapped air, before the blower's drive is taken off. Empty: the "
             "rule of the "
             "trade for petrol at best power"),
          work, [](const Build& build) { return std::get<Engine>(build.demand).work_per_air_J_kg; },
          [](Build& build, std::optional<double> value) {
            std::get<Engine>(build.demand).work_per_air_J_kg = value;
          }));
}

Rows engine_rows(const TableFiles& files) {
  using machine::Engine;
  const auto speed = quantity_of(Dimension::rotational_speed);
  return {
      number("displacement", "Displacement", "Of all cylinders", &Build::demand, &Engine::displacement_m3,
             quantity_of(Dimension::volume)),
      count("strokes", "Strokes", "4 or 2", &Engine::strokes),
      count("cylinders", "Cylinders", "1 to 16", &Engine::cylinders),
      efficiency_row(files),
      number("idle_speed", "Idle speed", "Least speed shown", &Build::demand, &Engine::idle_speed_rev_s,
             speed),
      number("max_speed", "Greatest speed", "Greatest speed shown", &Build::demand, &Engine::max_speed_rev_s,
             speed),
      number("working_speed", "Working speed", "At which the build opens", &Build::demand,
             &Engine::working_speed_rev_s, speed),
      number("pulsation_factor", "Pulsation factor",
             "Of the flow at the filter: mean of its square over the square of its mean. 1: steady, as "
             "behind the "
             "volumes of a blown engine; a filter right at the engine sees up to 4.9 with one cylinder, 2.5 "
             "with "
             "two, 1.2 with four",
             &Build::demand, &Engine::pulsation_factor, quantity_of(Dimension::ratio)),
      number(
          "lost_in_scavenging", "Lost in scavenging",
          "Share of the air that goes straight through to the exhaust: in a two-stroke, or with much valve "
          "overlap. It gives no power",
          &Build::demand, &Engine::lost_in_scavenging, percentage()),
      work_row()};
}

Rows bench_rows() {
  using build::FixedFlow;
  return {number("mass_flow", "Air flow", "That the bench draws", &Build::demand, &FixedFlow::mass_flow_kg_s,
                 quantity_of(Dimension::mass_flow)),
          number("inlet_pressure", "Inlet pressure", "Total", &Build::demand,
                 &FixedFlow::inlet_total_pressure_Pa, absolute_pressure()),
          number("inlet_temperature", "Inlet temperature", "Total", &Build::demand,
                 &FixedFlow::inlet_total_temperature_K, quantity_of(Dimension::temperature))};
}

Rows demand_rows(const Session& session, const TableFiles& files) {
  const auto other = std::make_shared<std::optional<build::Demand>>();
  Rows rows{choice_row<Build>(
      "demand", tr("Draws the air"), tr("An engine, or a flow bench with a fixed flow"),
      {tr("engine"), tr("flow bench")},
      [](const Build& shown) { return static_cast<int>(shown.demand.index()); },
      [&session, other](Build& changed, int index) {
        if (static_cast<std::size_t>(index) == changed.demand.index())
          return;
        const build::Demand before = changed.demand;
        const auto air = build::ambient_air(changed.ambient);
        const double flow_kg_s = session.evaluation().path.point.mass_flow_kg_s;
        if (*other && (*other)->index() == static_cast<std::size_t>(index))
          changed.demand = **other;
        else if (index == 0)
          changed.demand = ordinary_engine();
        else
          changed.demand =
              build::FixedFlow{flow_kg_s > 0 ? flow_kg_s : 0.1, air.pressure_Pa, air.temperature_K};
        *other = before;
      })};
  append(rows, engine_rows(files));
  append(rows, bench_rows());
  rows.push_back(quantity_row<Build>(
      "plenum_exit_loss", tr("Manifold entry loss"),
      tr("Share of the last dynamic pressure that is lost on entering the manifold, 0 to 1"),
      quantity_of(Dimension::ratio), [](const Build& shown) { return std::optional(shown.plenum_exit_loss); },
      [](Build& changed, std::optional<double> value) { changed.plenum_exit_loss = *value; }));
  return rows;
}

} // namespace

machine::Engine ordinary_engine() {
  constexpr double rpm = 1.0 / 60.0;
  return {.displacement_m3 = 2.0e-3,
          .strokes = 4,
          .cylinders = 4,
          .efficiency = {{1000 * rpm, 0.75}, {4000 * rpm, 0.90}, {6000 * rpm, 0.85}},
          .idle_speed_rev_s = 850 * rpm,
          .max_speed_rev_s = 6500 * rpm,
          .working_speed_rev_s = 6000 * rpm};
}

std::vector<BuildGroup> build_fields(const Session& session, const TableFiles& files) {
  return {{tr("Build"), title_rows()},
          {tr("Surroundings"), ambient_rows()},
          {tr("Bay"), bay_rows()},
          {tr("Engine"), demand_rows(session, files)},
          {tr("Budget"), budget_rows()}};
}

} // namespace bellmouth::ui
