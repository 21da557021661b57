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

void print_totals(std::ostream& out, const list::Totals& totals) {
  std::vector<Cells> rows{{"to buy", quantity::write(totals.total)},
                          {"owned already", quantity::write(totals.owned_value)}};
  if (totals.left)
    rows.push_back({"left of the budget", quantity::write(*totals.left)});
  rows.push_back({"lines without a price", std::to_string(totals.unpriced)});
  print_table(out, {"money", "amount"}, rows);
}

class Lists : public Command {
public:
  explicit Lists(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    app.add_option("--out", folder_, "folder for a CSV file of each list; made if missing")->type_name("DIR");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const list::Lists lists = evaluate(chosen->build, chosen->option).lists;
    const auto tables = list::tables(lists);
    if (!folder_.empty())
      if (const auto saved = save(tables, err); !saved)
        return file_trouble(saved.error());
    if (arguments_.as_json) {
      Json json = json_of(lists);
      json["option"] = chosen->option.text;
      print(out, json);
    } else {
      for (const list::Table& table : tables)
        print_section(out, title_of(table.name), table.header, table.rows);
      print_totals(out, lists.totals);
    }
    return done;
  }

private:
  BuildArguments arguments_;
  std::string folder_;

  Result<void> save(const std::vector<list::Table>& tables, std::ostream& err) const {
    const std::filesystem::path folder(folder_);
    std::error_code trouble;
    std::filesystem::create_directories(folder, trouble);
    if (trouble) {
      Error error;
      error.place.file = folder_;
      error.found = trouble.message();
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
