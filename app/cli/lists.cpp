// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "lists_json.hpp"
#include "table.hpp"

#include <bellmouth/evaluate.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <filesystem>
#include <ostream>

namespace bellmouth::cli {

namespace {

std::string title_of(std::string name) {
  if (!name.empty() && name.front() >= 'a' && name.front() <= 'z')
    name.front() = static_cast<char>(name.front() - 'a' + 'A');
  return name;
}

class Lists : public Command {
public:
  explicit Lists(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    state_text(app, "--out", folder_, "folder for a CSV file of each list; made if missing", "DIR");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const list::Lists lists = evaluate(chosen->build, chosen->option).lists;
    const auto tables = list::tables(lists);
    if (folder_)
      if (const auto saved = save(*folder_, tables, err); !saved)
        return file_trouble(saved.error());
    if (arguments_.as_json) {
      Json json = json_of(lists);
      json["option"] = chosen->option.text;
      print(out, json);
    } else {
      for (const list::Table& table : tables)
        print_section(out, title_of(table.name), table.header, table.rows);
    }
    return done;
  }

private:
  BuildArguments arguments_;
  std::optional<std::string> folder_;

  static Result<void> save(const std::filesystem::path& folder, const std::vector<list::Table>& tables,
                           std::ostream& err) {
    std::error_code trouble;
    std::filesystem::create_directories(folder, trouble);
    if (trouble || !std::filesystem::is_directory(folder, trouble)) {
      Error error;
      error.place.file = folder.string();
      error.found = trouble ? trouble.message() : "no folder";
      error.accepted = "a folder that can be written to";
      return fail(std::move(error));
    }
    for (const list::Table& table : tables) {
      const std::filesystem::path file = folder / (table.name + ".csv");
      if (auto saved = build::save_text(file, list::csv(table)); !saved)
        return saved;
      err << "written: " << file.string() << '\n';
    }
    return {};
  }
};

} // namespace

std::unique_ptr<Command> make_lists(CLI::App& app) {
  return std::make_unique<Lists>(app);
}

} // namespace bellmouth::cli
