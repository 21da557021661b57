// SPDX-License-Identifier: GPL-3.0-or-later
#include "cells.hpp"

#include "cell_text.hpp"
#include "headings.hpp"

#include <bellmouth/build/stock_items.hpp>
#include <bellmouth/quantity/utf8.hpp>
#include <bellmouth/stock.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace bellmouth::stock {

namespace {

using build::ClampType;
using build::Material;
using build::Per;
using build::StockItem;
using build::StockKind;
using Read = tl::expected<void, CellFault>;

constexpr std::size_t longest_quoted = 60;

std::string in_quotes(std::string_view text) {
  return fmt::format("\"{}\"", quantity::printable(text, longest_quoted));
}
tl::unexpected<CellFault> refuse(Field field, std::string_view text) {
  return tl::unexpected(CellFault{in_quotes(text), std::string(info(field).accepted)});
}

/// Words for a value, divided by '|'.
template <class Value> struct Named {
  Value value;
  std::string_view words;
};
template <class Value, std::size_t Count>
std::optional<Value> look_up(const std::array<Named<Value>, Count>& table, std::string_view wanted) {
  for (const Named<Value>& each : table)
    for (std::size_t at = 0; at < each.words.size();) {
      const std::size_t end = std::min(each.words.find('|', at), each.words.size());
      if (each.words.substr(at, end - at) == wanted)
        return each.value;
      at = end + 1;
    }
  return std::nullopt;
}
/// The same for one of several, too: "bends".
template <class Value, std::size_t Count>
std::optional<Value> look_up_any(const std::array<Named<Value>, Count>& table, const std::string& words) {
  if (const auto found = look_up(table, words))
    return found;
  for (const std::string_view ending : {"s", "es"})
    if (words.ends_with(ending))
      if (const auto found = look_up(table, std::string_view(words).substr(0, words.size() - ending.size())))
        return found;
  return std::nullopt;
}

constexpr std::array kinds{
    Named<StockKind>{StockKind::tube, "tube|straight tube|tubing|tube length"},
    Named<StockKind>{StockKind::tube_bend,
                     "tube bend|bend|mandrel bend|u bend|j bend|tube elbow|metal elbow"},
    Named<StockKind>{StockKind::mitred_bend, "mitred bend|mitered bend|segmented bend|pie cut bend"},
    Named<StockKind>{StockKind::cone, "cone|taper|transition|tube reducer|reducing cone|metal reducer"},
    Named<StockKind>{StockKind::adapter, "adapter|adaptor|turned adapter|turned adaptor"},
    Named<StockKind>{StockKind::hose, "hose|coupler|straight coupler|straight hose|hose coupler|coupling|"
                                      "suction hose|hose coupling"},
    Named<StockKind>{StockKind::hump_hose, "hump hose|hump coupler|hump|humped hose"},
    Named<StockKind>{StockKind::hose_elbow, "hose elbow|silicone elbow|rubber elbow|elbow hose|elbow coupler|"
                                            "elbow reducer|reducing elbow|reducer elbow"},
    Named<StockKind>{StockKind::hose_reducer,
                     "hose reducer|reducer coupler|reducing coupler|silicone reducer|"
                     "reducer hose|rubber reducer"},
    Named<StockKind>{StockKind::sensor_boss, "sensor boss|boss|weld boss|bung|weld bung|sensor bung"},
    Named<StockKind>{StockKind::valve_flange, "valve flange|flange|weld flange|valve weld flange"},
    Named<StockKind>{StockKind::clamp, "clamp|hose clamp|clip|hose clip"}};
constexpr std::array clamp_types{
    Named<ClampType>{ClampType::worm, "worm|worm drive|worm screw"},
    Named<ClampType>{ClampType::lined_worm, "lined worm|worm lined|smooth band worm"},
    Named<ClampType>{ClampType::lug, "lug|clamping lug|lugs"},
    Named<ClampType>{ClampType::round_bolt, "round bolt|t bolt|tbolt|bolt"},
    Named<ClampType>{ClampType::spring, "spring|spring band"},
    Named<ClampType>{ClampType::constant_tension, "constant tension|constant torque"}};
constexpr std::array materials{
    Named<Material>{Material::aluminium, "aluminium|aluminum|alu|al|6061|6063|3003|1100|6061 t6|6063 t6"},
    Named<Material>{Material::mild_steel, "mild steel|steel|carbon steel"},
    Named<Material>{Material::stainless_steel,
                    "stainless steel|stainless|304|316|304 stainless|316 stainless"},
    Named<Material>{Material::silicone, "silicone|silicone rubber"},
    Named<Material>{Material::rubber, "rubber|epdm|nbr|epdm rubber|nbr rubber"},
    Named<Material>{Material::plastic, "plastic|nylon"}};
constexpr std::array pers{Named<Per>{Per::each, "each|ea|piece|pc|pcs|pack|item|per piece|per pack"},
                          Named<Per>{Per::metre, "metre|meter|m|per metre|per meter|per m"}};
constexpr std::array answers{Named<bool>{true, "yes|y|true|1|x|lined|fluoro lined|fvmq|fkm"},
                             Named<bool>{false, "no|n|false|0|none|unlined"}};

Read read_clamp_type(const std::string& text, StockItem& item) {
  const auto found = look_up_any(clamp_types, plain_words(text));
  if (!found)
    return refuse(Field::clamp_type, text);
  item.clamp_type = *found;
  return {};
}

Read read_kind(const std::string& text, StockItem& item, Extras& extras) {
  const std::string words = plain_words(text);
  extras.kind = true;
  if (words == "elbow" || words == "elbows") {
    extras.metal_or_hose = {StockKind::tube_bend, StockKind::hose_elbow};
  } else if (words == "reducer" || words == "reducers" || words == "straight reducer") {
    extras.metal_or_hose = {StockKind::cone, StockKind::hose_reducer};
  } else if (const auto kind = look_up_any(kinds, words)) {
    item.kind = *kind;
  } else if (const std::size_t last = words.find_last_of(' ');
             last != std::string::npos && look_up_any(kinds, words.substr(last + 1)) == StockKind::clamp) {
    // "t-bolt clamp"
    const auto type = look_up_any(clamp_types, words.substr(0, last));
    if (!type)
      return refuse(Field::kind, text);
    item.kind = StockKind::clamp;
    item.clamp_type = *type;
  } else {
    return refuse(Field::kind, text);
  }
  return {};
}

/// A whole number, with words beside it that say no more than the heading: "4 ply", "pack of 10".
std::optional<int> whole_number(const std::string& text) {
  constexpr std::array known{std::string_view("ply"),   std::string_view("plies"), std::string_view("pack"),
                             std::string_view("of"),    std::string_view("pcs"),   std::string_view("pieces"),
                             std::string_view("piece"), std::string_view("off")};
  std::optional<int> number;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t begin = at;
    if (is_digit(text[at])) {
      int value = 0;
      const auto [stop, trouble] = std::from_chars(text.data() + at, text.data() + text.size(), value);
      if (number || trouble != std::errc())
        return std::nullopt;
      number = value;
      at = static_cast<std::size_t>(stop - text.data());
    } else if (is_letter(text[at])) {
      std::string word;
      for (; at < text.size() && is_letter(text[at]); ++at)
        word += lower(text[at]);
      if (std::ranges::find(known, word) == known.end())
        return std::nullopt;
    } else if (text[at] == ' ' || (text[at] == '-' && begin > 0)) {
      ++at;
    } else {
      return std::nullopt;
    }
  }
  return number;
}

