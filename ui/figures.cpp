// SPDX-License-Identifier: GPL-3.0-or-later
#include "figures.hpp"

#include "findings_model.hpp"
#include "piece_text.hpp"
#include "units.hpp"

#include <QStringList>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace bellmouth::ui {

namespace {

const QString dash = "–";

/// A figure before it is compared.
struct Made {
  Figure figure;
  Better better = Better::neither;
  ShowNumber show_value, show_size;       ///< of the figure, and of a difference without its sign
  std::optional<double> counted_from = 0; ///< see difference()
};

/// Heat through walls: tens of watts, whatever unit power is shown in.
QString show_heat(double heat_W) {
  return QString("%1 W").arg(show_count(heat_W));
}

/// "1.25 kPa gauge" apart: the number, and the rest.
void set_value(Figure& figure, const QString& text) {
  const auto space = text.indexOf(' ');
  figure.value = space < 0 ? text : text.left(space);
  figure.unit = space < 0 ? QString() : text.mid(space + 1);
}

/// "137 to 159 kPa" of two texts with the same unit behind the first space.
QString band_text(const QString& low, const QString& high) {
  return QString("%1 to %2").arg(low.left(low.indexOf(' ')), high);
}

QString counted(int count, const QString& one, const QString& many) {
  return QString("%1 %2").arg(count).arg(count == 1 ? one : many);
}

class Maker {
public:
  Maker(const build::Build& build, const Known& known)
      : build_(build), known_(known), evaluation_(known.evaluation), weighing_(known.weighing),
        point_(known.evaluation.path.point), usable_(known.evaluation.path.point.usable()) {}

  std::vector<Made> make() {
    stream();
    crank();
    blower();
    ducting();
    bay();
    parts();
    return std::move(made_);
  }

private:
  /// Adds a figure that exists where `number` is set.
  Figure& add(const char* key, const char* title, std::optional<double> number, const ShowNumber& show_value,
              Better better, const ShowNumber& show_size, const char* tip) {
    Made made{{.key = key,
               .title = title,
               .value = dash,
               .unit = {},
               .detail = {},
               .tip = tip,
               .band = {},
               .has_band = false,
               .number = number,
               .difference = {}},
              better,
              show_value,
              show_size,
              0.0};
    if (number)
      set_value(made.figure, show_value(*number));
    made_.push_back(std::move(made));
    return made_.back().figure;
  }
  /// Gives the last figure its band, where there is one, for its second line; what stood there goes to the
  /// tip.
  void band(flow::Banded flow::Bands::*which) {
    Made& made = made_.back();
    made.figure.has_band = made.figure.number.has_value();
    if (!made.figure.has_band || weighing_ == nullptr)
      return;
    const flow::Banded& banded = weighing_->bands.*which;
    // Gauge pressures say so in the line above.
    made.figure.band = band_text(made.show_value(banded.low), made.show_value(banded.high)).remove(" gauge");
    if (!made.figure.detail.isEmpty())
      made.figure.tip += "<br>" + made.figure.detail;
    made.figure.detail = "band " + made.figure.band;
  }
  [[nodiscard]] std::optional<double> when_usable(double value) const {
    return usable_ ? std::optional(value) : std::nullopt;
  }

  void stream() {
    const double ambient_Pa = build::ambient_air(build_.ambient).pressure_Pa;
    auto& flow =
        add("air_flow", "Air flow", when_usable(point_.mass_flow_kg_s), show_mass_flow, Better::higher,
            show_mass_flow, "Mass of air a second on which engine, blower and ducting agree.");
    flow.detail = point_.engine_speed_rev_s > 0 ? "at " + show_engine_speed(point_.engine_speed_rev_s)
                                                : QString("given flow");
    band(&flow::Bands::mass_flow_kg_s);
    auto& pressure = add(
        "manifold_pressure",
        std::holds_alternative<build::FixedFlow>(build_.demand) ? "Outlet pressure" : "Manifold pressure",
        when_usable(point_.manifold_pressure_Pa),
        [ambient_Pa](double Pa) { return show_pressure_gauge(Pa, ambient_Pa); }, Better::higher,
        show_pressure_difference, "Pressure in the manifold, counted from the ambient air.");
    if (usable_)
      pressure.detail = show_pressure_abs(point_.manifold_pressure_Pa);
    made_.back().counted_from = ambient_Pa;
    band(&flow::Bands::manifold_pressure_Pa);
    auto& temperature =
        add("charge_temperature", "Charge temperature", when_usable(point_.manifold_temperature_K),
            show_temperature, Better::lower, show_temperature_difference,
            "Total temperature of the air as it enters the manifold.");
    const double ambient_K = build::ambient_air(build_.ambient).temperature_K;
    if (usable_)
      temperature.detail = "ambient " + show_temperature(ambient_K);
    made_.back().counted_from = ambient_K;
    band(&flow::Bands::manifold_temperature_K);
  }

