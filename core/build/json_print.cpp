// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/build/json.hpp>

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>

namespace bellmouth::build {

namespace {

constexpr std::size_t line_width = 110;

void append_quoted(std::string& out, std::string_view text) {
  constexpr std::string_view hex = "0123456789abcdef";
  out += '"';
  for (const char c : text) {
    const auto code = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\')
      (out += '\\') += c;
    else if (c == '\n')
      out += "\\n";
    else if (c == '\t')
      out += "\\t";
    else if (code < 0x20)
      ((out += "\\u00") += hex[code >> 4U]) += hex[code & 15U];
    else
      out += c;
  }
  out += '"';
}

void append_key(std::string& out, const Json& member) {
  append_quoted(out, member.key);
  out += ": ";
}

void append_line(std::string& out, const Json& value) {
  switch (value.kind) {
  case Json::Kind::null:
    out += "null";
    return;
  case Json::Kind::boolean:
  case Json::Kind::number:
    out += value.text;
    return;
  case Json::Kind::text:
    append_quoted(out, value.text);
    return;
  case Json::Kind::array:
  case Json::Kind::object:
    break;
  }
  const bool object = value.kind == Json::Kind::object;
  out += object ? '{' : '[';
  for (const Json& item : value.items) {
    if (&item != value.items.data())
      out += ", ";
    if (object)
      append_key(out, item);
    append_line(out, item);
  }
  out += object ? '}' : ']';
}

void append(std::string& out, const Json& value, std::size_t indent) {
  const std::size_t line_start = out.rfind('\n') + 1; // npos + 1 is 0
  const std::size_t start = out.size();
  append_line(out, value);
  const bool fits = out.size() - line_start <= line_width;
  if (value.items.empty() || (fits && indent > 0))
    return;
  out.resize(start);
  const bool object = value.kind == Json::Kind::object;
  out += object ? "{\n" : "[\n";
  for (const Json& item : value.items) {
    out.append(indent + 2, ' ');
    if (object)
      append_key(out, item);
    append(out, item, indent + 2);
    out += &item == &value.items.back() ? "\n" : ",\n";
  }
  out.append(indent, ' ');
  out += object ? '}' : ']';
}

} // namespace

std::string number_text(double value) {
  if (!std::isfinite(value))
    return std::isnan(value) ? "not a number" : value > 0 ? "infinity" : "-infinity";
  value = round_to_file(value);
  if (value == 0)
    return "0";
  const double size = std::abs(value);
  const auto format = size >= 1e-5 && size < 1e15 ? std::chars_format::fixed : std::chars_format::scientific;
  std::array<char, 64> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, format);
  assert(end.ec == std::errc());
  return {buffer.data(), end.ptr};
}

double round_to_file(double value) {
  if (!std::isfinite(value))
    return value;
  std::array<char, 64> buffer{};
  const auto end =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::scientific, 14);
  assert(end.ec == std::errc());
  double rounded = value;
  // Near the largest double the rounded text may lie beyond it; then the value stays as it is.
  (void)std::from_chars(buffer.data(), end.ptr, rounded);
  return rounded;
}

std::string print(const Json& value) {
  std::string out;
  append(out, value, 0);
  out += '\n';
  return out;
}

std::string print_line(const Json& value) {
  std::string out;
  append_line(out, value);
  return out;
}

const Json* Json::member(std::string_view name) const {
  const auto found = std::ranges::find(items, name, &Json::key);
  return kind == Kind::object && found != items.end() ? &*found : nullptr;
}

Json& Json::add(std::string_view name, Json value) {
  value.key = name;
  return items.emplace_back(std::move(value));
}

Found follow(const Json& root, std::string_view path) {
  assert(path.starts_with('$'));
  path.remove_prefix(1);
  const Json* at = &root;
  while (!path.empty()) {
    const std::size_t end = std::min(path.find_first_of(".[", 1), path.size());
    const Json* next = nullptr;
    if (path.front() == '.') {
      next = at->member(path.substr(1, end - 1));
    } else {
      std::size_t index = 0;
      (void)std::from_chars(path.data() + 1, path.data() + end, index);
      if (at->kind == Json::Kind::array && index < at->items.size())
        next = &at->items[index];
    }
    if (!next)
      return {at, false};
    at = next;
    path.remove_prefix(end);
  }
  return {at, true};
}

} // namespace bellmouth::build