tl::expected<double, CellFault> read_quantity(Field field, std::string_view text, const CellReading& how) {
  const quantity::Dimension dimension = *info(field).dimension;
  quantity::Reading reading;
  reading.default_unit = how.unit;
  reading.decimal = how.decimal;
  reading.reference = quantity::Reference::gauge;
  const auto read = quantity::read(dimension, text, reading);
  if (read)
    return *read;
  return tl::unexpected(CellFault{in_quotes(text), read.error().accepted});
}

/// "60-80", "60 - 80 mm", "60..80", "60 to 80 mm": a unit behind the second is that of both.
Read read_range(const std::string& text, const CellReading& how, StockItem& item) {
  for (const std::string_view divider : {"..", " to ", "–", "-"}) {
    const std::size_t at = text.find(divider, 1);
    if (at == std::string::npos)
      continue;
    const std::string low = trimmed(std::string_view(text).substr(0, at));
    const std::string high = trimmed(std::string_view(text).substr(at + divider.size()));
    const auto most = read_quantity(Field::clamp_range, high, how);
    if (!most)
      return tl::unexpected(CellFault{in_quotes(text), most.error().accepted});
    std::size_t unit = high.size();
    while (unit > 0 && !is_digit(high[unit - 1]))
      --unit;
    const std::string own_unit = trimmed(std::string_view(high).substr(unit));
    CellReading as_high = how;
    if (!own_unit.empty())
      as_high.unit = own_unit;
    const auto least = read_quantity(Field::clamp_range, low, as_high);
    if (!least)
      return tl::unexpected(CellFault{in_quotes(text), least.error().accepted});
    item.clamp_min_m = *least;
    item.clamp_max_m = *most;
    return {};
  }
  return refuse(Field::clamp_range, text);
}

/// A plain number, or one of metres: "1.5 m".
Read read_owned(const std::string& text, const CellReading& how, Extras& extras) {
  quantity::Reading reading;
  reading.decimal = how.decimal;
  auto read = quantity::read(quantity::Dimension::ratio, text, reading);
  if (!read)
    read = quantity::read(quantity::Dimension::length, text, reading);
  if (!read || *read < 0)
    return refuse(Field::owned, text);
  extras.owned = *read;
  return {};
}

