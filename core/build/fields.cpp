// SPDX-License-Identifier: GPL-3.0-or-later
#include "fields.hpp"

#include <bellmouth/quantity/utf8.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>

namespace bellmouth::build {

namespace {

/// The number that stands there; nullopt when none does or it is beyond what a double holds.
std::optional<double> number_of(const Json& json) {
  if (json.kind != Json::Kind::number)
    return std::nullopt;
  double number = 0;
  const char* end = json.text.data() + json.text.size();
  const auto read = std::from_chars(json.text.data(), end, number);
  // Too small to be told from nothing is nothing; too large is refused.
  if (read.ec == std::errc::result_out_of_range && read.ptr == end)
    return json.text.find("e-") != std::string::npos || json.text.find("E-") != std::string::npos
               ? std::optional(0.0)
               : std::nullopt;
  return read.ec == std::errc() && read.ptr == end ? std::optional(number) : std::nullopt;
}

/// The number that a file holds for a value, with all its digits.
double scaled(Scale scale, double value) {
  switch (scale) {
  case Scale::as_is:
    break;
  case Scale::millimetres:
    return value * 1000.0;
  case Scale::degrees:
    // In long double, so that an angle in degrees comes back as it was written.
    return static_cast<double>(static_cast<long double>(value) * 180 / std::numbers::pi_v<long double>);
  case Scale::per_minute:
    return value * 60.0;
  }
  return value;
}

bool control(char c) {
  return static_cast<unsigned char>(c) < 0x20 || c == 0x7F;
}

} // namespace

double to_file(Scale scale, double value) {
  return round_to_file(scaled(scale, value));
}

double from_file(Scale scale, double number) {
  switch (scale) {
  case Scale::as_is:
    break;
  case Scale::millimetres:
    return number / 1000.0;
  case Scale::degrees:
    return static_cast<double>(static_cast<long double>(number) * std::numbers::pi_v<long double> / 180);
  case Scale::per_minute:
    return number / 60.0;
  }
  return number;
}

std::string NumberField::words() const {
  const auto with_unit = [&](double bound) {
    return fmt::format("{}{}{}", number_text(bound), unit.empty() ? "" : " ", unit);
  };
  return fmt::format("a number {} {} and {} {}", low_open ? "above" : "not below", with_unit(low),
                     high_open ? "below" : "not above", with_unit(high));
}

bool NumberField::holds(double number) const {
  return std::isfinite(number) && (low_open ? number > low : number >= low) &&
         (high_open ? number < high : number <= high);
}

Json NumberField::write(double value) const {
  return Json::number(number_text(to_file(scale, value)));
}

Refusal NumberField::read(const Json& json, double& value) const {
  const auto number = number_of(json);
  if (!number || !holds(*number))
    return words();
  value = from_file(scale, *number);
  return std::nullopt;
}

Refusal NumberField::check(double value) const {
  // Builds are checked after every edit; rounding to the digits of a file matters only near a bound.
  const double rough = scaled(scale, value);
  const double margin = 1e-9 * (high - low);
  if (rough > low + margin && rough < high - margin)
    return std::nullopt;
  return holds(to_file(scale, value)) ? std::nullopt : std::optional(words());
}

Json NumberField::schema() const {
  Json schema = type_schema("number");
  schema.add(low_open ? "exclusiveMinimum" : "minimum", Json::number(number_text(low)));
  schema.add(high_open ? "exclusiveMaximum" : "maximum", Json::number(number_text(high)));
  return schema;
}

namespace {
Json array_schema(Json element, std::size_t count) {
  Json schema = type_schema("array");
  schema.add("items", std::move(element));
  schema.add("minItems", Json::number(std::to_string(count)));
  schema.add("maxItems", Json::number(std::to_string(count)));
  return schema;
}
} // namespace

template <std::size_t Count> std::string NumbersField<Count>::words() const {
  return fmt::format("{}, each {}", Count == 3 ? "three numbers [x, y, z]" : "two numbers [right, down]",
                     component.words());
}

template <std::size_t Count> Json NumbersField<Count>::write(const Numbers& value) const {
  Json array = Json::array();
  for (const double each : value)
    array.items.push_back(component.write(each));
  return array;
}

template <std::size_t Count> Refusal NumbersField<Count>::read(const Json& json, Numbers& value) const {
  if (json.kind != Json::Kind::array || json.items.size() != value.size())
    return words();
  for (std::size_t i = 0; i < value.size(); ++i)
    if (component.read(json.items[i], value[i]))
      return words();
  return std::nullopt;
}

template <std::size_t Count> Refusal NumbersField<Count>::check(const Numbers& value) const {
  const bool holds =
      std::ranges::none_of(value, [&](double each) { return component.check(each).has_value(); });
  return holds ? std::nullopt : std::optional(words());
}

template <std::size_t Count> Json NumbersField<Count>::schema() const {
  return array_schema(component.schema(), Count);
}

template struct NumbersField<2>;
template struct NumbersField<3>;

Json AxesField::write(const std::array<Vector, 3>& value) const {
  Json array = Json::array();
  for (const Vector& each : value)
    array.items.push_back(axis.write(each));
  return array;
}

Refusal AxesField::read(const Json& json, std::array<Vector, 3>& value) const {
  const std::string words = "three axes, each [x, y, z]";
  if (json.kind != Json::Kind::array || json.items.size() != value.size())
    return words;
  for (std::size_t i = 0; i < value.size(); ++i)
    if (axis.read(json.items[i], value[i]))
      return words;
  return std::nullopt;
}

Refusal AxesField::check(const std::array<Vector, 3>& value) const {
  for (const Vector& each : value)
    if (auto refusal = axis.check(each))
      return refusal;
  return std::nullopt;
}

Json AxesField::schema() const {
  return array_schema(axis.schema(), 3);
}

std::string NamesField::words() const {
  return fmt::format("a list [...] of 1 to {} names, each once, each {}", most, name.words());
}

Json NamesField::schema() const {
  Json schema = type_schema("array");
  schema.add("items", name.schema());
  schema.add("minItems", Json::number("1"));
  schema.add("maxItems", Json::number(std::to_string(most)));
  schema.add("uniqueItems", Json::boolean(true));
  return schema;
}

std::string IntegerField::words() const {
  if (step == 1)
    return fmt::format("a whole number from {} to {}", low, high);
  std::string text;
  for (int value = low; value <= high; value += step)
    text += fmt::format("{}{}", value == low ? "" : " or ", value);
  return text;
}

Json IntegerField::write(int value) const {
  return Json::number(std::to_string(value));
}

Refusal IntegerField::read(const Json& json, int& value) const {
  const auto number = number_of(json);
  if (!number || !(*number >= low && *number <= high) || *number != std::floor(*number))
    return words();
  value = static_cast<int>(*number);
  return check(value);
}

Refusal IntegerField::check(int value) const {
  return value >= low && value <= high && (value - low) % step == 0 ? std::nullopt : std::optional(words());
}

Json IntegerField::schema() const {
  Json schema = type_schema("integer");
  if (step == 1) {
    schema.add("minimum", Json::number(std::to_string(low)));
    schema.add("maximum", Json::number(std::to_string(high)));
    return schema;
  }
  Json values = Json::array();
  for (int value = low; value <= high; value += step)
    values.items.push_back(write(value));
  schema.add("enum", std::move(values));
  return schema;
}

Refusal FlagField::read(const Json& json, bool& value) const {
  if (json.kind != Json::Kind::boolean)
    return "true or false";
  value = json.text == "true";
  return std::nullopt;
}

Json FlagField::schema() const {
  return type_schema("boolean");
}

std::string TextField::words() const {
  return fmt::format("text of {} to {} characters{}", fewest, most, lines ? "" : " in one line");
}

Refusal TextField::read(const Json& json, std::string& value) const {
  if (json.kind != Json::Kind::text)
    return words();
  value = json.text;
  return check(value);
}

Refusal TextField::check(const std::string& value) const {
  const auto count = quantity::count_characters(value);
  if (!count || *count < fewest || *count > most)
    return words();
  const bool plain =
      std::ranges::none_of(value, [&](char c) { return control(c) && !(lines && (c == '\n' || c == '\t')); });
  return plain ? std::nullopt : std::optional(words() + ", without control characters");
}

Json TextField::schema() const {
  Json schema = type_schema("string");
  if (fewest > 0)
    schema.add("minLength", Json::number(std::to_string(fewest)));
  schema.add("maxLength", Json::number(std::to_string(most)));
  schema.add("pattern", Json::string(lines ? R"(^[^\u0000-\u0008\u000B-\u001F\u007F]*$)"
                                           : R"(^[^\u0000-\u001F\u007F]*$)"));
  return schema;
}

Refusal WordField::read(const Json& json, std::size_t& index) const {
  const auto found = json.kind == Json::Kind::text ? std::ranges::find(words, json.text) : words.end();
  if (found == words.end())
    return listed(words);
  index = static_cast<std::size_t>(found - words.begin());
  return std::nullopt;
}

Json WordField::schema() const {
  Json schema = Json::object();
  Json& values = schema.add("enum", Json::array());
  for (const std::string_view word : words)
    values.items.push_back(Json::string(word));
  return schema;
}

Refusal CurrencyField::read(const Json& json, quantity::Currency& value) const {
  const auto read = json.kind == Json::Kind::text ? quantity::read_currency(json.text)
                                                  : Result<quantity::Currency>(fail(Error{}));
  if (!read || read->text() != json.text)
    return "the three capital letters of a currency by ISO 4217, such as \"EUR\"; \"XXX\" for none";
  value = *read;
  return std::nullopt;
}

Refusal CurrencyField::check(const quantity::Currency& value) const {
  quantity::Currency again;
  return read(write(value), again);
}

Json CurrencyField::schema() const {
  Json schema = type_schema("string");
  schema.add("pattern", Json::string("^[A-Z]{3}$"));
  return schema;
}

std::string MoneyField::words() const {
  return fmt::format("an amount of {} as text, such as \"{}\", not above {}", currency.text(),
                     write({1250, currency}).text, write({quantity::largest_minor, currency}).text);
}

Json MoneyField::write(const quantity::Money& value) const {
  const std::string text = quantity::write(value);
  return Json::string(std::string_view(text).substr(0, text.rfind(' ')));
}

Refusal MoneyField::read(const Json& json, quantity::Money& value) const {
  const auto plain = [](const std::string& text) {
    return !text.empty() &&
           std::ranges::all_of(text, [](char c) { return (c >= '0' && c <= '9') || c == '.'; });
  };
  if (json.kind != Json::Kind::text || !plain(json.text))
    return words();
  const auto read = quantity::read_money(json.text, currency);
  if (!read)
    return words();
  value = *read;
  return check(value);
}

Refusal MoneyField::check(const quantity::Money& value) const {
  const bool holds = value.minor >= 0 && value.minor <= quantity::largest_minor && value.currency == currency;
  return holds ? std::nullopt : std::optional(words());
}

Json MoneyField::schema() const {
  Json schema = type_schema("string");
  schema.add("pattern", Json::string(R"(^[0-9]+(\.[0-9]+)?$)"));
  return schema;
}

std::string listed(std::span<const std::string_view> words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i)
    text += fmt::format("{}\"{}\"", i == 0 ? "" : i + 1 == words.size() ? " or " : ", ", words[i]);
  return text;
}

Json type_schema(std::string_view type) {
  Json schema = Json::object();
  schema.add("type", Json::string(type));
  return schema;
}

} // namespace bellmouth::build