  void crank() {
    if (!std::holds_alternative<machine::Engine>(build_.demand))
      return;
    add("crank_power", "Crank power", when_usable(point_.crank_power_W), show_power, Better::higher,
        show_power,
        "Power at the crank, estimated from the air and the fuel it burns; what drives a blower is taken "
        "off. "
        "Good for comparing layouts, not for a test sheet.");
    if (usable_)
      made_.back().figure.unit += " est.";
    band(&flow::Bands::crank_power_W);
  }

  void blower() {
    std::size_t index = 0;
    for (const build::PathStep& step : build_.path) {
      const auto* id = std::get_if<build::MachineId>(&step);
      if (!id)
        continue;
      const build::Machine* machine = build_.find(*id);
      const std::size_t at = index++;
      if (!machine || !build::is_blower(machine->kind))
        continue;
      const bool known = usable_ && at < evaluation_.path.machines.size();
      const flow::MachineFlow flow = known ? evaluation_.path.machines[at] : flow::MachineFlow{};
      const auto ratio = [](double value) { return show_ratio(value); };
      add("pressure_ratio", "Pressure ratio", when_usable(flow.pressure_ratio), ratio, Better::lower, ratio,
          "Total pressure behind the blower over that ahead of it. For the same manifold "
          "pressure, lower is less work.");
      auto& power =
          add("drive_power", "Drive power", when_usable(flow.shaft_power_W), show_power, Better::lower,
              show_power, "Power on the blower's shaft, its mechanical losses included.");
      if (known) {
        made_[made_.size() - 2].figure.detail = "out " + show_temperature(flow.outlet.total_temperature_K);
        power.detail = "efficiency " + show_percent(flow.adiabatic_efficiency, 0);
      }
      return;
    }
  }

  void ducting() {
    double low_Pa = 0, high_Pa = 0;
    const RunResult* fastest = nullptr;
    for (const RunResult& run : evaluation_.runs) {
      low_Pa += run.flow.drop_low_Pa;
      high_Pa += run.flow.drop_high_Pa;
      if (!fastest || run.flow.peak_velocity_m_s > fastest->flow.peak_velocity_m_s)
        fastest = &run;
    }
    auto& drop = add("ducting_drop", "Duct drop", when_usable(evaluation_.duct_drop_Pa),
                     show_pressure_difference, Better::lower, show_pressure_difference,
                     "Total pressure lost in all runs, with the band that the loss figures leave open.");
    if (usable_)
      drop.detail = "band " + show_pressure_band(low_Pa, high_Pa);
    const auto percent = [](double share) { return show_percent(share); };
    auto& lost =
        add("air_lost", "Air lost to ducting", usable_ ? evaluation_.air_lost_to_ducting : std::nullopt,
            percent, Better::lower, percent, "How much less air than with ducting that costs nothing.");
    lost.detail = lost.number ? "against ideal ducts" : "";
    const bool known = usable_ && fastest;
    auto& velocity = add("peak_velocity", "Peak velocity",
                         known ? std::optional(fastest->flow.peak_velocity_m_s) : std::nullopt, show_velocity,
                         Better::lower, show_velocity, "Greatest velocity in any run, and its Mach number.");
    if (known)
      velocity.detail =
          QString("Mach %1, %2").arg(show_ratio(fastest->flow.peak_mach), run_name(fastest->id));
    auto& volume =
        add("duct_volume", "Duct volume", when_usable(evaluation_.duct_volume_m3), show_volume, Better::lower,
            show_volume,
            "Volume of all runs, and the time in which the pressure behind the blower makes 95 % of its "
            "way from ambient while the engine draws.");
    if (evaluation_.response_time_s)
      volume.detail = "responds in " + show_time(*evaluation_.response_time_s);
    if (evaluation_.fill_time_s)
      volume.tip += "<br>Filled to manifold pressure at this flow in " + show_time(*evaluation_.fill_time_s);
  }

  /// Heat through the walls of the ducting, where the air of the bay is stated.
  void bay() {
    if (!build_.bay)
      return;
    double heat_W = 0;
    const RunResult* most = nullptr;
    for (const RunResult& run : evaluation_.runs) {
      heat_W += run.flow.heat_W;
      if (!most || std::abs(run.flow.heat_W) > std::abs(most->flow.heat_W))
        most = &run;
    }
    auto& heat =
        add("bay_heat", "Heat from the bay", when_usable(heat_W), show_heat, Better::lower, show_heat,
            "Heat that the air picks up through the walls of all runs; negative where it gives "
            "heat off. The run with the most is named.");
    if (usable_ && most)
      heat.detail = show_heat(most->flow.heat_W) + ", " + run_name(most->id);
  }

  void parts() {
    int joints = 0, clamps = 0;
    for (const RunResult& run : evaluation_.runs) {
      joints += run.joints;
      for (const joint::Joint& joint : run.fit.joints)
        clamps += joint::clamps_needed(joint);
    }
    const auto count = [](double value) { return show_count(value); };
    add("joints", "Joints", joints, count, Better::lower, count,
        "Hose joints and welds; each hose joint takes a clamp.")
        .detail = counted(clamps, "clamp", "clamps");
    made_.back().counted_from.reset();

    money();
    findings();
  }

