// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "common_arguments.hpp"
#include "evaluation_json.hpp"
#include "table.hpp"

#include <bellmouth/evaluate.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <ostream>

namespace bellmouth::cli {

namespace {

/// A figure of a row, where the row has an operating point.
std::optional<double> known(const SizeRow& row, double value) {
  return row.usable ? std::optional(value) : std::nullopt;
}

std::optional<quantity::Money> price(const SizeRow& row) {
  return row.refused ? std::nullopt : std::optional(row.total);
}

Json row_json(const SizeRow& row) {
  return {{"outer_diameter_mm", row.size.outer_diameter_m * mm_per_m},
          {"wall_mm", row.size.wall_m * mm_per_m},
          {"material", build::material_key(row.size.material)},
          {"inner_diameter_mm", row.bore_m * mm_per_m},
          {"velocity_m_s", or_null(known(row, row.peak_velocity_m_s))},
          {"peak_mach", or_null(known(row, row.peak_mach))},
          {"total_pressure_drop_Pa", or_null(known(row, row.drop_Pa))},
          {"volume_m3", or_null(known(row, row.volume_m3))},
          {"mass_flow_kg_s", or_null(known(row, row.mass_flow_kg_s))},
          {"manifold_pressure_Pa", or_null(known(row, row.manifold_pressure_Pa))},
          {"price", json_of(price(row))},
          {"currency", row.refused ? Json() : Json(row.total.currency.text())},
          {"unpriced", row.unpriced},
          {"stops", row.stops},
          {"as_it_is", row.as_it_is}};
}

Cells cells_of(const SizeRow& row) {
  return {fixed(row.size.outer_diameter_m * mm_per_m, 2),
          fixed(row.size.wall_m * mm_per_m, 2),
          std::string(build::material_name(row.size.material)),
          fixed(row.bore_m * mm_per_m, 2),
          fixed(known(row, row.peak_velocity_m_s), 1),
          fixed(known(row, row.peak_mach), 3),
          fixed(known(row, row.drop_Pa * 1e-3), 3),
          fixed(known(row, row.volume_m3 * 1e3), 2),
          fixed(known(row, row.mass_flow_kg_s), 4),
          fixed(known(row, row.manifold_pressure_Pa * 1e-3), 2),
          row.refused ? std::string("-") : (row.unpriced > 0 ? "at least " : "") + quantity::write(row.total),
          std::to_string(row.unpriced),
          std::to_string(row.stops),
          row.refused ? "refused: " + row.refused->text() : std::string(row.as_it_is ? "as it is" : "")};
}

class Size : public Command {
public:
  explicit Size(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    state_speed(app, arguments_);
    app.add_option("--run", run_, "run to size")->type_name("NAME")->required();
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const build::Option& option = *chosen->build.find(chosen->option);
    if (const auto run = find_run(option, run_); !run)
      return tl::unexpected(run.error());
    const auto sizes = size(chosen->build, chosen->option, build::RunId{run_}, chosen->speed_rev_s);
    if (sizes.empty())
      return without_solution("the build's stock holds no tube to size the run with");
    if (arguments_.as_json)
      print_json(out, chosen->option, sizes);
    else
      print_text(out, sizes);
    return std::ranges::any_of(sizes, &SizeRow::usable) ? done : no_solution;
  }

private:
  BuildArguments arguments_;
  std::string run_;

  void print_json(std::ostream& out, const build::OptionId& option, const std::vector<SizeRow>& sizes) const {
    Json json;
    json["option"] = option.text;
    json["run"] = run_;
    json["rows"] = Json::array();
    for (const SizeRow& row : sizes)
      json["rows"].push_back(row_json(row));
    print(out, json);
  }

  static void print_text(std::ostream& out, const std::vector<SizeRow>& sizes) {
    std::vector<Cells> rows;
    std::ranges::transform(sizes, std::back_inserter(rows), cells_of);
    print_table(out,
                {"OD [mm]", "wall [mm]", "material", "bore [mm]", "velocity [m/s]", "Mach", "lost [kPa]",
                 "volume [L]", "flow [kg/s]", "manifold [kPa]", "price of all", "unpriced", "stops", ""},
                rows);
  }
};

} // namespace

std::unique_ptr<Command> make_size(CLI::App& app) {
  return std::make_unique<Size>(app);
}

} // namespace bellmouth::cli
