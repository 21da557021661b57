// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "common_arguments.hpp"
#include "route_json.hpp"
#include "route_search.hpp"
#include "table.hpp"

#include <bellmouth/bay/names.hpp>
#include <bellmouth/build/files.hpp>
#include <bellmouth/find.hpp>
#include <bellmouth/way/file.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>
#include <spdlog/fmt/ranges.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <ostream>

namespace bellmouth::cli {

namespace {

using Read = tl::expected<void, Refusal>;

tl::expected<double, Refusal> read_length(const char* flag, const std::string& typed) {
  quantity::Reading reading;
  reading.default_unit = "mm";
  const auto read = quantity::read(quantity::Dimension::length, typed, reading);
  if (!read)
    return misfit(flag, read.error());
  return *read;
}

std::string size_text(const stock::TubeSize& size) {
  return fmt::format("\"{:.5g} x {:.4g} {}\"", size.outer_diameter_m * mm_per_m, size.wall_m * mm_per_m,
                     build::material_key(size.material));
}

/// What is asked of a route through a build, as typed.
struct AskArguments {
  std::optional<std::string> run, tube, keep_first, keep_last, most_bends, matters, over, under, take, name;
  std::vector<std::string> through;
  bool no_cut = false, ignore_owned = false;
};

class Route : public Command {
public:
  explicit Route(CLI::App& app) {
    app.add_option("FILE", arguments_.file, "build, or problem of routes (format \"route-problem/1\")")
        ->required()
        ->type_name("");
    app.add_flag("--json", arguments_.as_json,
                 "for machines; of a problem its answers (\"route-answers/1\")");
    state_search(app, search_);
    state_text(app, "--out", out_,
               "file for the build with the best route as a new option, or for a problem's answers", "FILE");
    app.option_defaults()->group("Of a build");
    state_option(app, arguments_);
    state_text(app, "--run", asked_.run, "run that is to be laid anew", "NAME");
    state_text(
        app, "--tube", asked_.tube,
        "size that it is made of, such as \"63.5\" or \"63.5 x 1.5 aluminium\"; without it that of the "
        "run's pieces, or else the one nearest to its first port",
        "SIZE");
    state_text(app, "--keep-first", asked_.keep_first, "so many rows at its start stay as they are", "N");
    state_text(app, "--keep-last", asked_.keep_last, "so many at its end", "N");
    app.add_flag("--no-cut", asked_.no_cut, "bends keep the angles that they are sold with");
    app.add_flag("--ignore-owned", asked_.ignore_owned, "pieces that are owned cost as much as others");
    state_text(app, "--most-bends", asked_.most_bends, "without it 5", "N");
    state_text(app, "--matters", asked_.matters,
               "what counts how much, against 1 for each: price, drop, joints, length",
               "\"price=2 drop=0 ...\"");
    app.add_option("--through", asked_.through, "the route goes through a ball: its middle and its radius")
        ->type_name("\"X,Y,Z,RADIUS\"")
        ->expected(1)
        ->allow_extra_args(false)
        ->take_all();
    state_text(app, "--over", asked_.over, "the route goes at least so high somewhere: over the engine", "Z");
    state_text(app, "--under", asked_.under, "the route goes at least so low somewhere", "Z");
    state_text(app, "--take", asked_.take, "which of the routes is written to --out; without it 1", "N");
    state_text(app, "--name", asked_.name, "of the new option; without it route", "NAME");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto effort = read_effort(search_);
    if (!effort)
      return tl::unexpected(effort.error());
    const auto text = build::load_text(arguments_.file);
    if (!text)
      return file_trouble(text.error());
    if (!way::is_problem(*text))
      return route_build(*effort, out, err);
    if (const auto flag = flag_of_a_build(); !flag.empty())
      return misfit(flag, "a problem of routes", "a build: a problem says all that is asked by itself");
    return route_problem({arguments_.file, arguments_.as_json, out_}, *text, *effort, out);
  }

private:
  BuildArguments arguments_;
  SearchArguments search_;
  AskArguments asked_;
  std::optional<std::string> out_;

