// SPDX-License-Identifier: GPL-3.0-or-later
#include "weighing_tables.hpp"

#include "piece_text.hpp"
#include "units.hpp"

#include <QCoreApplication>
#include <QLocale>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

using quantity::Dimension;

QString tr(const char* text) {
  return QCoreApplication::translate("WeighingTables", text);
}

/// The unit of a column, and how many decimals of it mean something.
struct Scale {
  Dimension dimension;
  const char* unit;
  int decimals;
};
Scale power_scale() {
  return units().flow == UnitChoice::Flow::imperial ? Scale{Dimension::power, "hp", 2}
                                                    : Scale{Dimension::power, "W", 0};
}
Scale air_scale() {
  return units().flow == UnitChoice::Flow::imperial ? Scale{Dimension::mass_flow, "lb/min", 3}
                                                    : Scale{Dimension::mass_flow, "g/s", 2};
}
Scale pressure_scale() {
  switch (units().pressure) {
  case UnitChoice::Pressure::bars:
    return {Dimension::pressure, "bar", 4};
  case UnitChoice::Pressure::psi:
    return {Dimension::pressure, "psi", 3};
  case UnitChoice::Pressure::kilopascals:
    break;
  }
  return {Dimension::pressure, "kPa", 2};
}

/// "+0.83", "−0.46", "0.00".
QString signed_text(double value_si, const Scale& scale) {
  const double value = quantity::in_unit(scale.dimension, value_si, scale.unit);
  const QString size = QLocale().toString(std::abs(value), 'f', scale.decimals);
  const bool nothing = size == QLocale().toString(0.0, 'f', scale.decimals);
  return nothing ? size : (value < 0 ? "−" : "+") + size;
}
RankedCell signed_cell(double value_si, const Scale& scale) {
  return {signed_text(value_si, scale), value_si};
}
QString titled(const QString& words, const Scale& scale) {
  return QString("%1, %2").arg(words, scale.unit);
}

RankedCell drop_cell(double drop_Pa, double low_Pa, double high_Pa) {
  return {show_drop_with_band(drop_Pa, low_Pa, high_Pa), drop_Pa};
}

RankedRow cost_row(const QString& where, const QString& what, const flow::Cost& cost, RankedCell drop,
                   Selection leads_to) {
  const auto cell = [&](double value_si, const Scale& scale) {
    return cost.known ? signed_cell(value_si, scale) : RankedCell{"–", -HUGE_VAL};
  };
  return {.cells = {{where, {}},
                    {what, {}},
                    cell(cost.power_W, power_scale()),
                    cell(cost.air_kg_s, air_scale()),
                    cell(cost.pressure_Pa, pressure_scale()),
                    std::move(drop)},
          .tip = cost.known ? QString() : tr("Without its losses there is no point on which all agree"),
          .leads_to = std::move(leads_to)};
}

void add_run(std::vector<RankedRow>& rows, const build::Build& build, std::size_t step, const build::Run& run,
             const RunResult& result, const flow::Costs::Run& costs, const flow::Banded& drop) {
  const QString name = with_branch(build, step, run_name(run.id));
  RankedRow whole = cost_row(name, tr("whole run"), costs.whole, drop_cell(drop.value, drop.low, drop.high),
                             PickedRun{run.id});
  whole.strong = true;
  rows.push_back(std::move(whole));
  for (std::size_t row = 0; row < result.flow.rows.size(); ++row) {
    const flow::PieceFlow& piece = result.flow.rows[row];
    rows.push_back(cost_row(QString("%1, %2").arg(name).arg(row + 1), piece_title(run.pieces[row]),
                            costs.rows[row], drop_cell(piece.drop_Pa, piece.drop_low_Pa, piece.drop_high_Pa),
                            PickedPiece{run.id, row}));
  }
}

/// "−8.14 to +9.14", ranked by how far the ends lie apart.
RankedCell reach_cell(double one_si, double other_si, const Scale& scale) {
  const double low = std::min({one_si, other_si, 0.0}), high = std::max({one_si, other_si, 0.0});
  return {QString("%1 to %2").arg(signed_text(low, scale), signed_text(high, scale)), high - low};
}
RankedCell reach_cell(const flow::Banded& banded, const Scale& scale) {
  return reach_cell(banded.low - banded.value, banded.high - banded.value, scale);
}

QString capital(QString text) {
  if (!text.isEmpty())
    text[0] = text[0].toUpper();
  return text;
}

bool has_displacement_blower(const build::Build& build) {
  return std::ranges::any_of(build.path, [&](const build::PathStep& step) {
    const auto* id = std::get_if<build::MachineId>(&step);
    const build::Machine* machine = id ? build.find(*id) : nullptr;
    return machine && std::holds_alternative<machine::DisplacementBlower>(machine->kind);
  });
}

} // namespace

