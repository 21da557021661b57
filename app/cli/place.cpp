// SPDX-License-Identifier: GPL-3.0-or-later
// Where each piece lies: its ends, its clocking, what is cut, and where bosses and flanges sit.
#include "build_arguments.hpp"
#include "command.hpp"
#include "common_arguments.hpp"
#include "evaluation_json.hpp"
#include "table.hpp"

#include <bellmouth/build/fittings.hpp>
#include <bellmouth/evaluate.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <ostream>

namespace bellmouth::cli {

namespace {

struct Laid {
  std::size_t row;
  const build::Piece* piece;
  double full_length_m, centreline_length_m;
  std::optional<double> clocking_rad;
  build::Vector from_m, to_m, direction; ///< fittings: on the centreline, on the wall, outward
};

std::vector<Laid> laid(const build::Run& run, const RunResult& result) {
  std::vector<Laid> rows;
  const auto tracks = joint::tracks(run, result.fit);
  for (std::size_t row = 0; row < run.pieces.size(); ++row) {
    const build::Piece& piece = run.pieces[row];
    Laid one{row, &piece, build::full_length_m(piece.shape), result.fit.rows[row].centreline_length_m, {}, {},
             {},  {}};
    std::visit(
        [&](const auto& shape) {
          if constexpr (requires { shape.clocking_rad; })
            one.clocking_rad = shape.clocking_rad;
        },
        piece.shape);
    if (const auto host = result.fit.rows[row].host) {
      const build::Shape& on = run.pieces[*host].shape;
      const double position_m = build::position_m(piece.shape);
      const double share = position_m / std::max(build::full_length_m(on), 1e-12);
      const double radius_m =
          (build::outer_diameter_in_m(on) * (1 - share) + build::outer_diameter_out_m(on) * share) / 2;
      const bay::Seat seat =
          bay::seat(result.frames[*host], tracks[*host], position_m, *one.clocking_rad, radius_m);
      one.from_m = seat.on_centreline_m;
      one.to_m = seat.on_wall_m;
      one.direction = seat.outward;
    } else {
      one.from_m = result.frames[row].position_m;
      one.to_m = result.frames[row + 1].position_m;
      one.direction = result.frames[row + 1].direction;
    }
    rows.push_back(one);
  }
  return rows;
}

/// Three numbers; none is "-0.0".
std::string vector_text(const build::Vector& vector, int decimals) {
  const double unit = std::pow(10, decimals);
  const auto rounded = [&](double value) { return std::round(value * unit) / unit + 0.0; };
  return fmt::format("{:.{}f} {:.{}f} {:.{}f}", rounded(vector[0]), decimals, rounded(vector[1]), decimals,
                     rounded(vector[2]), decimals);
}
std::string point_text(const build::Vector& point_m) {
  return vector_text(in_mm(point_m), 1);
}
std::string direction_text(const build::Vector& direction) {
  return vector_text(direction, 4);
}

class Place : public Command {
public:
  explicit Place(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const Evaluation evaluation = evaluate(chosen->build, chosen->option);
    const build::Option& option = *chosen->build.find(chosen->option);
    Json json;
    json["option"] = chosen->option.text;
    json["runs"] = Json::array();
    bool placed = false;
    for (const RunResult& result : evaluation.runs) {
      const bool known = !result.frames.empty();
      placed = placed || known;
      const auto rows = known ? laid(*option.find(result.id), result) : std::vector<Laid>{};
      if (arguments_.as_json)
        json["runs"].push_back(run_json(result, rows));
      else
        print_run(out, result, rows);
    }
    if (arguments_.as_json)
      print(out, json);
    return placed ? done : no_solution;
  }

private:
  BuildArguments arguments_;

  static Json run_json(const RunResult& result, const std::vector<Laid>& rows) {
    Json pieces = Json::array();
    for (const Laid& one : rows) {
      const bool fitting = build::is_fitting(one.piece->shape);
      Json json{{"index", one.row}, {"kind", build::kind_key(one.piece->shape)}};
      json[fitting ? "on_centreline_mm" : "from_mm"] = in_mm(one.from_m);
      json[fitting ? "on_wall_mm" : "to_mm"] = in_mm(one.to_m);
      json[fitting ? "outward" : "direction"] = one.direction;
      json["clocking_deg"] =
          or_null(one.clocking_rad ? std::optional(*one.clocking_rad * deg_per_rad) : std::nullopt);
      if (!fitting) {
        json["cut_length_mm"] = one.full_length_m * mm_per_m;
        json["centreline_length_mm"] = one.centreline_length_m * mm_per_m;
      }
      pieces.push_back(std::move(json));
    }
    return {{"name", result.id.text},
            {"end_gap_mm",
             or_null(result.meeting ? std::optional(result.meeting->gap_m * mm_per_m) : std::nullopt)},
            {"end_angle_deg",
             or_null(result.meeting ? std::optional(result.meeting->angle_rad * deg_per_rad) : std::nullopt)},
            {"pieces", std::move(pieces)}};
  }

  static void print_run(std::ostream& out, const RunResult& result, const std::vector<Laid>& rows) {
    if (rows.empty()) {
      out << "run " << result.id.text << ": the port that it begins at is not measured\n\n";
      return;
    }
    std::vector<Cells> cells;
    for (const Laid& one : rows) {
      const bool fitting = build::is_fitting(one.piece->shape);
      cells.push_back({std::to_string(one.row + 1), std::string(build::title(*one.piece)),
                       point_text(one.from_m), point_text(one.to_m), direction_text(one.direction),
                       one.clocking_rad ? fixed(*one.clocking_rad * deg_per_rad, 1) : std::string(unknown),
                       fitting ? std::string(unknown) : fixed(one.full_length_m * mm_per_m, 1),
                       fitting ? std::string(unknown) : fixed(one.centreline_length_m * mm_per_m, 1)});
    }
    print_section(out,
                  fmt::format("Run {}{}", result.id.text,
                              result.meeting ? fmt::format(": ends {:.2f} mm and {:.3f} deg off its port",
                                                           result.meeting->gap_m * mm_per_m,
                                                           result.meeting->angle_rad * deg_per_rad)
                                             : std::string()),
                  {"row", "piece", "from, or on the centreline [mm]", "to, or on the wall [mm]",
                   "direction, or outward", "clocking [deg]", "cut [mm]", "centreline [mm]"},
                  cells);
  }
};

} // namespace

std::unique_ptr<Command> make_place(CLI::App& app) {
  return std::make_unique<Place>(app);
}

} // namespace bellmouth::cli
