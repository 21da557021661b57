// SPDX-License-Identifier: GPL-3.0-or-later
// Routes through a problem that stands in a file of its own.
#include "common_arguments.hpp"
#include "route_search.hpp"
#include "table.hpp"

#include <bellmouth/build/files.hpp>
#include <bellmouth/way/file.hpp>
#include <bellmouth/way/reasons.hpp>

#include <spdlog/fmt/fmt.h>
#include <spdlog/fmt/ranges.h>

#include <algorithm>
#include <ostream>

namespace bellmouth::cli {

namespace {

/// "90° 45° 90°".
std::string angles_text(const way::Way& way) {
  std::vector<std::string> angles;
  for (const way::Turn& turn : way.turns)
    angles.push_back(fmt::format("{:.4g}°", turn.angle_rad * deg_per_rad));
  return fmt::format("{}", fmt::join(angles, " "));
}

Cells summary(const way::Problem& problem, std::size_t number, const way::Answer& answer) {
  const way::Figures& figures = answer.figures;
  const auto& nearest = answer.judgement.nearest;
  return {std::to_string(number),
          angles_text(answer.way),
          fixed(figures.cost, 2),
          fixed(figures.price, 2),
          fixed(figures.loss, 3),
          std::to_string(figures.joints),
          fixed(figures.length_m * mm_per_m, 1),
          fixed(answer.judgement.end_gap_m * mm_per_m, 3),
          nearest.empty() ? std::string(unknown) : fixed(nearest.front().margin_m * mm_per_m, 2),
          nearest.empty() ? "" : way::name_of(problem, nearest.front().keep_out)};
}

void add_straight(std::vector<Cells>& rows, const way::Problem& problem, const way::Way& way,
                  std::size_t index) {
  const auto add = [&](const char* piece, double length_m, double diameter_m) {
    rows.push_back({std::to_string(rows.size() + 1), piece, fixed(length_m * mm_per_m, 2),
                    std::string(unknown), std::string(unknown), fixed(diameter_m * mm_per_m, 1), ""});
  };
  const double length_m = way.straights_m[index];
  const double before_m = outer_diameter_m(problem, way, index, false);
  if (!way.reduction || way.reduction->straight != index)
    return add("straight", length_m, before_m);
  const double behind_m = outer_diameter_m(problem, way, index, true);
  add("straight", way.reduction->from_m, before_m);
  add("reducer", problem.reducer->length_m, std::max(before_m, behind_m));
  add("straight", length_m - way.reduction->from_m - problem.reducer->length_m, behind_m);
}

std::vector<Cells> pieces(const way::Problem& problem, const way::Way& way) {
  std::vector<Cells> rows;
  for (std::size_t i = 0; i < way.straights_m.size(); ++i) {
    add_straight(rows, problem, way, i);
    if (i == way.turns.size())
      break;
    const way::Turn& turn = way.turns[i];
    const way::Bend& bend = problem.bends[turn.bend];
    std::string note;
    if (turn.lost_leg)
      note = fmt::format("cut from {:.4g}°, the leg {} it gone", bend.angle_rad * deg_per_rad,
                         *turn.lost_leg == way::Leg::in ? "before" : "behind");
    rows.push_back({std::to_string(rows.size() + 1), bend.id,
                    fixed(turn.angle_rad * bend.radius_m * mm_per_m, 2),
                    fixed(turn.angle_rad * deg_per_rad, 2), fixed(turn.clocking_rad * deg_per_rad, 2),
                    fixed(bend.outer_diameter_m * mm_per_m, 1), note});
  }
  return rows;
}

void print_text(std::ostream& out, const way::Problem& problem, const way::Found& found) {
  out << fmt::format("Problem {}: {}\n\n", problem.name, search_words(found));
  std::vector<Cells> rows;
  for (const way::Answer& answer : found.answers)
    rows.push_back(summary(problem, rows.size() + 1, answer));
  print_section(
      out, "Routes",
      {"route", "bends", "cost", "price", "loss", "joints", "length [mm]", "end off [mm]", "room [mm]", "at"},
      rows);
  for (std::size_t i = 0; i < found.answers.size(); ++i) {
    const way::Answer& answer = found.answers[i];
    print_section(out, fmt::format("Route {}", i + 1),
                  {"piece", "", "length [mm]", "angle [deg]", "clocking [deg]", "diameter [mm]", ""},
                  pieces(problem, answer.way));
    constexpr std::size_t most_told = 5;
    rows.clear();
    for (const way::Nearness& nearness : answer.judgement.nearest) {
      if (rows.size() == most_told)
        break;
      rows.push_back({way::name_of(problem, nearness.keep_out), fixed(nearness.margin_m * mm_per_m, 2),
                      fixed(problem.keep_outs[nearness.keep_out].clearance_m * mm_per_m, 1),
                      fixed(nearness.along_m * mm_per_m, 0)});
    }
    print_section(out, fmt::format("Room of route {} beyond the clearances", i + 1),
                  {"at", "room [mm]", "clearance [mm]", "along [mm]"}, rows);
  }
}

/// Each reason on a line, those that were tried with what the way would cost.
std::string reason_words(const way::Problem& problem, const way::Found& found, way::Effort each) {
  constexpr double tries = 8; // about as many as there are, but most are over before their time
  each.seconds /= tries;
  std::string words;
  for (const way::Reason& reason : way::reasons(problem, found, each)) {
    words += "\n  " + reason.text;
    if (reason.answer)
      words += fmt::format(" It costs {:.2f}.", reason.answer->figures.cost);
  }
  return words;
}

} // namespace

tl::expected<Exit, Refusal> route_problem(const ProblemArguments& arguments, const std::string& text,
                                          const way::Effort& effort, std::ostream& out) {
  const auto problem = way::read_problem(text, arguments.file);
  if (!problem)
    return file_trouble(problem.error());
  const way::Found found = way::find(*problem, effort);
  if (arguments.as_json)
    out << way::write_answers(*problem, found.answers);
  else
    print_text(out, *problem, found);
  if (found.answers.empty())
    return without_solution(fmt::format("problem {}: {}{}{}", problem->name, nothing_words(found),
                                        reason_words(*problem, found, effort),
                                        arguments.out_file ? "; nothing was written" : ""));
  if (arguments.out_file)
    if (const auto saved = build::save_text(*arguments.out_file, way::write_answers(*problem, found.answers));
        !saved)
      return file_trouble(saved.error());
  return done;
}

} // namespace bellmouth::cli
