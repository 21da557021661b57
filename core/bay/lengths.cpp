// SPDX-License-Identifier: GPL-3.0-or-later
// Several lengths in a row, and a turn by its length at a distance.
#include "phrase.hpp"

#include <bellmouth/bay/offset.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>

namespace bellmouth::bay {

namespace {

using detail::Token;

/// The bytes of one length.
struct Part {
  std::size_t begin, end;
};

/// By the parting signs; where there are none, a part begins with each number that is not the fraction behind
/// a whole number.
std::vector<Part> parts_of(const std::vector<Token>& tokens) {
  std::vector<Part> parts;
  const bool parted = std::ranges::any_of(tokens, &Token::parts);
  bool open = false;
  const Token* before = nullptr;
  for (const Token& token : tokens) {
    if (token.parts) {
      if (!open)
        parts.push_back({token.begin, token.begin}); // nothing stands there
      open = false;
      before = nullptr;
      continue;
    }
    const bool fraction = token.text.find('/') != std::string_view::npos && before != nullptr &&
                          std::ranges::all_of(before->text, [](char c) { return c >= '0' && c <= '9'; });
    const bool begins = parted ? !open : parts.empty() || (detail::starts_number(token) && !fraction);
    if (begins)
      parts.push_back({token.begin, token.end()});
    else
      parts.back().end = token.end();
    open = true;
    before = &token;
  }
  if (parted && !open)
    parts.push_back({tokens.back().end(), tokens.back().end()});
  return parts;
}

/// Where the unit begins; the part's size where it has none.
std::size_t unit_in(std::string_view part) {
  for (std::size_t i = 0; i < part.size(); ++i) {
    const char c = part[i];
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '"' || c == '\'';
    const bool digits = i > 0 && i + 1 < part.size() && part[i - 1] >= '0' && part[i - 1] <= '9' &&
                        ((part[i + 1] >= '0' && part[i + 1] <= '9') || part[i + 1] == '-');
    if (letter && !((c == 'e' || c == 'E') && digits))
      return i;
  }
  return part.size();
}

} // namespace

Result<std::vector<double>> lengths_of(std::string_view text, std::size_t count, const Wording& wording) {
  const std::vector<Token> tokens = detail::tokens_of(text, wording.decimal);
  const std::string accepted =
      fmt::format("{} lengths, parted by spaces or semicolons, in {} unless a unit stands behind them", count,
                  wording.length_unit);
  const std::vector<Part> parts = parts_of(tokens);
  if (parts.size() != count)
    return detail::complaint(text, 0,
                             parts.empty()       ? "nothing"
                             : parts.size() == 1 ? "1 length"
                                                 : fmt::format("{} lengths", parts.size()),
                             accepted);
  const auto text_of = [&](const Part& part) { return text.substr(part.begin, part.end - part.begin); };
  const auto has_unit = [&](const Part& part) { return unit_in(text_of(part)) < part.end - part.begin; };
  const auto with_unit = static_cast<std::size_t>(std::ranges::count_if(parts, has_unit));
  std::string_view unit = wording.length_unit;
  if (with_unit == 1 && count > 1 && has_unit(parts.back())) {
    const std::string_view last = text_of(parts.back());
    if (const auto found = quantity::find_unit(quantity::Dimension::length, last.substr(unit_in(last))))
      unit = found->symbol;
  } else if (with_unit != 0 && with_unit != count) {
    const Part& bare = *std::ranges::find_if_not(parts, has_unit);
    return detail::complaint(
        text, bare.begin, detail::quoted(text_of(bare)) + " without a unit",
        "a unit behind each length, behind the last alone for all of them, or behind none");
  }
  std::vector<double> lengths;
  for (const Part& part : parts) {
    const auto length = quantity::read(quantity::Dimension::length, text_of(part),
                                       {.default_unit = unit, .decimal = wording.decimal, .ambient_Pa = {}});
    if (!length)
      return detail::shifted(text, part.begin, length.error());
    lengths.push_back(*length);
  }
  return lengths;
}

Result<double> turn_of(std::string_view text, const Wording& wording) {
  const std::vector<Token> tokens = detail::tokens_of(text, wording.decimal);
  const auto at = std::ranges::find_if(tokens, [](const Token& token) { return detail::is(token, "at"); });
  if (at == tokens.end())
    return quantity::read(quantity::Dimension::angle, text,
                          {.default_unit = "deg", .decimal = wording.decimal, .ambient_Pa = {}});
  const quantity::Reading reading{
      .default_unit = wording.length_unit, .decimal = wording.decimal, .ambient_Pa = {}};
  auto way = quantity::read(quantity::Dimension::length, text.substr(0, at->begin), reading);
  if (!way)
    return way;
  const auto arm = quantity::read(quantity::Dimension::length, text.substr(at->end()), reading);
  if (!arm)
    return detail::shifted(text, at->end(), arm.error());
  if (*arm <= 0)
    return detail::complaint(text, at->end(), detail::quoted(text.substr(at->end())),
                             "a distance from the axis above zero");
  return *way / *arm;
}

} // namespace bellmouth::bay
