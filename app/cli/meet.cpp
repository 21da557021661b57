// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "common_arguments.hpp"
#include "meet_json.hpp"
#include "table.hpp"

#include <bellmouth/bay/names.hpp>
#include <bellmouth/route.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <iterator>
#include <ostream>

namespace bellmouth::cli {

namespace {

using quantity::Dimension;
using route::Freedom;
using route::What;

constexpr std::array all_sizes{What::length, What::leg_in, What::leg_out, What::clocking, What::angle};

quantity::Reading reading(What what) {
  quantity::Reading reading;
  reading.default_unit = route::is_angle(what) ? "°" : "mm";
  return reading;
}
Dimension dimension(What what) {
  return route::is_angle(what) ? Dimension::angle : Dimension::length;
}
std::string written(What what, double value) {
  return quantity::write_fixed(dimension(what), value, route::is_angle(what) ? "°" : "mm", 2);
}

/// The words of a text; the last holds all that is left.
std::vector<std::string> split(const std::string& text, std::size_t most) {
  std::vector<std::string> words;
  std::size_t at = text.find_first_not_of(' ');
  while (at != std::string::npos) {
    const std::size_t end = words.size() + 1 == most ? std::string::npos : text.find(' ', at);
    words.push_back(text.substr(at, end == std::string::npos ? end : end - at));
    at = end == std::string::npos ? end : text.find_first_not_of(' ', end);
  }
  return words;
}

class Meet : public Command {
public:
  explicit Meet(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    app.add_option("--run", run_, "run that is to meet its port")->type_name("NAME")->required();
    state_text(app, "--out", out_, "file for the build with the run changed, if it meets", "FILE");
    const auto many = [&](const char* flag, std::vector<std::string>& texts, const char* help,
                          const char* type) {
      app.add_option(flag, texts, help)->type_name(type)->expected(1)->allow_extra_args(false)->take_all();
    };
    many("--move", moves_,
         "a size that may move, such as \"3 length 40mm..200mm\". Rows count from 1; sizes are length, "
         "leg_in, "
         "leg_out, clocking, angle. Without it tubes, hoses, legs, clockings and cuts of bends may move, as "
         "far as "
         "joints and stock let them",
         "\"ROW WHAT LOW..HIGH\"");
    many("--hold", holds_,
         "a size that may not: \"3 length\", \"3\" for all of a row, \"all\" for all but --move",
         "\"ROW WHAT\"");
    state_text(app, "--tolerance", tolerance_, "how near the end must come; without it 0.1 mm", "LENGTH");
    state_text(app, "--angle-tolerance", angle_tolerance_, "and how near its direction; without it 0.05 deg",
               "ANGLE");
    app.add_flag("--few", few_, "alter as few sizes as can be, for at most three times the least change");
    app.add_flag("--ignore-clearance", ignore_clearance_, "let it come as near to anything as it will");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const build::Option& option = *chosen->build.find(chosen->option);
    const auto run = find_run(option, run_);
    if (!run)
      return tl::unexpected(run.error());
    auto freedoms = route::freedoms(chosen->build, option.id, (*run)->id);
    route::Wanted wanted;
    wanted.keep_clear = !ignore_clearance_;
    wanted.few = few_;
    for (const auto& read :
         {hold(**run, freedoms), move(**run, freedoms),
          read_tolerance("--tolerance", tolerance_, What::length, wanted.gap_m),
          read_tolerance("--angle-tolerance", angle_tolerance_, What::angle, wanted.angle_rad)})
      if (!read)
        return tl::unexpected(read.error());

    const route::Met met = route::meet(chosen->build, option.id, (*run)->id, freedoms, wanted);
    if (arguments_.as_json)
      print(out, json_of(chosen->build, option, **run, freedoms, met));
    else
      print_text(out, chosen->build, option, **run, met);
    if (!met.met())
      return without_solution(
          fmt::format("run {}: {}{}", run_, route::text(met.stop), out_ ? "; nothing was written" : ""));
    if (out_)
      if (const auto saved = save_made(arguments_, met.build, *out_); !saved)
        return tl::unexpected(saved.error());
    return done;
  }

private:
  using Read = tl::expected<void, Refusal>;

