// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "purchase_json.hpp"
#include "route_search.hpp"
#include "table.hpp"
#include "tables_out.hpp"

#include <bellmouth/buy/sawing.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <ostream>

namespace bellmouth::cli {

namespace {

constexpr std::array aims{buy::Aim::money, buy::Aim::suppliers, buy::Aim::offcuts};

class Buy : public Command {
public:
  explicit Buy(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    state_text(app, "--least", least_, "what there is to be the least of: money, suppliers or offcuts",
               "WHAT");
    state_text(app, "--seconds", typed_seconds_,
               "time for each plan, without it 1; then the best so far, with a bound", "N");
    state_text(app, "--out", folder_, "folder for a CSV file of each list; made if missing", "DIR");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const auto* const aim =
        least_ ? std::ranges::find(aims, *least_, [](buy::Aim each) { return text(each); }) : aims.begin();
    if (aim == aims.end())
      return misfit("--least", *least_, "money, suppliers or offcuts");
    if (typed_seconds_) {
      const auto read = read_seconds(*typed_seconds_);
      if (!read)
        return tl::unexpected(read.error());
      seconds_ = *read;
    }
    const build::Build& build = chosen->build;
    const buy::Purchase purchase = plan(build, chosen->option, *aim);
    std::vector<list::Table> tables = buy::tables(purchase);
    tables.insert(tables.begin() + 1, buy::sawing(build, purchase));
    if (folder_)
      if (const auto saved = save_tables(*folder_, tables, err); !saved)
        return file_trouble(saved.error());
    if (arguments_.as_json) {
      Json json = json_of(build, purchase);
      json["option"] = chosen->option.text;
      print(out, json);
      return done;
    }
    print_tables(out, tables);
    print_aims(out, build, chosen->option, purchase);
    return done;
  }

private:
  BuildArguments arguments_;
  std::optional<std::string> least_, typed_seconds_;
  double seconds_ = 1.0;
  std::optional<std::string> folder_;

  buy::Purchase plan(const build::Build& build, const build::OptionId& option, buy::Aim aim) const {
    return buy::purchase(build, option, {.aim = aim, .seconds = seconds_});
  }

  /// What it would cost to have the least of something else.
  void print_aims(std::ostream& out, const build::Build& build, const build::OptionId& option,
                  const buy::Purchase& chosen) const {
    std::vector<Cells> rows;
    for (const buy::Aim aim : aims) {
      const bool is_chosen = aim == chosen.task.question.aim;
      const buy::Purchase purchase = is_chosen ? chosen : plan(build, option, aim);
      rows.push_back({fmt::format("least {}", text(aim)), quantity::write(purchase.totals.total),
                      std::to_string(purchase.totals.suppliers), std::to_string(purchase.totals.offcuts),
                      purchase.plan.proven ? "yes" : "no"});
    }
    print_section(out, "Other plans", {"plan", "to buy", "suppliers", "offcuts", "proven"}, rows);
  }
};

} // namespace

std::unique_ptr<Command> make_buy(CLI::App& app) {
  return std::make_unique<Buy>(app);
}

} // namespace bellmouth::cli
