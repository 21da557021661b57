// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_fields.hpp"

#include "units.hpp"

#include <QCoreApplication>

namespace bellmouth::ui {

namespace {

using build::Build;
using quantity::Dimension;
using Row = FormRow<Build>;
using Rows = std::vector<Row>;

QString tr(const char* text) {
  return QCoreApplication::translate("BuildFields", text);
}

/// A number of one alternative A of a variant of the build, in SI.
template <class A, class V>
Row number(const char* key, const char* label, const char* tip, V Build::*part, double A::*member,
           QuantityKind kind) {
  return quantity_row<Build>(
      key, tr(label), tr(tip), std::move(kind),
      [part, member](const Build& build) { return std::optional(std::get<A>(build.*part).*member); },
      [part, member](Build& build, std::optional<double> value) {
        std::get<A>(build.*part).*member = *value;
      });
}

QuantityKind kind(Dimension dimension) {
  return {.dimension = dimension};
}
QuantityKind absolute_pressure() {
  return {.dimension = Dimension::pressure, .reference = quantity::Reference::absolute};
}
QuantityKind percentage() {
  return {.dimension = Dimension::ratio, .unit = "%"};
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

Rows ambient_rows(const Build& build) {
  using build::Altitude;
  using build::Weather;
  Rows rows{choice_row<Build>(
      "ambient", tr("Air"), tr("As measured on the day, or the standard atmosphere at an altitude"),
      {tr("weather of the day"), tr("standard, by altitude")},
      [](const Build& shown) { return static_cast<int>(shown.ambient.index()); },
      [](Build& changed, int index) {
        if (static_cast<std::size_t>(index) == changed.ambient.index())
          return;
        if (index == 0) {
          // The same air, as a barometer and a thermometer there would read it.
          const auto air = build::ambient_air(changed.ambient);
          changed.ambient = Weather{air.pressure_Pa, air.temperature_K,
                                    std::get<Altitude>(changed.ambient).relative_humidity};
        } else {
          changed.ambient = Altitude{0, std::get<Weather>(changed.ambient).relative_humidity};
        }
      })};
  if (std::holds_alternative<Weather>(build.ambient)) {
    rows.push_back(number("pressure", "Pressure", "Of the air at the place, not reduced to sea level",
                          &Build::ambient, &Weather::pressure_Pa, absolute_pressure()));
    rows.push_back(number("temperature", "Temperature", "Of the air outside", &Build::ambient,
                          &Weather::temperature_K, kind(Dimension::temperature)));
    rows.push_back(number("humidity", "Relative humidity", "0 % to 100 %", &Build::ambient,
                          &Weather::relative_humidity, percentage()));
  } else {
    QuantityKind altitude = kind(Dimension::length);
    altitude.unit = units().length == UnitChoice::Length::inches ? "ft" : "m";
    rows.push_back(number("altitude", "Altitude",
                          "Above mean sea level; ISO 2533 gives pressure and temperature", &Build::ambient,
                          &Altitude::altitude_m, altitude));
    rows.push_back(number("humidity", "Relative humidity", "0 % to 100 %", &Build::ambient,
                          &Altitude::relative_humidity, percentage()));
  }
  rows.push_back(choice_row<Build>(
      "inlet", tr("Open inlet"),
      tr("How the air gets in where the path begins with a run and not with a filter"),
      {tr("bellmouth"), tr("flush"), tr("projecting")},
      [](const Build& shown) { return static_cast<int>(shown.inlet.kind); },
      [](Build& changed, int index) {
        changed.inlet.kind = static_cast<build::OpenInlet::Kind>(index);
        if (changed.inlet.kind != build::OpenInlet::Kind::bellmouth)
          changed.inlet.lip_radius_m = 0;
      }));
  if (build.inlet.kind == build::OpenInlet::Kind::bellmouth)
    rows.push_back(quantity_row<Build>(
        "lip_radius", tr("Lip radius"), tr("Of the bellmouth"), QuantityKind{},
        [](const Build& shown) { return std::optional(shown.inlet.lip_radius_m); },
        [](Build& changed, std::optional<double> value) { changed.inlet.lip_radius_m = *value; }));
  return rows;
}

template <class M>
Row count(const char* key, const char* label, const char* tip, M machine::Engine::*member) {
  return quantity_row<Build>(
      key, tr(label), tr(tip), QuantityKind{.dimension = Dimension::ratio, .whole = true},
      [member](const Build& build) {
        return std::optional<double>(std::get<machine::Engine>(build.demand).*member);
      },
      [member](Build& build, std::optional<double> value) {
        std::get<machine::Engine>(build.demand).*member = whole_number(*value);
      });
}

Rows engine_rows() {
  using machine::Engine;
  const auto speed = kind(Dimension::rotational_speed);
  return {number("displacement", "Displacement", "Of all cylinders", &Build::demand, &Engine::displacement_m3,
                 kind(Dimension::volume)),
          count("strokes", "Strokes", "4 or 2", &Engine::strokes),
          count("cylinders", "Cylinders", "1 to 16", &Engine::cylinders),
          points_row<Build>(
              "efficiency", tr("Volumetric efficiency"),
              tr("Over engine speed, on the density in the manifold; straight lines between the points"),
              {tr("Engine speed"), speed}, {tr("Efficiency"), percentage()},
              [](const Build& build) {
                std::vector<PointTable::Point> points;
                for (const auto& point : std::get<Engine>(build.demand).efficiency)
                  points.emplace_back(point.speed_rev_s, point.volumetric_efficiency);
                return points;
              },
              [](Build& build, const std::vector<PointTable::Point>& points) {
                auto& efficiency = std::get<Engine>(build.demand).efficiency;
                efficiency.clear();
                for (const auto& [speed_rev_s, share] : points)
                  efficiency.push_back({speed_rev_s, share});
              }),
          number("idle_speed", "Idle speed", "Least speed shown", &Build::demand, &Engine::idle_speed_rev_s,
                 speed),
          number("max_speed", "Greatest speed", "Greatest speed shown", &Build::demand,
                 &Engine::max_speed_rev_s, speed),
          number("working_speed", "Working speed", "At which the build opens", &Build::demand,
                 &Engine::working_speed_rev_s, speed)};
}

Rows bench_rows() {
  using build::FixedFlow;
  return {number("mass_flow", "Air flow", "That the bench draws", &Build::demand, &FixedFlow::mass_flow_kg_s,
                 kind(Dimension::mass_flow)),
          number("inlet_pressure", "Inlet pressure", "Total", &Build::demand,
                 &FixedFlow::inlet_total_pressure_Pa, absolute_pressure()),
          number("inlet_temperature", "Inlet temperature", "Total", &Build::demand,
                 &FixedFlow::inlet_total_temperature_K, kind(Dimension::temperature))};
}

Rows demand_rows(const Build& build, const Session& session) {
  Rows rows{choice_row<Build>(
      "demand", tr("Draws the air"), tr("An engine, or a flow bench with a fixed flow"),
      {tr("engine"), tr("flow bench")},
      [](const Build& shown) { return static_cast<int>(shown.demand.index()); },
      [&session](Build& changed, int index) {
        if (static_cast<std::size_t>(index) == changed.demand.index())
          return;
        const auto air = build::ambient_air(changed.ambient);
        const double flow_kg_s = session.evaluation().path.point.mass_flow_kg_s;
        if (index == 0)
          changed.demand = ordinary_engine();
        else
          changed.demand =
              build::FixedFlow{flow_kg_s > 0 ? flow_kg_s : 0.1, air.pressure_Pa, air.temperature_K};
      })};
  for (Row& row : std::holds_alternative<machine::Engine>(build.demand) ? engine_rows() : bench_rows())
    rows.push_back(std::move(row));
  rows.push_back(quantity_row<Build>(
      "plenum_exit_loss", tr("Manifold entry loss"),
      tr("Share of the last dynamic pressure that is lost on entering the manifold, 0 to 1"),
      kind(Dimension::ratio), [](const Build& shown) { return std::optional(shown.plenum_exit_loss); },
      [](Build& changed, std::optional<double> value) { changed.plenum_exit_loss = *value; }));
  return rows;
}

Rows budget_rows() {
  return {
      text_row<Build>(
          "currency", tr("Currency"),
          tr("Three letters of ISO 4217, such as EUR; that of the prices in stock"),
          [](const Build& build) {
            return QString::fromStdString(std::string(build.budget.currency.text()));
          },
          [](Build& build, const QString& text) -> std::optional<QString> {
            const auto read = quantity::read_currency(text.trimmed().toUpper().toStdString());
            if (!read)
              return complaint(read.error());
            build.budget.currency = *read;
            if (build.budget.limit)
              build.budget.limit->currency = *read;
            return std::nullopt;
          }),
      text_row<Build>(
          "limit", tr("Limit"), tr("What there is to spend; empty: no limit"),
          [](const Build& build) { return build.budget.limit ? show_money(*build.budget.limit) : QString(); },
          [](Build& build, const QString& text) -> std::optional<QString> {
            if (text.trimmed().isEmpty()) {
              build.budget.limit = std::nullopt;
              return std::nullopt;
            }
            const auto read =
                quantity::read_money(text.trimmed().toStdString(), build.budget.currency, decimal_sign());
            if (!read)
              return complaint(read.error());
            build.budget.limit = *read;
            return std::nullopt;
          })};
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

std::vector<BuildGroup> build_fields(const build::Build& build, const Session& session) {
  return {{tr("Build"), title_rows()},
          {tr("Surroundings"), ambient_rows(build)},
          {tr("Engine"), demand_rows(build, session)},
          {tr("Budget"), budget_rows()}};
}

} // namespace bellmouth::ui