  BuildArguments arguments_;
  std::string run_;
  std::optional<std::string> out_, tolerance_, angle_tolerance_;
  std::vector<std::string> moves_, holds_;
  bool ignore_clearance_ = false, few_ = false;

  /// A row, counted from 1.
  static tl::expected<std::size_t, Refusal> read_row(const char* flag, const build::Run& run,
                                                     const std::string& typed) {
    std::size_t row = 0;
    const char* const end = typed.data() + typed.size();
    const auto [stop, trouble] = std::from_chars(typed.data(), end, row);
    if (trouble != std::errc{} || stop != end || row < 1 || row > run.pieces.size())
      return misfit(flag, typed, fmt::format("a row from 1 to {}", run.pieces.size()));
    return row - 1;
  }
  static tl::expected<What, Refusal> read_size(const char* flag, const build::Piece& piece,
                                               const std::string& typed) {
    std::vector<std::string_view> keys;
    for (const What what : all_sizes)
      if (route::value(piece.shape, what)) {
        if (route::key(what) == typed)
          return what;
        keys.push_back(route::key(what));
      }
    return misfit(flag, typed,
                  keys.empty()
                      ? fmt::format("another row: a {} has no size that moves", build::kind_name(piece.shape))
                      : fmt::format("of a {}: {}", build::kind_name(piece.shape), fmt::join(keys, ", ")));
  }

  [[nodiscard]] Read hold(const build::Run& run, std::vector<Freedom>& freedoms) const {
    for (const std::string& typed : holds_) {
      const auto words = split(typed, 2);
      if (words.size() == 1 && words[0] == "all") {
        freedoms.clear();
        continue;
      }
      if (words.empty())
        return misfit("--hold", typed, "\"ROW WHAT\", \"ROW\" or \"all\"");
      const auto row = read_row("--hold", run, words[0]);
      if (!row)
        return tl::unexpected(row.error());
      std::optional<What> only;
      if (words.size() == 2) {
        const auto what = read_size("--hold", run.pieces[*row], words[1]);
        if (!what)
          return tl::unexpected(what.error());
        only = *what;
      }
      std::erase_if(freedoms,
                    [&](const Freedom& each) { return each.row == *row && (!only || each.what == *only); });
    }
    return {};
  }

  [[nodiscard]] Read move(const build::Run& run, std::vector<Freedom>& freedoms) const {
    for (const std::string& typed : moves_) {
      const auto words = split(typed, 3);
      const std::size_t dots = words.size() == 3 ? words[2].find("..") : std::string::npos;
      if (dots == std::string::npos)
        return misfit("--move", typed, "\"ROW WHAT LOW..HIGH\"");
      const auto row = read_row("--move", run, words[0]);
      if (!row)
        return tl::unexpected(row.error());
      const auto what = read_size("--move", run.pieces[*row], words[1]);
      if (!what)
        return tl::unexpected(what.error());
      const auto low = quantity::read(dimension(*what), words[2].substr(0, dots), reading(*what));
      const auto high = quantity::read(dimension(*what), words[2].substr(dots + 2), reading(*what));
      if (!low || !high)
        return misfit("--move", low ? high.error() : low.error());
      const Freedom moved{*row, *what, *low, *high, route::usual_weight(*what)};
      const auto known = std::ranges::find_if(
          freedoms, [&](const Freedom& each) { return each.row == *row && each.what == *what; });
      if (known == freedoms.end())
        freedoms.push_back(moved);
      else
        *known = moved;
      if (auto wrong = route::validate(run, {moved}))
        return misfit("--move", *wrong);
    }
    std::ranges::sort(freedoms, {}, [](const Freedom& each) { return std::pair(each.row, each.what); });
    return {};
  }

