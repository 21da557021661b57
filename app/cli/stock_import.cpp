// SPDX-License-Identifier: GPL-3.0-or-later
#include "stock_import.hpp"

#include "build_arguments.hpp"
#include "table.hpp"

#include <bellmouth/build/json.hpp>
#include <bellmouth/stock.hpp>
#include <bellmouth/stock/export.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <ostream>

namespace bellmouth::cli {

namespace {

using stock::Field;
using stock::Mapping;
using stock::OnClash;
using stock::RawTable;

using Done = tl::expected<void, Refusal>;

std::string field_keys() {
  std::vector<std::string_view> keys;
  for (const stock::FieldInfo& field : stock::fields())
    keys.push_back(field.key);
  return fmt::format("{}", fmt::join(keys, ", "));
}

tl::expected<std::optional<char>, Refusal>
read_sign(std::string_view flag, const std::optional<std::string>& typed, std::string_view accepted) {
  if (!typed)
    return std::nullopt;
  if (*typed == "tab" && accepted.find("tab") != std::string_view::npos)
    return '\t';
  if (typed->size() == 1 && typed->front() != 't' && accepted.find(typed->front()) != std::string_view::npos)
    return typed->front();
  return misfit(flag, *typed, accepted);
}

/// The column that is named by its heading or, "#3", by its number.
tl::expected<std::size_t, Refusal> find_column(const RawTable& table, const std::string& name) {
  if (name.starts_with('#')) {
    std::size_t number = 0;
    const char* const end = name.data() + name.size();
    const auto [stop, trouble] = std::from_chars(name.data() + 1, end, number);
    if (trouble == std::errc() && stop == end && number >= 1 && number <= table.headings.size())
      return number - 1;
  }
  const auto found = std::ranges::find(table.headings, name);
  if (found != table.headings.end())
    return static_cast<std::size_t>(found - table.headings.begin());
  return misfit("--map", name,
                fmt::format("a heading: {}; or its number, #1 to #{}", fmt::join(table.headings, ", "),
                            table.headings.size()));
}

/// The unit or, of a price, the currency behind the field.
Done put_unit(const std::string& typed, const stock::FieldInfo& field, stock::ColumnMapping& column) {
  if (field.is_money) {
    const auto currency = quantity::read_currency(typed);
    if (!currency)
      return misfit("--map", currency.error());
    column.currency = *currency;
    return {};
  }
  const auto unit = field.dimension ? quantity::find_unit(*field.dimension, typed) : std::nullopt;
  if (!unit)
    return misfit("--map", typed,
                  field.dimension ? fmt::format("a unit for {}, such as {}", field.name, field.unit)
                                  : fmt::format("no unit for {}", field.name));
  column.unit = unit->symbol;
  return {};
}

/// "OD=outer_diameter:in", "#3=wall", "colour=-".
Done map_column(const RawTable& table, const std::string& typed, Mapping& mapping) {
  const std::size_t sign = typed.rfind('=');
  if (sign == std::string::npos)
    return misfit("--map", typed, "COLUMN=FIELD, COLUMN=FIELD:UNIT, or COLUMN=- for none");
  const auto at = find_column(table, typed.substr(0, sign));
  if (!at)
    return tl::unexpected(at.error());
  stock::ColumnMapping& column = mapping.columns[*at];
  const std::string wanted = typed.substr(sign + 1);
  const std::size_t colon = wanted.find(':');
  const std::string key = wanted.substr(0, colon);
  if (key == "-") {
    column.field.reset();
    column.unit.clear();
    column.currency.reset();
    return {};
  }
  const auto field = stock::find_field(key);
  if (!field)
    return misfit("--map", key, field_keys() + ", or - for none");
  if (column.field != field) {
    column.unit = stock::info(*field).dimension == quantity::Dimension::angle ? "°" : "";
    column.currency.reset();
  }
  column.field = field;
  return colon == std::string::npos ? Done()
                                    : put_unit(wanted.substr(colon + 1), stock::info(*field), column);
}

/// "kind=clamp".
Done set_field(const std::string& typed, Mapping& mapping) {
  const std::size_t sign = typed.find('=');
  const auto field = stock::find_field(typed.substr(0, sign));
  if (sign == std::string::npos || !field)
    return misfit("--set", typed, fmt::format("FIELD=TEXT, the field one of {}", field_keys()));
  std::erase_if(mapping.fixed, [&](const stock::FixedField& each) { return each.field == *field; });
  mapping.fixed.push_back({*field, typed.substr(sign + 1)});
  return {};
}

tl::expected<Mapping, Refusal> read_mapping(const ImportArguments& arguments, const RawTable& table) {
  Mapping mapping = stock::propose(table);
  for (const std::string& typed : arguments.map)
    if (const auto mapped = map_column(table, typed, mapping); !mapped)
      return tl::unexpected(mapped.error());
  for (const std::string& typed : arguments.set)
    if (const auto set = set_field(typed, mapping); !set)
      return tl::unexpected(set.error());
  if (arguments.unit) {
    const auto unit = quantity::find_unit(quantity::Dimension::length, *arguments.unit);
    if (!unit)
      return misfit("--unit", *arguments.unit, "a unit of length, such as mm or in");
    mapping = stock::with_unit(std::move(mapping), quantity::Dimension::length, unit->symbol);
  }
  const auto decimal = read_sign("--decimal", arguments.decimal, ". or ,");
  if (!decimal)
    return tl::unexpected(decimal.error());
  if (*decimal)
    for (stock::ColumnMapping& column : mapping.columns)
      column.decimal = **decimal;
  if (auto wrong = stock::validate(table, mapping))
    return tl::unexpected(Refusal{wrong_usage, wrong->text()});
  return mapping;
}

tl::expected<Looked, Refusal> look_at_table(const ImportArguments& arguments, const std::string& text,
                                            const build::Build& build) {
  const auto delimiter = read_sign("--delimiter", arguments.delimiter, ", ; or tab");
  if (!delimiter)
    return tl::unexpected(delimiter.error());
  auto table = stock::read_table(text, *arguments.file, {*delimiter});
  if (!table)
    return file_trouble(table.error());
  auto mapping = read_mapping(arguments, *table);
  if (!mapping)
    return tl::unexpected(mapping.error());
  auto preview = stock::preview(*table, *mapping, build);
  if (!preview)
    return file_trouble(preview.error());
  return Looked{*std::move(table), *std::move(mapping), *std::move(preview)};
}

tl::expected<Looked, Refusal> look_at_json(const ImportArguments& arguments, const std::string& text,
                                           const build::Build& build) {
  const std::pair<const char*, bool> flags[] = {{"--map", !arguments.map.empty()},
                                                {"--set", !arguments.set.empty()},
                                                {"--unit", arguments.unit.has_value()},
                                                {"--delimiter", arguments.delimiter.has_value()},
                                                {"--decimal", arguments.decimal.has_value()}};
  for (const auto& [flag, given] : flags)
    if (given)
      return misfit(flag, "a list in JSON", "a table: JSON says itself what its values mean");
  auto preview = stock::preview_json(text, *arguments.file, build);
  if (!preview)
    return file_trouble(preview.error());
  return Looked{std::nullopt, {}, *std::move(preview)};
}

std::string decimal_words(char sign) {
  return sign == ',' ? "comma" : "point";
}
std::string delimiter_words(char sign) {
  return sign == '\t' ? "tab" : std::string(1, sign);
}

} // namespace

void state_import(CLI::App& app, ImportArguments& arguments) {
  state_text(app, "--import", arguments.file,
             "a stock list, CSV or JSON, to look at and, with --out, to take in", "FILE");
  const auto many = [&](const char* flag, std::vector<std::string>& texts, const char* help,
                        const char* type) {
    app.add_option(flag, texts, help)->type_name(type)->expected(1)->allow_extra_args(false)->take_all();
  };
  many("--map", arguments.map,
       "what a column holds, where its heading does not say it: \"OD=outer_diameter:in\", \"#3=wall:mm\", "
       "\"#4=-\"",
       "COLUMN=FIELD[:UNIT]");
  many("--set", arguments.set, "what is the same in every row: \"kind=clamp\"", "FIELD=TEXT");
  state_text(app, "--unit", arguments.unit, "unit of lengths whose column says none", "UNIT");
  state_text(app, "--delimiter", arguments.delimiter, "what divides cells: , ; or tab; without it recognised",
             "SIGN");
  state_text(app, "--decimal", arguments.decimal, "the decimal sign: . or , ; without it recognised", "SIGN");
  state_text(app, "--take", arguments.take,
             "good: leave bad rows out; all-or-nothing, without it: take nothing where a row is bad",
             "WHICH");
  state_text(app, "--on-clash", arguments.on_clash,
             "for ids that the build has for something else: replace, keep-both, skip; without it replace",
             "WHAT");
}

std::optional<std::string_view> stray_flag(const ImportArguments& arguments) {
  if (arguments.file)
    return std::nullopt;
  const std::pair<std::string_view, bool> flags[] = {{"--map", !arguments.map.empty()},
                                                     {"--set", !arguments.set.empty()},
                                                     {"--unit", arguments.unit.has_value()},
                                                     {"--delimiter", arguments.delimiter.has_value()},
                                                     {"--decimal", arguments.decimal.has_value()},
                                                     {"--take", arguments.take.has_value()},
                                                     {"--on-clash", arguments.on_clash.has_value()}};
  const auto stray = std::ranges::find(flags, true, &std::pair<std::string_view, bool>::second);
  return stray == std::end(flags) ? std::nullopt : std::optional(stray->first);
}

tl::expected<Looked, Refusal> look_at(const ImportArguments& arguments, const build::Build& build) {
  bool take_good = false;
  if (arguments.take) {
    take_good = *arguments.take == "good";
    if (!take_good && *arguments.take != "all-or-nothing")
      return misfit("--take", *arguments.take, "good, all-or-nothing");
  }
  OnClash on_clash = OnClash::replace;
  if (arguments.on_clash) {
    constexpr std::array all{OnClash::replace, OnClash::keep_both, OnClash::skip};
    const auto found = std::ranges::find(all, *arguments.on_clash, &stock::key);
    if (found == all.end())
      return misfit("--on-clash", *arguments.on_clash, "replace, keep-both, skip");
    on_clash = *found;
  }
  const auto text = build::load_text(*arguments.file);
  if (!text)
    return file_trouble(text.error());
  if (text->size() > build::max_json_bytes)
    return file_trouble({{*arguments.file, 0, 0, {}}, "more than 64 MiB", "a list of at most 64 MiB", {}});
  auto looked =
      stock::is_json(*text) ? look_at_json(arguments, *text, build) : look_at_table(arguments, *text, build);
  if (looked) {
    looked->take_good = take_good;
    looked->on_clash = on_clash;
  }
  return looked;
}

void print_preview(std::ostream& out, const std::string& file, const Looked& looked) {
  const stock::Preview& preview = looked.preview;
  out << fmt::format("{}: {} rows good ({} new, {} changed, {} same), {} bad\n\n", file, preview.good.size(),
                     preview.count(stock::Against::fresh), preview.count(stock::Against::changed),
                     preview.count(stock::Against::same), preview.bad.size());
  std::vector<Cells> rows;
  if (looked.table)
    for (std::size_t at = 0; at < looked.mapping.columns.size(); ++at) {
      const stock::ColumnMapping& column = looked.mapping.columns[at];
      std::string unit = column.unit;
      if (column.currency)
        unit = column.currency->text();
      rows.push_back({std::to_string(at + 1), looked.table->headings[at],
                      column.field ? std::string(stock::info(*column.field).key) : std::string(unknown),
                      unit.empty() ? std::string(unknown) : unit, decimal_words(column.decimal)});
    }
  print_section(out, "Columns", {"column", "heading", "field", "unit", "decimal"}, rows);
  rows.clear();
  for (const stock::GoodRow& row : preview.good)
    rows.push_back({std::to_string(row.number), row.item.id.text,
                    std::string(stock::kind_name(row.item.kind)), quantity::write(row.item.price),
                    row.owned ? fmt::format("{:g}", *row.owned) : std::string(unknown),
                    std::string(stock::word(row.against))});
  print_section(out, "Good rows", {"row", "id", "kind", "price", "owned", "against the build"}, rows);
  rows.clear();
  for (const stock::BadRow& row : preview.bad)
    rows.push_back({std::to_string(row.number),
                    row.error.place.line > 0 ? std::to_string(row.error.place.line) : "-",
                    row.error.place.path, row.error.found, row.error.accepted});
  print_section(out, "Bad rows", {"row", "line", "where", "found", "accepted"}, rows);
  for (const std::string& column : preview.unused)
    out << "not used: " << column << '\n';
  for (const std::string& words : preview.taken_as)
    out << words << '\n';
}

Json json_of(const std::vector<build::StockItem>& items, const std::vector<build::Owned>& owned,
             const quantity::Currency& currency) {
  Json json = Json::parse(stock::json(items, owned, currency));
  json.erase("format");
  return json;
}

Json json_of(const std::string& file, const Looked& looked) {
  const stock::Preview& preview = looked.preview;
  Json json{{"file", file}};
  if (looked.table) {
    json["delimiter"] = delimiter_words(looked.table->delimiter);
    Json columns = Json::array();
    for (std::size_t at = 0; at < looked.mapping.columns.size(); ++at) {
      const stock::ColumnMapping& column = looked.mapping.columns[at];
      columns.push_back({{"heading", looked.table->headings[at]},
                         {"field", column.field ? Json(stock::info(*column.field).key) : Json(nullptr)},
                         {"unit", column.unit.empty() ? Json(nullptr) : Json(column.unit)},
                         {"currency", column.currency ? Json(column.currency->text()) : Json(nullptr)},
                         {"decimal", decimal_words(column.decimal)}});
    }
    json["columns"] = std::move(columns);
  }
  json["new"] = preview.count(stock::Against::fresh);
  json["changed"] = preview.count(stock::Against::changed);
  json["same"] = preview.count(stock::Against::same);
  Json good = Json::array(), bad = Json::array();
  std::vector<build::StockItem> items;
  for (const stock::GoodRow& row : preview.good)
    items.push_back(row.item);
  const Json as_filed =
      items.empty() ? Json::array() : json_of(items, {}, items.front().price.currency)["items"];
  for (std::size_t at = 0; at < preview.good.size(); ++at) {
    const stock::GoodRow& row = preview.good[at];
    good.push_back({{"row", row.number},
                    {"against", stock::word(row.against)},
                    {"id_made", row.id_made},
                    {"owned", or_null(row.owned)},
                    {"item", as_filed[at]}});
  }
  for (const stock::BadRow& row : preview.bad)
    bad.push_back({{"row", row.number},
                   {"line", row.error.place.line},
                   {"where", row.error.place.path},
                   {"found", row.error.found},
                   {"accepted", row.error.accepted}});
  json["good"] = std::move(good);
  json["bad"] = std::move(bad);
  json["unused"] = preview.unused;
  json["taken_as"] = preview.taken_as;
  return json;
}

} // namespace bellmouth::cli
