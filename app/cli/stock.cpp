// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "stock_import.hpp"
#include "table.hpp"

#include <bellmouth/build/stock_items.hpp>
#include <bellmouth/stock.hpp>
#include <bellmouth/stock/export.hpp>
#include <bellmouth/stock/search.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <filesystem>
#include <ostream>

namespace bellmouth::cli {

namespace {

namespace fs = std::filesystem;

/// Where the lists that come along lie: as installed, beside the program's own place, or in the source tree
/// that it was built from.
fs::path shipped_lists() {
  std::error_code trouble;
  const fs::path program = fs::read_symlink("/proc/self/exe", trouble);
  const fs::path installed = program.parent_path() / "../share/bellmouth/stock";
  return !trouble && fs::is_directory(installed, trouble) ? installed
                                                          : fs::path(BELLMOUTH_SHARED_DIR) / "stock";
}

class Stock : public Command {
public:
  explicit Stock(CLI::App& app) {
    app.add_option("BUILD", arguments_.file, "build file")->type_name("");
    app.add_flag("--json", arguments_.as_json, "for machines");
    state_text(app, "--list", list_, "a list that comes along, instead of a build: metric, inch", "LIST");
    state_text(app, "--search", search_, "only items that have all these words, or sizes in mm", "WORDS");
    state_text(app, "--kind", kind_, "only items of a kind, such as hose_elbow", "KIND");
    state_text(app, "--export", export_, "file to write the items to: .csv or .json", "FILE");
    state_import(app, import_);
    state_text(app, "--out", out_, "file for the build with the list taken in", "FILE");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    if (const auto fits = check_usage(); !fits)
      return tl::unexpected(fits.error());
    const auto loaded = load();
    if (!loaded)
      return tl::unexpected(loaded.error());
    return import_.file ? import_into(*loaded, out, err) : show(*loaded, out, err);
  }

private:
  using Done = tl::expected<void, Refusal>;

  BuildArguments arguments_;
  ImportArguments import_;
  std::optional<std::string> list_, search_, kind_, export_, out_;

  [[nodiscard]] Done check_usage() const {
    if (arguments_.file.empty() == !list_)
      return misfit("stock", arguments_.file.empty() ? "neither" : "both", "either BUILD or --list");
    if (import_.file && list_)
      return misfit("--import", "--list", "a build to take it into");
    if (const auto stray = stray_flag(import_))
      return misfit(*stray, "no --import", "--import beside it");
    if (out_ && !import_.file)
      return misfit("--out", "no --import", "--import beside it");
    for (const auto& [flag, given] : {std::pair{"--export", export_.has_value()},
                                      {"--search", search_.has_value()},
                                      {"--kind", kind_.has_value()}})
      if (import_.file && given)
        return misfit(flag, "--import", "one or the other");
    return {};
  }

  /// The build; of a list that comes along, a build that has nothing but its stock.
  [[nodiscard]] tl::expected<build::Build, Refusal> load() const {
    if (!list_) {
      auto build = build::load_build(arguments_.file);
      if (!build)
        return file_trouble(build.error());
      return *std::move(build);
    }
    if (*list_ != "metric" && *list_ != "inch")
      return misfit("--list", *list_, "metric, inch");
    const fs::path file = shipped_lists() / (*list_ + ".json");
    const auto text = build::load_text(file);
    if (!text)
      return file_trouble(text.error());
    const auto items = build::read_stock(*text, file.string());
    if (!items)
      return file_trouble(items.error());
    build::Build build;
    build.stock = *items;
    if (!items->empty())
      build.budget.currency = items->front().price.currency;
    return build;
  }