/// Where a measured field goes.
void put_size(Field field, double value, StockItem& item) {
  switch (field) {
  case Field::outer_diameter:
    item.outer_diameter_m = value;
    break;
  case Field::bore:
    item.bore_m = value;
    break;
  case Field::bore_out:
    item.bore_out_m = value;
    break;
  case Field::wall:
    item.wall_m = value;
    break;
  case Field::angle:
    item.angle_rad = value;
    break;
  case Field::radius:
    item.radius_m = value;
    break;
  case Field::legs:
    item.leg_in_m = item.leg_out_m = value;
    break;
  case Field::leg_in:
    item.leg_in_m = value;
    break;
  case Field::leg_out:
    item.leg_out_m = value;
    break;
  case Field::length:
    item.length_m = value;
    break;
  case Field::clamp_min:
    item.clamp_min_m = value;
    break;
  case Field::clamp_max:
    item.clamp_max_m = value;
    break;
  case Field::band_width:
    item.band_width_m = value;
    break;
  case Field::torque:
    item.torque_Nm = value;
    break;
  case Field::max_temperature:
    item.max_temperature_K = value;
    break;
  case Field::max_gauge:
    item.max_gauge_Pa = value;
    break;
  default:
    break;
  }
}

} // namespace

Read read_cell(Field field, const std::string& text, const CellReading& how, StockItem& item,
               Extras& extras) {
  const auto whole = [&](auto put) -> Read {
    const auto number = whole_number(text);
    if (!number)
      return refuse(field, text);
    put(*number);
    return {};
  };
  const auto answer = [&](bool& flag) -> Read {
    const auto found = look_up(answers, plain_words(text));
    if (!found)
      return refuse(field, text);
    flag = *found;
    return {};
  };
  switch (field) {
  case Field::id:
    item.id.text = text;
    return {};
  case Field::kind:
    return read_kind(text, item, extras);
  case Field::name:
    item.name = text;
    return {};
  case Field::material: {
    const auto found = look_up(materials, plain_words(text));
    if (!found)
      return refuse(field, text);
    item.material = *found;
    extras.material = true;
    return {};
  }
  case Field::plies:
    return whole([&](int number) { item.plies = number; });
  case Field::thread:
    item.thread = text;
    return {};
  case Field::clamp_range:
    return read_range(text, how, item);
  case Field::clamp_type:
    return read_clamp_type(text, item);
  case Field::oil_proof:
    return answer(item.oil_proof);
  case Field::wire:
    return answer(item.wire);
  case Field::price:
    extras.price = text;
    return {};
  case Field::paid:
    extras.paid = text;
    return {};
  case Field::currency: {
    extras.currency = find_currency(text);
    return extras.currency ? Read() : refuse(field, text);
  }
  case Field::per: {
    const auto found = look_up(pers, plain_words(text));
    if (!found)
      return refuse(field, text);
    item.per = *found;
    extras.per = true;
    return {};
  }
  case Field::pack:
    extras.pack = true;
    return whole([&](int number) { item.pack = number; });
  case Field::supplier:
    item.supplier = text;
    return {};
  case Field::owned:
    return read_owned(text, how, extras);
  default: {
    const auto value = read_quantity(field, text, how);
    if (!value)
      return tl::unexpected(value.error());
    put_size(field, *value, item);
    return {};
  }
  }
}

tl::expected<quantity::Money, CellFault> read_price(const std::string& text, char decimal,
                                                    const std::vector<quantity::Currency>& stated,
                                                    const quantity::Currency& wanted) {
  // A code or sign at either end goes before what column and row say.
  std::string amount = text;
  std::vector<quantity::Currency> said = stated;
  const std::size_t begin = amount.find_first_of("0123456789-+.,");
  const std::size_t end = amount.find_last_of("0123456789.,");
  if (begin == std::string::npos || end == std::string::npos)
    return tl::unexpected(CellFault{in_quotes(text), std::string(info(Field::price).accepted)});
  for (const std::string& beside : {trimmed(std::string_view(amount).substr(0, begin)),
                                    trimmed(std::string_view(amount).substr(end + 1))}) {
    if (beside.empty())
      continue;
    const auto currency = find_currency(beside);
    if (!currency)
      return tl::unexpected(CellFault{in_quotes(text), std::string(info(Field::price).accepted)});
    said.push_back(*currency);
  }
  for (const quantity::Currency& currency : said)
    if (currency != wanted)
      return tl::unexpected(
          CellFault{fmt::format("{} in {}", in_quotes(text), currency.text()),
                    fmt::format("a price in {}, the build's currency: nothing is converted", wanted.text())});
  const auto money =
      quantity::read_money(std::string_view(amount).substr(begin, end + 1 - begin), wanted, decimal);
  if (!money)
    return tl::unexpected(CellFault{in_quotes(text), money.error().accepted});
  return *money;
}

} // namespace bellmouth::stock