  static Read read_tolerance(const char* flag, const std::optional<std::string>& typed, What what,
                             double& value) {
    if (!typed)
      return {};
    const auto read = quantity::read(dimension(what), *typed, reading(what));
    if (!read)
      return misfit(flag, read.error());
    const double least = route::is_angle(what) ? 1e-6 : 1e-7;
    if (!(*read >= least))
      return misfit(flag, *typed, route::is_angle(what) ? "at least 0.0001 deg" : "at least 0.0001 mm");
    value = *read;
    return {};
  }

  static void print_end(std::ostream& out, const char* when, const std::optional<bay::Meeting>& meeting) {
    if (meeting)
      out << fmt::format("{}: {:.3f} mm and {:.3f} deg off the port\n", when, meeting->gap_m * mm_per_m,
                         meeting->angle_rad * deg_per_rad);
  }
  static std::string gap_text(const build::Build& build, const build::Option& option, const build::Run& run,
                              const bay::Gap& gap) {
    const std::string row = route::row_words(run, gap.row), what = bay::name_of(build, option, gap.neighbour);
    const double distance_mm = gap.distance_m * mm_per_m, wanted_mm = gap.required_m * mm_per_m;
    return distance_mm < 0 ? fmt::format("{} reaches {:.1f} mm into {}; {:.1f} mm off it are wanted", row,
                                         -distance_mm, what, wanted_mm)
                           : fmt::format("{} comes within {:.1f} mm of {}; {:.1f} mm are wanted", row,
                                         distance_mm, what, wanted_mm);
  }

  static void print_text(std::ostream& out, const build::Build& build, const build::Option& option,
                         const build::Run& run, const route::Met& met) {
    out << fmt::format("Run {}: {}\n", run.id.text, route::text(met.stop));
    print_end(out, "before", met.before);
    print_end(out, met.stop == route::Stop::out_of_reach ? "as near as it comes" : "after", met.after);
    if (met.tightest_before)
      out << "tightest before: " << gap_text(build, option, run, *met.tightest_before) << '\n';
    if (met.tightest_after)
      out << "tightest after: " << gap_text(build, option, run, *met.tightest_after) << '\n';
    for (const bay::Gap& each : met.in_the_way)
      out << "in the way: " << gap_text(build, option, run, each) << '\n';
    out << '\n';
    std::vector<Cells> rows;
    for (const route::Change& each : met.changes)
      rows.push_back({std::to_string(each.row + 1), std::string(build::title(run.pieces[each.row])),
                      std::string(route::name(each.what)), written(each.what, each.from),
                      written(each.what, each.to), written(each.what, each.to - each.from)});
    print_section(out, met.met() ? "Changes" : "Changes that bring it there",
                  {"row", "piece", "size", "from", "to", "change"}, rows);
    for (const std::size_t row : met.without_stock)
      out << fmt::format("{}: no longer what its stock item gives, which was taken off\n",
                         route::row_words(run, row));
    rows.clear();
    for (const route::Binding& each : met.binding)
      rows.push_back({std::to_string(each.freedom.row + 1),
                      std::string(build::title(run.pieces[each.freedom.row])),
                      std::string(route::name(each.freedom.what)), each.at_high ? "at most" : "at least",
                      written(each.freedom.what, each.at_high ? each.freedom.high : each.freedom.low)});
    print_section(out, "Limits in the way", {"row", "piece", "size", "limit", ""}, rows);
    rows.clear();
    for (const route::Help& each : met.help)
      rows.push_back({each.text});
    print_section(out, "What would help, each by itself", {"change"}, rows);
  }
};

} // namespace

std::unique_ptr<Command> make_meet(CLI::App& app) {
  return std::make_unique<Meet>(app);
}

} // namespace bellmouth::cli
