// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "lists_json.hpp"
#include "purchase_json.hpp"
#include "tables_out.hpp"

#include <bellmouth/buy/sawing.hpp>
#include <bellmouth/evaluate.hpp>

#include <CLI/App.hpp>

#include <ostream>

namespace bellmouth::cli {

namespace {

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
    const buy::Purchase purchase = buy::purchase(chosen->build, chosen->option);
    std::vector<list::Table> tables = buy::tables(purchase);
    tables.insert(tables.end() - 1, buy::sawing(chosen->build, purchase));
    for (list::Table& table : list::tables(lists))
      tables.insert(tables.end() - 1, std::move(table)); // the sums come last
    if (folder_)
      if (const auto saved = save_tables(*folder_, tables, err); !saved)
        return file_trouble(saved.error());
    if (arguments_.as_json) {
      Json json = json_of(lists);
      json.update(json_of(chosen->build, purchase));
      json["option"] = chosen->option.text;
      print(out, json);
    } else {
      print_tables(out, tables);
    }
    return done;
  }

private:
  BuildArguments arguments_;
  std::optional<std::string> folder_;
};

} // namespace

std::unique_ptr<Command> make_lists(CLI::App& app) {
  return std::make_unique<Lists>(app);
}

} // namespace bellmouth::cli
