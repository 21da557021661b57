// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "lists_json.hpp"
#include "purchase_json.hpp"
#include "tables_out.hpp"

#include <bellmouth/buy/sawing.hpp>
#include <bellmouth/evaluate.hpp>

#include <CLI/App.hpp>

#include <algorithm>
#include <ostream>
#include <utility>

namespace bellmouth::cli {

namespace {

class Lists : public Command {
public:
  explicit Lists(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    state_text(app, "--out", folder_, "folder for a CSV file of each list; made if missing", "DIR");
    state_text(app, "--list", only_, "one of the lists alone: \"cut\", \"sawing\", \"joints\" and so on",
               "NAME");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const list::Lists lists = evaluate(chosen->build, chosen->option).lists;
    const buy::Purchase purchase = buy::purchase(chosen->build, chosen->option);
    std::vector<list::Table> tables = buy::tables(purchase);
    tables.insert(tables.end() - 1, buy::sawing(chosen->build, purchase));
    for (list::Table& table : list::tables(lists))
      tables.insert(tables.end() - 1, std::move(table)); // the sums come last
    if (only_) {
      const auto asked = std::ranges::find(tables, *only_, &list::Table::name);
      if (asked == tables.end())
        return misfit("--list", *only_, names(tables));
      tables = {std::move(*asked)};
    }
    if (folder_)
      if (const auto saved = save_tables(*folder_, tables, err); !saved)
        return file_trouble(saved.error());
    if (arguments_.as_json) {
      Json json = json_of(lists);
      json.update(json_of(chosen->build, purchase));
      if (only_)
        json = {{key_of(*only_), json.at(key_of(*only_))}};
      json["option"] = chosen->option.text;
      print(out, json);
    } else {
      print_tables(out, tables);
    }
    return done;
  }

private:
  BuildArguments arguments_;
  std::optional<std::string> folder_, only_;

  /// The key that holds a list as JSON.
  static std::string key_of(const std::string& table) {
    if (table == "cut")
      return "cuts";
    return table == "sawing" ? "uses" : table;
  }
  static std::string names(const std::vector<list::Table>& tables) {
    std::string all;
    for (const list::Table& table : tables)
      all.append(all.empty() ? "" : ", ").append(table.name);
    return all;
  }
};

} // namespace

std::unique_ptr<Command> make_lists(CLI::App& app) {
  return std::make_unique<Lists>(app);
}

} // namespace bellmouth::cli
