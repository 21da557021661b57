// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "main_figures.hpp"
#include "table.hpp"

#include <CLI/App.hpp>

#include <algorithm>
#include <ostream>

namespace bellmouth::cli {

namespace {

constexpr double most_rows = 10000;

class Sweep : public Command {
public:
  explicit Sweep(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    state_text(app, "--from", from_, "first engine speed; without it idle", "rpm");
    state_text(app, "--to", to_, "last engine speed; without it the highest", "rpm");
    app.add_option("--step", step_, "between them; the last step may be shorter")
        ->type_name("rpm")
        ->capture_default_str();
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const auto engine = find_engine(chosen->build, "BUILD");
    if (!engine)
      return tl::unexpected(engine.error());
    const auto speeds = speeds_of(**engine);
    if (!speeds)
      return tl::unexpected(speeds.error());

    bool any = false;
    std::vector<std::vector<MainFigure>> points;
    Json rows = Json::array();
    for (const double speed : *speeds) {
      const Evaluation evaluation = evaluate(chosen->build, chosen->option, speed);
      points.push_back(main_figures(chosen->build, evaluation));
      rows.push_back(json_of(chosen->option, points.back()));
      rows.back()["solver"]["stop"] = flow::text(evaluation.path.point.stop);
      any = any || evaluation.path.point.usable();
      if (!evaluation.path.point.usable())
        err << reason(chosen->option, evaluation.path.point) << '\n';
    }
    if (arguments_.as_json) {
      Json json;
      json["option"] = chosen->option.text;
      json["rows"] = std::move(rows);
      print(out, json);
    } else {
      print_text(out, points);
    }
    return any ? done : no_solution;
  }

private:
  BuildArguments arguments_;
  std::optional<std::string> from_, to_;
  std::string step_ = "250";

  [[nodiscard]] tl::expected<std::vector<double>, Refusal> speeds_of(const machine::Engine& engine) const {
    const auto from = from_ ? read_speed("--from", *from_) : engine.idle_speed_rev_s;
    const auto to = to_ ? read_speed("--to", *to_) : engine.max_speed_rev_s;
    const auto step = read_speed("--step", step_);
    for (const auto* speed : {&from, &to, &step})
      if (!*speed)
        return tl::unexpected(speed->error());
    if (*to < *from)
      return misfit(to_ ? "--to" : "--from", in_rpm(to_ ? *to : *from),
                    to_ ? "at least the first speed, " + in_rpm(*from)
                        : "at most the last speed, " + in_rpm(*to));
    if ((*to - *from) / *step > most_rows)
      return misfit("--step", step_, "a step that makes no more than 10000 rows");
    constexpr double rounding = 1e-9; // 3000 rpm reached in steps is 3000 rpm
    std::vector<double> speeds;
    for (int i = 0; *from + i * *step < *to * (1 - rounding); ++i)
      speeds.push_back(*from + i * *step);
    speeds.push_back(*to);
    return speeds;
  }

  static void print_text(std::ostream& out, const std::vector<std::vector<MainFigure>>& points) {
    Cells header;
    for (const MainFigure& figure : points.front())
      if (!figure.column.empty())
        header.push_back(heading(figure.column, figure.unit));
    std::vector<Cells> rows;
    for (const auto& figures : points) {
      Cells& cells = rows.emplace_back();
      for (const MainFigure& figure : figures)
        if (!figure.column.empty())
          cells.push_back(figure.text());
    }
    print_table(out, header, rows);
  }
};

} // namespace

std::unique_ptr<Command> make_sweep(CLI::App& app) {
  return std::make_unique<Sweep>(app);
}

} // namespace bellmouth::cli