  [[nodiscard]] tl::expected<std::vector<build::StockItem>, Refusal> chosen(const build::Build& build) const {
    std::optional<std::size_t> kind;
    if (kind_) {
      const auto words = build::stock_kind_words();
      const auto found = std::ranges::find(words, *kind_);
      if (found == words.end())
        return misfit("--kind", *kind_, fmt::format("{}", fmt::join(words, ", ")));
      kind = static_cast<std::size_t>(found - words.begin());
    }
    std::vector<build::StockItem> items;
    for (const build::StockItem& item : *build.stock)
      if ((!kind || static_cast<std::size_t>(item.kind) == *kind) &&
          stock::matches(item, search_.value_or("")))
        items.push_back(item);
    return items;
  }

  tl::expected<Exit, Refusal> show(const build::Build& build, std::ostream& out, std::ostream& err) const {
    const auto items = chosen(build);
    if (!items)
      return tl::unexpected(items.error());
    if (export_)
      if (const auto saved = save(*export_, *items, build, err); !saved)
        return tl::unexpected(saved.error());
    if (arguments_.as_json) {
      print(out, json_of(*items, build.owned, build.budget.currency));
      return done;
    }
    std::vector<Cells> rows;
    for (const build::StockItem& item : *items) {
      const auto owned = std::ranges::find(build.owned, item.id, &build::Owned::stock);
      rows.push_back(
          {item.id.text, std::string(stock::kind_name(item.kind)),
           item.name.empty() ? std::string(unknown) : item.name, quantity::write(item.price),
           item.per == build::Per::metre ? "metre" : "each", std::to_string(item.pack),
           item.supplier.empty() ? std::string(unknown) : item.supplier,
           owned == build.owned.end() ? std::string(unknown) : fmt::format("{:g}", owned->quantity)});
    }
    print_section(out, fmt::format("Stock: {} of {} items", items->size(), build.stock->size()),
                  {"id", "kind", "name", "price", "per", "pack", "supplier", "owned"}, rows);
    if (rows.empty())
      out << fmt::format("Stock: none of {} items\n", build.stock->size());
    return done;
  }

  static Done save(const std::string& file, const std::vector<build::StockItem>& items,
                   const build::Build& build, std::ostream& err) {
    const std::string ending = fs::path(file).extension().string();
    if (ending != ".csv" && ending != ".json")
      return misfit("--export", file, "a name that ends in .csv or .json");
    const std::string text = ending == ".csv" ? stock::csv(items, build.owned)
                                              : stock::json(items, build.owned, build.budget.currency);
    if (const auto saved = build::save_text(file, text); !saved)
      return file_trouble(saved.error());
    err << "written: " << file << '\n';
    return {};
  }

  tl::expected<Exit, Refusal> import_into(const build::Build& build, std::ostream& out,
                                          std::ostream& err) const {
    const auto looked = look_at(import_, build);
    if (!looked)
      return tl::unexpected(looked.error());
    if (arguments_.as_json)
      print(out, json_of(*import_.file, *looked));
    else
      print_preview(out, *import_.file, *looked);
    const stock::Preview& preview = looked->preview;
    const auto refuse = [&](std::string why) {
      return tl::unexpected(Refusal{bad_input, fmt::format("{}: {}", *import_.file, why)});
    };
    if (preview.good.empty())
      return refuse("no row that can be taken in; nothing was written");
    if (!out_)
      return done;
    if (!preview.bad.empty() && !looked->take_good)
      return refuse(
          fmt::format("{} of {} rows are bad; nothing was written; accepted: a list without bad rows, or "
                      "--take good",
                      preview.bad.size(), preview.good.size() + preview.bad.size()));
    auto taken = stock::take(build, preview, looked->on_clash);
    if (!taken)
      return file_trouble(taken.error());
    if (const auto saved = save_made(arguments_, *std::move(taken), *out_); !saved)
      return tl::unexpected(saved.error());
    err << "written: " << *out_ << '\n';
    return done;
  }
};

} // namespace

std::unique_ptr<Command> make_stock(CLI::App& app) {
  return std::make_unique<Stock>(app);
}

} // namespace bellmouth::cli