  void money() {
    const quantity::Currency currency = build_.budget.currency;
    const auto money = [currency](double minor) { return show_money({std::llround(minor), currency}); };
    const buy::Totals* totals = known_.purchase != nullptr ? &known_.purchase->totals : nullptr;
    auto& price = add("price", "To buy",
                      totals ? std::optional(static_cast<double>(totals->total.minor)) : std::nullopt, money,
                      Better::lower, money,
                      "What is still to be bought, with postage and tax; what is owned is not counted.");
    made_.back().counted_from.reset();
    if (totals == nullptr)
      return;
    if (totals->left)
      price.detail = totals->left->minor < 0 ? money(static_cast<double>(-totals->left->minor)) + " over"
                                             : money(static_cast<double>(totals->left->minor)) + " left";
    if (totals->unpriced > 0)
      price.detail = QString("%1 without a price").arg(totals->unpriced);
  }

  void findings() {
    std::array<int, 3> counts{};
    int waived = 0;
    for (const check::Finding& finding : known_.all_findings())
      ++(finding.waived ? waived : counts.at(static_cast<std::size_t>(finding.severity)));
    QStringList kinds;
    for (const auto severity : {check::Severity::stop, check::Severity::caution, check::Severity::note})
      if (const int count = counts.at(static_cast<std::size_t>(severity)); count > 0)
        kinds << severity_count(severity, count);
    if (waived > 0)
      kinds << QString("%1 waived").arg(waived);
    const auto count = [](double value) { return show_count(value); };
    add("findings", "Findings", std::accumulate(counts.begin(), counts.end(), 0), count, Better::lower, count,
        "What the checks have to say, notes counted, what is waived not.")
        .detail = kinds.join(", ");
    made_.back().counted_from.reset();
  }

  const build::Build& build_;
  const Known& known_;
  const Evaluation& evaluation_;
  const Weighing* weighing_;
  const flow::OperatingPoint& point_;
  const bool usable_;
  std::vector<Made> made_;
};

} // namespace

QString Difference::marked() const {
  return merit > 0 ? "✓ " + text : merit < 0 ? "✗ " + text : text;
}

Difference difference(double value, double other, Better better, const ShowNumber& show_value,
                      const ShowNumber& show_size, std::optional<double> counted_from) {
  constexpr double noise = 0.005;
  const double change = value - other;
  const double least =
      counted_from ? noise * std::max(std::abs(value - *counted_from), std::abs(other - *counted_from)) : 0;
  if (std::abs(change) < least || show_value(value) == show_value(other) ||
      show_size(std::abs(change)) == show_size(0))
    return {"same", 0};
  const int merit = better == Better::neither ? 0 : (change < 0) == (better == Better::lower) ? 1 : -1;
  return {(change < 0 ? "−" : "+") + show_size(std::abs(change)), merit};
}

std::vector<Figure> figures(const build::Build& build, const Known& shown, const Known* rival) {
  std::vector<Made> made = Maker(build, shown).make();
  std::vector<Made> others;
  if (rival != nullptr)
    others = Maker(build, *rival).make();
  std::vector<Figure> result;
  result.reserve(made.size());
  for (std::size_t i = 0; i < made.size(); ++i) {
    if (i < others.size() && made[i].figure.number && others[i].figure.number)
      made[i].figure.difference = difference(*made[i].figure.number, *others[i].figure.number, made[i].better,
                                             made[i].show_value, made[i].show_size, made[i].counted_from);
    result.push_back(std::move(made[i].figure));
  }
  return result;
}

QString trouble(const Evaluation& evaluation) {
  const flow::OperatingPoint& point = evaluation.path.point;
  switch (point.stop) {
  case flow::Stop::converged:
  case flow::Stop::fixed_flow:
    return {};
  case flow::Stop::chokes:
    return QString("The air chokes: %1 cannot pass what is asked for. Up to %2 would get through. Use a "
                   "larger bore there, or ask for less.")
        .arg(QString::fromStdString(point.choke_where), show_mass_flow(point.max_mass_flow_kg_s));
  case flow::Stop::out_of_reach:
    return "The target pressure is beyond what the compressor can do at this engine speed. Lower the target "
           "or the losses.";
  case flow::Stop::target_too_low:
    return "The target pressure lies below the pressure at the compressor's inlet. Raise the target.";
  case flow::Stop::too_hot:
    return "The air would get hotter than the laws of this model hold for. Lower the pressure ratio, or look "
           "at the efficiency.";
  case flow::Stop::backwards:
    return "One of the branches side by side cannot hold against the others: its air would flow backwards. "
           "Make "
           "them more alike.";
  case flow::Stop::not_run:
    return "The flow has not been worked out.";
  case flow::Stop::no_agreement:
    break;
  }
  return "No flow was found on which engine, blower and ducting agree. Look for a size that is far out of "
         "the ordinary.";
}

} // namespace bellmouth::ui
