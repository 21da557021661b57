// SPDX-License-Identifier: GPL-3.0-or-later
#include "headings.hpp"

#include "cell_text.hpp"
#include "fields.hpp"

#include <algorithm>
#include <array>

namespace bellmouth::stock {

namespace {

/// Words of the trade for a field, as plain_words() leaves them, divided by '|'.
struct Words {
  Field field;
  std::string_view words;
};
constexpr std::array known{
    Words{Field::id,
          "id|item id|stock id|code|item code|article|article no|article number|part no|part number|"
          "item no|item number|ref|reference|order no|order number"},
    Words{Field::kind, "kind|type|category|part type|item type|kind of part|part"},
    Words{Field::name, "name|description|title|item|designation|text"},
    Words{Field::material, "material|mat|alloy"},
    Words{Field::outer_diameter, "outer diameter|outside diameter|od|o d|tube od|outer dia|outside dia|"
                                 "diameter outside|outer dia.|tube outer diameter|tube outside diameter"},
    Words{Field::bore,
          "bore|inside diameter|inner diameter|i d|hose id|hose bore|inside dia|inner dia|bore 1|"
          "first bore|nominal bore|tube id"},
    Words{Field::bore_out, "second bore|bore out|bore 2|other bore|outlet bore|second id|id 2|hose id 2|"
                           "second inside diameter|bore to"},
    Words{Field::wall, "wall|wall thickness|thickness|hose wall|tube wall"},
    Words{Field::angle, "angle|bend angle|degrees|deg|turn"},
    Words{Field::radius,
          "radius|centre line radius|center line radius|centreline radius|centerline radius|clr|"
          "bend radius"},
    Words{Field::legs, "legs|leg|both legs|leg length|leg lengths|each leg"},
    Words{Field::leg_in, "leg in|first leg|leg 1|leg a|inlet leg|short leg"},
    Words{Field::leg_out, "leg out|second leg|leg 2|leg b|outlet leg|long leg"},
    Words{Field::length, "length|len|overall length|total length|cut length"},
    Words{Field::plies, "plies|ply|ply count|number of plies|no of plies"},
    Words{Field::thread, "thread|thread size"},
    Words{Field::clamp_range, "clamp range|clamping range|range|size range|diameter range"},
    Words{Field::clamp_min, "clamp min|clamp from|range from|range min|min diameter|minimum diameter|"
                            "smallest diameter|clamping from|least diameter"},
    Words{Field::clamp_max, "clamp max|clamp to|range to|range max|max diameter|maximum diameter|"
                            "greatest diameter|clamping to|largest diameter"},
    Words{Field::clamp_type, "clamp type|type of clamp|clamp kind|kind of clamp"},
    Words{Field::band_width, "band width|bandwidth|band"},
    Words{Field::torque, "torque|tightening torque"},
    Words{Field::max_temperature,
          "max temperature|greatest temperature|maximum temperature|temperature|max temp|temp|"
          "temperature rating|rated temperature|temp rating|service temperature|temperature limit"},
    Words{Field::max_gauge,
          "max gauge|greatest pressure|max pressure|maximum pressure|pressure|working pressure|"
          "rated pressure|pressure rating|max working pressure|maximum working pressure"},
    Words{Field::oil_proof,
          "oil proof|oilproof|oil resistant|oil and fuel proof|fuel proof|lined|lining|liner"},
    Words{Field::wire, "wire|wire reinforced|wired|wire reinforcement|wire supported"},
    Words{Field::price,
          "price|cost|unit price|net price|list price|price each|price per piece|price per pack|"
          "price per metre|price per meter|price per m|cost each|cost per metre"},
    Words{Field::currency, "currency|ccy|currency code"},
    Words{Field::per, "per|price per|sold by|sold per|price unit|unit of sale|sales unit"},
    Words{Field::pack,
          "pack|pack size|pack quantity|pack qty|per pack|pieces per pack|pieces in pack|packing"},
    Words{Field::supplier, "supplier|vendor|seller|shop|supplier label|bought from"},
    Words{Field::owned, "owned|owned quantity|quantity owned|qty owned|on hand|in hand|have|already have"},
    Words{Field::paid, "paid|amount paid|price paid"},
};

/// The field of a heading without its unit.
std::optional<Field> field_of(std::string_view text) {
  const std::string wanted = plain_words(text);
  if (wanted.empty())
    return std::nullopt;
  for (const Words& each : known)
    for (std::size_t at = 0; at < each.words.size();) {
      const std::size_t end = std::min(each.words.find('|', at), each.words.size());
      if (each.words.substr(at, end - at) == wanted)
        return each.field;
      at = end + 1;
    }
  return std::nullopt;
}

bool says_per_metre(std::string_view text) {
  const std::string words = plain_words(text);
  return std::ranges::any_of(std::array{" per metre", " per meter", " per m"},
                             [&](std::string_view end) { return words.ends_with(end); });
}

/// A heading cut into the field's words and what may be its unit.
std::optional<Heading> read_cut(std::string_view words, std::string_view tail) {
  std::optional<Field> field = field_of(words);
  if (!field)
    return std::nullopt;
  const std::string unit = trimmed(tail);
  if (unit.empty())
    return std::nullopt;
  // An id that has a length is an inside diameter.
  if (field == Field::id && quantity::find_unit(quantity::Dimension::length, unit))
    field = Field::bore;
  const FieldInfo& known_field = info(*field);
  if (known_field.dimension) {
    const auto found = quantity::find_unit(*known_field.dimension, unit);
    return found ? std::optional(Heading{field, std::string(found->symbol), {}, false}) : std::nullopt;
  }
  if (!known_field.is_money)
    return std::nullopt;
  // "EUR", "EUR/m", "EUR per metre".
  const std::size_t end = std::min({unit.find('/'), unit.find(' '), unit.size()});
  const auto currency = find_currency(std::string_view(unit).substr(0, end));
  if (!currency)
    return std::nullopt;
  const std::string rest = plain_words(std::string_view(unit).substr(end));
  const bool per_metre = rest == "m" || rest == "metre" || rest == "meter" || says_per_metre(" " + rest);
  if (!rest.empty() && !per_metre && rest != "each" && rest != "per piece" && rest != "piece")
    return std::nullopt;
  return Heading{field, {}, currency, per_metre || says_per_metre(words)};
}

/// The words before a bracket at the end, and what stands in it.
std::optional<std::pair<std::string_view, std::string_view>> bracket(std::string_view text) {
  if (text.empty() || (text.back() != ']' && text.back() != ')'))
    return std::nullopt;
  const std::size_t open = text.rfind(text.back() == ']' ? '[' : '(');
  if (open == std::string_view::npos)
    return std::nullopt;
  return std::pair(text.substr(0, open), text.substr(open + 1, text.size() - open - 2));
}

Heading named(Field field, std::string_view text) {
  return {field, {}, {}, field == Field::price && says_per_metre(text)};
}

/// "price" as the heading of a column, but degrees where there is no other unit for an angle.
Heading with_usual_unit(Heading heading) {
  if (heading.field && heading.unit.empty() && info(*heading.field).dimension == quantity::Dimension::angle)
    heading.unit = info(*heading.field).unit;
  return heading;
}

Heading read_words(std::string_view text) {
  if (const auto cut = bracket(text))
    if (const auto heading = read_cut(cut->first, cut->second))
      return *heading;
  if (text.ends_with('"'))
    if (const auto heading = read_cut(text.substr(0, text.size() - 1), "in"))
      return *heading;
  if (const auto field = field_of(text))
    return named(*field, text);
  // The unit behind the words: "od in", "wall_mm", "price, EUR".
  for (std::size_t at = text.size(); at-- > 1;)
    if (text[at] == ' ' || text[at] == '_' || text[at] == ',')
      if (const auto heading = read_cut(text.substr(0, at), text.substr(at + 1)))
        return *heading;
  // Anything else in brackets: "price (net)".
  if (const auto cut = bracket(text))
    if (const auto field = field_of(cut->first))
      return named(*field, cut->first);
  return {};
}

} // namespace

std::optional<quantity::Currency> find_currency(std::string_view text) {
  if (text == "€")
    text = "EUR";
  else if (text == "£")
    text = "GBP";
  std::string code(text);
  std::ranges::transform(code, code.begin(),
                         [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
  const auto found = quantity::read_currency(code);
  return found ? std::optional(*found) : std::nullopt;
}

Heading read_heading(std::string_view text) {
  const std::string clean = trimmed(text);
  return with_usual_unit(read_words(clean));
}

} // namespace bellmouth::stock
