// SPDX-License-Identifier: GPL-3.0-or-later
// The lists as tables for people, and tables as CSV.
#include <bellmouth/list.hpp>

#include <spdlog/fmt/fmt.h>

#include <cmath>
#include <string_view>

namespace bellmouth::list {
namespace {

using quantity::Dimension;

std::string mm(double length_m) {
  return quantity::write_fixed(Dimension::length, length_m, "mm", 1, false);
}
std::string deg(double angle_rad) {
  return quantity::write_fixed(Dimension::angle, angle_rad, "deg", 1, false);
}

std::string money(const std::optional<quantity::Money>& amount) {
  return amount ? quantity::write(*amount) : std::string();
}
/// Pieces as whole numbers, metres to a tenth of a millimetre.
std::string amount(double value, build::Per per) {
  return per == build::Per::metre ? quantity::write_fixed(Dimension::length, value, "m", 4, false)
                                  : fmt::format("{}", std::round(value * 1e6) / 1e6);
}

/// Rows count from 1, as on the screen.
std::string place(const build::PieceRef& ref) {
  return fmt::format("{} {}", ref.run.text, ref.row + 1);
}
/// A piece that comes several times in a row, as a hose with two clamps does, is said once: "suction 2 (2
/// x)".
std::string places(const std::vector<build::PieceRef>& refs) {
  std::string text;
  for (std::size_t i = 0; i < refs.size();) {
    std::size_t behind = i + 1;
    while (behind < refs.size() && refs[behind] == refs[i])
      ++behind;
    text.append(text.empty() ? "" : ", ").append(place(refs[i]));
    if (behind - i > 1)
      text += fmt::format(" ({} x)", behind - i);
    i = behind;
  }
  return text;
}

Table shopping_table(const Lists& lists) {
  Table table{"shopping",
              {"kind", "item", "stock", "needed", "owned", "to buy", "unit", "unit price", "price", "for"},
              {}};
  for (const ShoppingLine& line : lists.shopping)
    table.rows.push_back({line.group, line.description, line.stock ? line.stock->text : "",
                          amount(line.needed, line.per), amount(line.owned, line.per),
                          amount(line.to_buy, line.per), line.per == build::Per::metre ? "m" : "pieces",
                          money(line.unit_price), money(line.price), places(line.pieces)});
  return table;
}

Table totals_table(const Totals& totals) {
  Table table{"totals", {"what", "amount"}, {}};
  table.rows = {{"to buy", money(totals.total)},
                {"owned, not counted", money(totals.owned_value)},
                {"lines without a price", fmt::format("{}", totals.unpriced)}};
  if (totals.left)
    table.rows.push_back({"left of the budget", money(totals.left)});
  return table;
}

Table cut_table(const Lists& lists) {
  Table table{"cut",
              {"piece", "what", "size [mm]", "cut length [mm]", "on the centreline [mm]",
               "engagement in [mm]", "engagement out [mm]", "ends", "note"},
              {}};
  for (const CutLine& line : lists.cuts)
    table.rows.push_back({place(line.piece), line.title, line.size, mm(line.cut_length_m),
                          mm(line.centreline_length_m), mm(line.engagement_in_m), mm(line.engagement_out_m),
                          line.ends, line.note});
  return table;
}

Table clamp_table(const Lists& lists) {
  Table table{"clamps", {"installed diameter [mm]", "clamp", "stock", "count", "hoses"}, {}};
  for (const ClampLine& line : lists.clamps)
    table.rows.push_back({mm(line.installed_diameter_m), line.description, line.stock ? line.stock->text : "",
                          fmt::format("{}", line.count), places(line.pieces)});
  return table;
}

Table reducer_table(const Lists& lists) {
  Table table{"reducers",
              {"piece", "what", "bore in [mm]", "bore out [mm]", "length [mm]", "included angle [deg]"},
              {}};
  for (const ReducerLine& line : lists.reducers)
    table.rows.push_back({place(line.piece), line.title, mm(line.bore_in_m), mm(line.bore_out_m),
                          mm(line.length_m), deg(line.included_angle_rad)});
  return table;
}

Table fitting_table(const Lists& lists) {
  Table table{
      "fittings", {"piece", "what", "size [mm]", "on", "from its inlet end [mm]", "clocking [deg]"}, {}};
  for (const FittingLine& line : lists.fittings)
    table.rows.push_back({place(line.piece), line.title, line.size, place(line.host), mm(line.position_m),
                          deg(line.clocking_rad)});
  return table;
}

void append_cell(std::string& out, std::string_view cell) {
  if (cell.find_first_of("\",\r\n") == std::string_view::npos) {
    out += cell;
    return;
  }
  out += '"';
  for (const char c : cell) {
    if (c == '"')
      out += '"';
    out += c;
  }
  out += '"';
}

void append_row(std::string& out, const std::vector<std::string>& cells) {
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0)
      out += ',';
    append_cell(out, cells[i]);
  }
  out += "\r\n";
}

} // namespace

std::vector<Table> tables(const Lists& lists) {
  return {shopping_table(lists), cut_table(lists),     clamp_table(lists),
          reducer_table(lists),  fitting_table(lists), totals_table(lists.totals)};
}

std::string csv(const Table& table) {
  std::string out;
  append_row(out, table.header);
  for (const auto& row : table.rows)
    append_row(out, row);
  return out;
}

} // namespace bellmouth::list
