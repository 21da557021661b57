// SPDX-License-Identifier: GPL-3.0-or-later
// How near each piece comes to what is round it, in a state of the bay.
#include "build_arguments.hpp"
#include "command.hpp"
#include "common_arguments.hpp"
#include "json.hpp"
#include "table.hpp"

#include <bellmouth/bay/names.hpp>
#include <bellmouth/evaluate.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <ostream>

namespace bellmouth::cli {

namespace {

class Clearance : public Command {
public:
  explicit Clearance(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    state_text(app, "--state", state_, "state of the bay; without it at rest", "NAME");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const build::Build& build = chosen->build;
    const auto state = find_state(build, state_);
    if (!state)
      return tl::unexpected(state.error());
    const Evaluation evaluation = evaluate(build, chosen->option);
    const auto found = clearances_in(build, evaluation, *state);
    const build::Option& option = *build.find(chosen->option);
    Json json;
    json["option"] = chosen->option.text;
    json["state"] = *state ? Json((*state)->text) : Json(nullptr);
    json["runs"] = Json::array();
    bool known = false;
    for (std::size_t i = 0; i < found.size(); ++i) {
      const build::Run& run = *option.find(evaluation.runs[i].id);
      known = known || found[i].closest() != nullptr;
      if (arguments_.as_json)
        json["runs"].push_back(run_json(build, option, run, found[i]));
      else
        print_run(out, build, option, run, found[i]);
    }
    if (arguments_.as_json)
      print(out, json);
    else if (!known)
      out << "nothing is near: no run begins at a measured port, or the bay is empty\n";
    return done;
  }

private:
  BuildArguments arguments_;
  std::optional<std::string> state_;

  static Json gap_json(const build::Build& build, const build::Option& option, const bay::Gap& gap) {
    return {{"index", gap.row},
            {"neighbour", bay::name_of(build, option, gap.neighbour)},
            {"distance_mm", gap.distance_m * mm_per_m},
            {"required_mm", gap.required_m * mm_per_m},
            {"doubt_mm", gap.doubt_m * mm_per_m},
            {"along_mm", gap.along_m * mm_per_m},
            {"on_piece_mm", in_mm(gap.on_piece_m)},
            {"on_neighbour_mm", in_mm(gap.on_neighbour_m)}};
  }

  static Json run_json(const build::Build& build, const build::Option& option, const build::Run& run,
                       const bay::RunClearance& clearance) {
    Json nearest = Json::array(), tight = Json::array();
    for (const auto& gap : clearance.nearest)
      if (gap)
        nearest.push_back(gap_json(build, option, *gap));
    for (const bay::Gap& gap : clearance.tight)
      tight.push_back(gap_json(build, option, gap));
    return {{"name", run.id.text}, {"nearest", std::move(nearest)}, {"tight", std::move(tight)}};
  }

  static Cells cells_of(const build::Build& build, const build::Option& option, const build::Run& run,
                        const bay::Gap& gap) {
    return {std::to_string(gap.row + 1),
            std::string(build::title(run.pieces[gap.row])),
            bay::name_of(build, option, gap.neighbour),
            fixed(gap.distance_m * mm_per_m, 1),
            fixed(gap.required_m * mm_per_m, 1),
            fixed(gap.doubt_m * mm_per_m, 1),
            gap.margin_m() < 0             ? "too near"
            : gap.margin_m() < gap.doubt_m ? "within the doubt"
                                           : ""};
  }

  static void print_run(std::ostream& out, const build::Build& build, const build::Option& option,
                        const build::Run& run, const bay::RunClearance& clearance) {
    const Cells header{"row", "piece", "nearest to", "distance [mm]", "wanted [mm]", "doubt [mm]", ""};
    std::vector<Cells> nearest, tight;
    for (const auto& gap : clearance.nearest)
      if (gap)
        nearest.push_back(cells_of(build, option, run, *gap));
    for (const bay::Gap& gap : clearance.tight)
      tight.push_back(cells_of(build, option, run, gap));
    print_section(out, fmt::format("Run {}", run.id.text), header, nearest);
    print_section(out, fmt::format("Run {}: too near, or not surely clear", run.id.text), header, tight);
  }
};

} // namespace

std::unique_ptr<Command> make_clearance(CLI::App& app) {
  return std::make_unique<Clearance>(app);
}

} // namespace bellmouth::cli
