// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <filesystem>
#include <ostream>
#include <utility>

namespace bellmouth::cli {

namespace {

/// Outside its speeds the engine's volumetric efficiency is held at that of the nearest.
void remark_on(double speed_rev_s, const machine::Engine& engine, std::ostream& err) {
  if (speed_rev_s < engine.idle_speed_rev_s || speed_rev_s > engine.max_speed_rev_s)
    err << fmt::format(
        "{} lies outside the engine's {} to {}; volumetric efficiency is held at its nearest point\n",
        in_rpm(speed_rev_s), in_rpm(engine.idle_speed_rev_s), in_rpm(engine.max_speed_rev_s));
}

} // namespace

void state_file(CLI::App& app, BuildArguments& arguments) {
  app.add_option("BUILD", arguments.file, "build file")->required()->type_name("");
  app.add_flag("--json", arguments.as_json, "for machines");
}

void state_option(CLI::App& app, BuildArguments& arguments) {
  state_text(app, "--option", arguments.option, "option of the build; without it the first", "NAME");
}

void state_speed(CLI::App& app, BuildArguments& arguments) {
  state_text(app, "--rpm", arguments.speed, "engine speed; without it the engine's working speed", "rpm");
}

void state_text(CLI::App& app, const char* flag, std::optional<std::string>& text, const char* help,
                const char* type) {
  app.add_option_function<std::string>(
         flag, [&text](const std::string& typed) { text = typed; }, help)
      ->type_name(type);
}

tl::expected<build::OptionId, Refusal> find_option(const build::Build& build, const std::string& name,
                                                   std::string_view flag) {
  std::vector<std::string_view> names;
  for (const build::Option& option : build.options) {
    if (option.id.text == name)
      return option.id;
    names.push_back(option.id.text);
  }
  return misfit(flag, name, fmt::format("{}", fmt::join(names, ", ")));
}

tl::expected<const build::Run*, Refusal> find_run(const build::Option& option, const std::string& name) {
  if (const build::Run* const run = option.find(build::RunId{name}))
    return run;
  std::vector<std::string_view> names;
  for (const auto& run : option.runs)
    names.push_back(run->id.text);
  return misfit("--run", name, fmt::format("{}", fmt::join(names, ", ")));
}

tl::expected<void, Refusal> save_made(const BuildArguments& arguments, build::Build made,
                                      const std::string& out) {
  const auto folder = [](const std::string& file) { return std::filesystem::absolute(file).parent_path(); };
  const auto saved = build::save_build(
      out, build::with_files_named_from(std::move(made), folder(arguments.file), folder(out)));
  if (!saved)
    return file_trouble(saved.error());
  return {};
}

tl::expected<std::optional<build::StateId>, Refusal> find_state(const build::Build& build,
                                                                const std::optional<std::string>& name) {
  if (!name)
    return std::nullopt;
  if (const build::BayState* const state = build.find(build::StateId{*name}))
    return state->id;
  std::vector<std::string_view> names;
  for (const build::BayState& state : build.states)
    names.push_back(state.id.text);
  return misfit("--state", *name,
                names.empty() ? "a build with states of its bay" : fmt::format("{}", fmt::join(names, ", ")));
}

tl::expected<const machine::Engine*, Refusal> find_engine(const build::Build& build, std::string_view flag) {
  if (const auto* engine = std::get_if<machine::Engine>(&build.demand))
    return engine;
  return misfit(flag, "a build with a fixed flow", "a build with an engine");
}

tl::expected<double, Refusal> read_speed(std::string_view flag, const std::string& typed) {
  quantity::Reading reading;
  reading.default_unit = "rpm";
  const auto speed = quantity::read(quantity::Dimension::rotational_speed, typed, reading);
  if (!speed)
    return misfit(flag, speed.error());
  if (!(*speed > 0))
    return misfit(flag, typed, "more than 0 rpm");
  return *speed;
}

std::string in_rpm(double speed_rev_s) {
  return quantity::write(quantity::Dimension::rotational_speed, speed_rev_s, "rpm");
}

tl::expected<Chosen, Refusal> choose(const BuildArguments& arguments, std::ostream& err) {
  auto loaded = build::load_build(arguments.file);
  if (!loaded)
    return file_trouble(loaded.error());
  Chosen chosen{std::move(*loaded), {}, std::nullopt};
  chosen.option = chosen.build.options.front().id;
  if (arguments.option) {
    const auto option = find_option(chosen.build, *arguments.option, "--option");
    if (!option)
      return tl::unexpected(option.error());
    chosen.option = *option;
  }
  if (arguments.speed) {
    const auto engine = find_engine(chosen.build, "--rpm");
    if (!engine)
      return tl::unexpected(engine.error());
    const auto speed = read_speed("--rpm", *arguments.speed);
    if (!speed)
      return tl::unexpected(speed.error());
    remark_on(*speed, **engine, err);
    chosen.speed_rev_s = *speed;
  }
  return chosen;
}

std::string reason(const build::OptionId& option, const flow::OperatingPoint& point) {
  std::string text = fmt::format("option {}", option.text);
  if (point.engine_speed_rev_s > 0)
    text += fmt::format(" at {}", in_rpm(point.engine_speed_rev_s));
  text += fmt::format(": {}", flow::text(point.stop));
  if (!point.choke_where.empty())
    text +=
        fmt::format(" at {}; no more than {:.4g} kg/s passes", point.choke_where, point.max_mass_flow_kg_s);
  return text;
}

} // namespace bellmouth::cli