Ranking costs_ranking(const build::Build& build, const Evaluation& evaluation, const Weighing& weighing) {
  Ranking ranking{
      {{tr("Where"), false, tr("Run and row, or kind of machine")},
       {tr("What"), false, {}},
       {titled(tr("Power"), power_scale()), true, tr("Power at the crank there would be more")},
       {titled(tr("Air"), air_scale()), true, tr("Air that the engine would draw more")},
       {titled(tr("Manifold"), pressure_scale()), true, tr("Pressure in the manifold there would be more")},
       {tr("Drop (band)"), true, tr("Total pressure lost, with its band")}},
      {}};
  const build::Option& option = *build.find(evaluation.option);
  std::size_t run = 0, machine = 0;
  for (std::size_t step = 0; step < build.path.size(); ++step) {
    if (const auto* id = std::get_if<build::RunId>(&build.path[step])) {
      add_run(ranking.rows, build, step, *option.find(*id), evaluation.runs[run], weighing.costs.runs[run],
              weighing.bands.run_drops_Pa[run]);
      ++run;
      continue;
    }
    const build::Machine& what = *build.find(std::get<build::MachineId>(build.path[step]));
    const flow::MachineFlow& flow = evaluation.path.machines[machine];
    // A blower without its drop is no blower.
    if (!build::is_blower(what.kind)) {
      const std::string_view kind = build::kind_name(what.kind);
      ranking.rows.push_back(cost_row(
          with_branch(build, step, QString::fromUtf8(kind.data(), static_cast<qsizetype>(kind.size()))),
          QString::fromStdString(what.name), weighing.costs.machines[machine],
          drop_cell(flow.drop_Pa, flow.drop_low_Pa, flow.drop_high_Pa), PickedMachine{what.id}));
    }
    ++machine;
  }
  double low_Pa = 0, high_Pa = 0;
  for (const flow::Banded& drop : weighing.bands.run_drops_Pa) {
    low_Pa += drop.low;
    high_Pa += drop.high;
  }
  RankedRow all = cost_row(tr("All the ducting"), {}, weighing.costs.ducting,
                           drop_cell(evaluation.duct_drop_Pa, low_Pa, high_Pa), std::monostate{});
  all.strong = all.last = true;
  all.tip = tr("All runs lossless at once. Not the sum of the rows: they share one stream.");
  ranking.rows.push_back(std::move(all));
  return ranking;
}

Ranking doubts_ranking(const Weighing& weighing) {
  Ranking ranking{{{tr("In doubt"), false, {}},
                   {tr("Source of the band"), false, {}},
                   {titled(tr("Moves manifold"), pressure_scale()), true,
                    tr("Change of the pressure in the manifold from one end of the band to the other")},
                   {titled(tr("Moves power"), power_scale()), true,
                    tr("Change of the power at the crank from one end of the band to the other")},
                   {tr("Places"), true, tr("Pieces and machines that share this doubt")}},
                  {}};
  for (const flow::Doubt& doubt : weighing.bands.doubts)
    ranking.rows.push_back(
        {.cells = {{capital(QString::fromStdString(doubt.name)), {}},
                   {QString::fromStdString(doubt.source), {}},
                   reach_cell(doubt.manifold_pressure_low_Pa, doubt.manifold_pressure_high_Pa,
                              pressure_scale()),
                   reach_cell(doubt.crank_power_low_W, doubt.crank_power_high_W, power_scale()),
                   {show_count(static_cast<double>(doubt.members)), static_cast<double>(doubt.members)}},
         .tip = {},
         .leads_to = {}});
  RankedRow all{.cells = {{tr("All together"), {}},
                          {tr("added in squares"), {}},
                          reach_cell(weighing.bands.manifold_pressure_Pa, pressure_scale()),
                          reach_cell(weighing.bands.crank_power_W, power_scale()),
                          {{}, {}}},
                .tip = tr("The bands of the figures above the path"),
                .leads_to = {},
                .strong = true,
                .last = true};
  ranking.rows.push_back(std::move(all));
  return ranking;
}

QString costs_words(const build::Build& build) {
  if (!std::holds_alternative<machine::Engine>(build.demand))
    return tr("What the pressure at the end would be more if that one part lost nothing; the flow is given, "
              "so that there is no power to win.");
  QString words = tr("What there would be more if that one part lost nothing.");
  if (has_displacement_blower(build))
    words += " " + tr("Behind a displacement blower less loss brings little more air: it lowers the pressure "
                      "at which the blower gives the same air, hence a minus under manifold, and saves power "
                      "of the drive.");
  return words;
}

QString doubts_words() {
  return tr("What changes when one doubt goes to either end of its band (about 19 in 20) and all else stays: "
            "measure where it is widest.");
}

} // namespace bellmouth::ui