  [[nodiscard]] std::string_view flag_of_a_build() const {
    const std::array<std::pair<bool, std::string_view>, 14> given{
        {{arguments_.option.has_value(), "--option"},
         {asked_.run.has_value(), "--run"},
         {asked_.tube.has_value(), "--tube"},
         {asked_.keep_first.has_value(), "--keep-first"},
         {asked_.keep_last.has_value(), "--keep-last"},
         {asked_.no_cut, "--no-cut"},
         {asked_.ignore_owned, "--ignore-owned"},
         {asked_.most_bends.has_value(), "--most-bends"},
         {asked_.matters.has_value(), "--matters"},
         {!asked_.through.empty(), "--through"},
         {asked_.over.has_value(), "--over"},
         {asked_.under.has_value(), "--under"},
         {asked_.take.has_value(), "--take"},
         {asked_.name.has_value(), "--name"}}};
    const auto first = std::ranges::find(given, true, &std::pair<bool, std::string_view>::first);
    return first == given.end() ? std::string_view{} : first->second;
  }

  tl::expected<Exit, Refusal> route_build(const way::Effort& effort, std::ostream& out, std::ostream& err) {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const build::Build& build = chosen->build;
    if (!asked_.run) {
      std::vector<std::string_view> names;
      for (const auto& each : build.find(chosen->option)->runs)
        names.push_back(each->id.text);
      return misfit("--run", "nothing",
                    fmt::format("the name of a run of the build: {}", fmt::join(names, ", ")));
    }
    const auto run = find_run(*build.find(chosen->option), *asked_.run);
    if (!run)
      return tl::unexpected(run.error());
    find::Ask ask = find::usual(build, chosen->option, (*run)->id);
    const auto take = read_count("--take", asked_.take.value_or("1"), 1, effort.best);
    if (!take)
      return tl::unexpected(take.error());
    const auto name = free_name(build);
    if (!name)
      return tl::unexpected(name.error());
    for (const Read& read :
         {read_tube(build, ask), read_rows(**run, ask), read_matters(ask), read_through(ask)})
      if (!read)
        return tl::unexpected(read.error());

    const auto question = find::question(build, ask);
    if (!question)
      return without_solution(question.error().text());
    const way::Found found = find::made(build, *question, way::find(question->problem, effort));
    std::vector<find::Proposal> proposals;
    for (const way::Answer& answer : found.answers)
      proposals.push_back(find::proposal(build, *question, answer));
    find::put_in_order(*question, proposals);
    find::tell_apart(build, *question, proposals);
    std::vector<find::Reason> reasons;
    if (proposals.empty())
      reasons = std::isinf(effort.seconds) ? find::reasons(build, *question, found, effort)
                                           : find::reasons(build, *question, found, effort.seconds);
    if (arguments_.as_json)
      print(out, json_of(build, *question, found, proposals, reasons));
    else
      print_text(out, build, *question, found, proposals);
    if (proposals.empty())
      return without_solution(why_none(found, reasons));
    if (out_) {
      if (*take > proposals.size())
        return misfit("--take", std::to_string(*take), fmt::format("at most {}", proposals.size()));
      build::Build made = find::with_proposal(build, *question, proposals[*take - 1], *name);
      if (const auto saved = save_made(arguments_, std::move(made), *out_); !saved)
        return tl::unexpected(saved.error());
    }
    return done;
  }

  [[nodiscard]] std::string why_none(const way::Found& found,
                                     const std::vector<find::Reason>& reasons) const {
    std::string words =
        fmt::format("run {}: {}{}", *asked_.run, nothing_words(found), out_ ? "; nothing was written" : "");
    for (const find::Reason& reason : reasons)
      words += "\n  " + reason.text;
    return words;
  }

  /// \name What is asked
  ///@{
  [[nodiscard]] tl::expected<build::OptionId, Refusal> free_name(const build::Build& build) const {
    if (asked_.name) {
      if (asked_.name->empty() || build.find(build::OptionId{*asked_.name}))
        return misfit("--name", *asked_.name, "a name that no option of the build has");
      return build::OptionId{*asked_.name};
    }
    build::OptionId name{"route"};
    for (int number = 2; build.find(name); ++number)
      name.text = fmt::format("route {}", number);
    return name;
  }

  [[nodiscard]] Read read_tube(const build::Build& build, find::Ask& ask) const {
    if (!asked_.tube)
      return {};
    // "63.5 x 1.5 aluminium": what is left out may be anything.
    std::string typed = *asked_.tube, wall, material;
    if (const std::size_t sign = typed.find('x'); sign != std::string::npos) {
      wall = typed.substr(sign + 1);
      typed.resize(sign);
      if (const std::size_t word = wall.find_first_of("abcdefghijklnopqrstuvwxyz");
          word != std::string::npos) {
        material = wall.substr(word);
        wall.resize(word);
      }
    }
    const auto diameter_m = read_length("--tube", typed);
    if (!diameter_m)
      return tl::unexpected(diameter_m.error());
    std::optional<double> wall_m;
    if (!wall.empty()) {
      const auto read = read_length("--tube", wall);
      if (!read)
        return tl::unexpected(read.error());
      wall_m = *read;
    }
    std::vector<stock::TubeSize> fit;
    std::vector<std::string> all, alike;
    for (const stock::TubeSize& size : stock::tube_sizes(build)) {
      all.push_back(size_text(size));
      constexpr double rounding_m = 0.05e-3;
      if (std::abs(size.outer_diameter_m - *diameter_m) <= rounding_m &&
          (!wall_m || std::abs(size.wall_m - *wall_m) <= rounding_m) &&
          (material.empty() || material == build::material_key(size.material))) {
        fit.push_back(size);
        alike.push_back(size_text(size));
      }
    }
    if (fit.size() > 1 && std::ranges::find(fit, ask.tube) != fit.end())
      return {}; // of several that fit, the one that the run has
    if (fit.size() != 1)
      return misfit("--tube", *asked_.tube,
                    fmt::format("one of {}", fmt::join(fit.empty() ? all : alike, ", ")));
    ask.tube = fit.front();
    return {};
  }

  [[nodiscard]] Read read_rows(const build::Run& run, find::Ask& ask) const {
    for (const auto& [flag, typed, rows] : {std::tuple("--keep-first", &asked_.keep_first, &ask.keep_first),
                                            {"--keep-last", &asked_.keep_last, &ask.keep_last}})
      if (*typed) {
        const auto read = read_count(flag, **typed, 0, run.pieces.size());
        if (!read)
          return tl::unexpected(read.error());
        *rows = *read;
      }
    if (asked_.most_bends) {
      constexpr std::size_t most = 9;
      const auto read = read_count("--most-bends", *asked_.most_bends, 1, most);
      if (!read)
        return tl::unexpected(read.error());
      ask.most_bends = *read;
    }
    ask.cut_bends = !asked_.no_cut;
    ask.use_owned = !asked_.ignore_owned;
    return {};
  }

  [[nodiscard]] Read read_matters(find::Ask& ask) const {
    std::string_view left = asked_.matters ? *asked_.matters : std::string_view{};
    const auto next = [&left] {
      left.remove_prefix(std::min(left.find_first_not_of(" ,"), left.size()));
      const std::string_view word = left.substr(0, left.find_first_of(" ,"));
      left.remove_prefix(word.size());
      return word;
    };
    const std::array<std::pair<std::string_view, double*>, 4> all{{{"price", &ask.matters.price},
                                                                   {"drop", &ask.matters.drop},
                                                                   {"joints", &ask.matters.joints},
                                                                   {"length", &ask.matters.length}}};
    for (std::string_view word = next(); !word.empty(); word = next()) {
      const std::size_t sign = std::min(word.find('='), word.size());
      const auto one =
          std::ranges::find(all, word.substr(0, sign), &std::pair<std::string_view, double*>::first);
      double share = -1;
      const char* const end = word.data() + word.size();
      constexpr double most = 1000;
      if (sign < word.size())
        if (const auto [stop, trouble] = std::from_chars(word.data() + sign + 1, end, share);
            trouble != std::errc{} || stop != end)
          share = -1;
      if (one == all.end() || !(share >= 0 && share <= most))
        return misfit("--matters", word, "price=, drop=, joints= or length= and a number from 0 to 1000");
      *one->second = share;
    }
    if (asked_.matters && std::ranges::all_of(all, [](const auto& one) { return *one.second == 0; }))
      return misfit("--matters", *asked_.matters, "one of them above 0");
    return {};
  }

  [[nodiscard]] Read read_through(find::Ask& ask) const {
    for (const std::string& typed : asked_.through) {
      std::array<double, 4> lengths{};
      std::size_t from = 0;
      for (std::size_t i = 0; i < lengths.size(); ++i) {
        const std::size_t comma = typed.find(',', from);
        if ((comma == std::string::npos) != (i + 1 == lengths.size()))
          return misfit("--through", typed, "\"X,Y,Z,RADIUS\"");
        const auto read = read_length("--through", typed.substr(from, comma - from));
        if (!read)
          return tl::unexpected(read.error());
        lengths[i] = *read;
        from = comma + 1;
      }
      const auto [x, y, z, radius_m] = lengths;
      if (!(radius_m > 0))
        return misfit("--through", typed, "a radius of more than 0");
      ask.through.push_back({typed, build::Sphere{{x, y, z}, radius_m}});
    }
    for (const auto& [flag, typed, up] :
         {std::tuple("--over", &asked_.over, 1.0), {"--under", &asked_.under, -1.0}})
      if (*typed) {
        const auto height_m = read_length(flag, **typed);
        if (!height_m)
          return tl::unexpected(height_m.error());
        ask.through.push_back({fmt::format("the height of {:.4g} mm", *height_m * mm_per_m),
                               build::HalfSpace{{0, 0, *height_m}, {0, 0, up}}});
      }
    return {};
  }
  ///@}

  /// \name For people
  ///@{
  static std::string closest_text(const build::Build& build, const find::Question& question,
                                  const find::Proposal& proposal) {
    if (!proposal.closest)
      return {};
    const build::Option& option = *build.find(question.ask.option);
    return fmt::format("{} (row {})", bay::name_of(build, option, proposal.closest->neighbour),
                       proposal.closest->row + 1);
  }

  static void print_text(std::ostream& out, const build::Build& build, const find::Question& question,
                         const way::Found& found, const std::vector<find::Proposal>& proposals) {
    out << fmt::format("Run {}: {}\n\n", question.ask.run.text, search_words(found, false));
    std::vector<Cells> rows;
    rows.reserve(proposals.size());
    for (const find::Proposal& proposal : proposals)
      rows.push_back(
          {std::to_string(rows.size() + 1), proposal.differs, quantity::write(proposal.price),
           fixed(proposal.drop_Pa * 1e-3, 3), std::to_string(proposal.joints),
           fixed(proposal.length_m * mm_per_m, 0), fixed(proposal.volume_m3 * 1e3, 2),
           fixed(proposal.end.gap_m * mm_per_m, 3),
           fixed(proposal.closest ? std::optional(proposal.closest->margin_m() * mm_per_m) : std::nullopt, 1),
           closest_text(build, question, proposal)});
    print_section(out, "Routes",
                  {"route", "", "price", "drop [kPa]", "joints", "length [mm]", "volume [l]", "end off [mm]",
                   "room [mm]", "at"},
                  rows);
    for (std::size_t i = 0; i < proposals.size(); ++i) {
      rows.clear();
      rows.reserve(proposals[i].run.pieces.size());
      for (const build::Piece& piece : proposals[i].run.pieces) {
        const auto clocking_rad = clocking(piece);
        const double angle_rad = build::angle_rad(piece.shape);
        rows.push_back({std::to_string(rows.size() + 1), std::string(build::title(piece)), piece.stock.text,
                        build::is_fitting(piece.shape)
                            ? std::string(unknown)
                            : fixed(build::full_length_m(piece.shape) * mm_per_m, 1),
                        angle_rad > 0 ? fixed(angle_rad * deg_per_rad, 1) : std::string(unknown),
                        fixed(clocking_rad ? std::optional(*clocking_rad * deg_per_rad) : std::nullopt, 1)});
      }
      print_section(out, fmt::format("Route {}", i + 1),
                    {"row", "piece", "stock", "cut [mm]", "angle [deg]", "clocking [deg]"}, rows);
      for (const check::Finding& finding : proposals[i].findings)
        out << fmt::format("route {}, a new finding: {}: {}\n", i + 1, finding.where.text, finding.message);
      if (!proposals[i].findings.empty())
        out << '\n';
    }
  }
  ///@}
};

} // namespace

std::unique_ptr<Command> make_route(CLI::App& app) {
  return std::make_unique<Route>(app);
}

} // namespace bellmouth::cli
