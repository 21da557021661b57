// SPDX-License-Identifier: GPL-3.0-or-later
#include "phrase.hpp"

#include <bellmouth/bay/offset.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::bay {

namespace {

using build::Vector;
using detail::is;
using detail::Side;
using detail::Token;

double norm(const Vector& v) {
  return std::hypot(v[0], v[1], v[2]);
}
Vector added(const Vector& a, const Vector& b, double times) {
  return {a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]};
}

bool joins(const Token& token) {
  return token.parts || is(token, "and") || is(token, "then");
}
bool leads_to_port(const Token& token) {
  return is(token, "of") || is(token, "from") || is(token, "at");
}

/// Reads a phrase of lengths (or angles), sides and what they count from.
class PhraseReader {
public:
  struct Step {
    double size;
    Side side;
    std::size_t at; ///< byte at which it begins
  };
  /// What the steps count from: its place, and its direction if it is a port.
  struct Origin {
    Vector position_m{};
    const build::Port* port = nullptr;
  };

  PhraseReader(const build::Build& build, std::string_view text, const Wording& wording)
      : build_(build), text_(text), wording_(wording), tokens_(detail::tokens_of(text, wording.decimal)) {}

  [[nodiscard]] const std::vector<Token>& tokens() const { return tokens_; }
  [[nodiscard]] bool done() const { return at_ == tokens_.size(); }
  [[nodiscard]] const Token& token() const { return tokens_[at_]; }
  void skip_joins() {
    while (!done() && joins(token()))
      ++at_;
  }
  void next() { ++at_; }
  [[nodiscard]] std::size_t byte() const { return done() ? text_.size() : token().begin; }
  [[nodiscard]] std::string rest() const {
    return done() ? std::string("nothing more") : detail::quoted(text_.substr(token().begin));
  }
  [[nodiscard]] tl::unexpected<Error> complaint(std::string found, std::string accepted) const {
    return detail::complaint(text_, byte(), std::move(found), std::move(accepted));
  }
  [[nodiscard]] bool has_side() const {
    for (std::size_t i = 0; i < tokens_.size(); ++i)
      if (detail::side_at(tokens_, i))
        return true;
    return false;
  }

  /// "120 mm below": the side stands behind the next quantity.
  Result<Step> step(quantity::Dimension dimension, std::string_view unit) {
    const std::size_t first = at_;
    std::size_t side_at = first;
    std::optional<Side> side;
    for (; side_at < tokens_.size() && !tokens_[side_at].parts; ++side_at)
      if ((side = detail::side_at(tokens_, side_at)))
        break;
    const std::string size = dimension == quantity::Dimension::length ? "a length" : "an angle";
    if (!side)
      return complaint(rest(), fmt::format("{} and a side ({})", size, detail::side_words));
    std::size_t end = side_at;
    while (end > first &&
           (is(tokens_[end - 1], "to") || is(tokens_[end - 1], "the") || is(tokens_[end - 1], "further")))
      --end;
    if (end == first)
      return complaint(detail::quoted(tokens_[side_at].text) + " without " + size,
                       fmt::format("{} before the side", size));
    const std::size_t begin = tokens_[first].begin;
    const auto value = quantity::read(dimension, text_.substr(begin, tokens_[end - 1].end() - begin),
                                      {.default_unit = unit, .decimal = wording_.decimal, .ambient_Pa = {}});
    if (!value)
      return detail::shifted(text_, begin, value.error());
    at_ = side_at + side->words;
    return Step{*value, *side, begin};
  }

  /// Whether a port stands here, behind a side.
  [[nodiscard]] bool port_follows(const Side& side) const {
    if (done() || joins(token()))
      return false;
    return leads_to_port(token()) || (side.takes_port && !detail::starts_number(token()));
  }

  /// The words up to the next sign, or to an "and" before a number.
  std::string_view name() {
    while (!done() && (leads_to_port(token()) || is(token(), "the") || is(token(), "to")))
      next();
    const std::size_t begin = byte();
    std::size_t end = begin;
    while (!done() && !token().parts) {
      const bool more = at_ + 1 < tokens_.size() && detail::starts_number(tokens_[at_ + 1]);
      if (joins(token()) && more)
        break;
      end = token().end();
      next();
    }
    return text_.substr(begin, end - begin);
  }

  Result<Origin> origin() {
    const std::string_view words = name();
    const auto begin = static_cast<std::size_t>(words.data() - text_.data());
    const std::string said = detail::plain(words);
    if (said == "origin" || said == "origin of the bay")
      return Origin{};
    if (said == "here") {
      if (wording_.here)
        return Origin{*wording_.here, nullptr};
      return detail::complaint(text_, begin, "\"here\", which has no place yet", "a port, or the origin");
    }
    const auto port = port_named(build_, words);
    if (!port)
      return detail::shifted(text_, begin, port.error());
    if (!(*port)->pose)
      return detail::complaint(text_, begin, detail::quoted(words) + ", which has no place yet",
                               placed_ports());
    return Origin{(*port)->pose->position_m, *port};
  }

  [[nodiscard]] std::string placed_ports() const {
    std::string list;
    for (const build::Port& port : build_.ports)
      if (port.pose)
        list += (list.empty() ? "" : ", ") + detail::plain(port.id.text);
    return list.empty() ? "the origin, as no port has a place yet"
                        : "the origin or a port that has a place: " + list;
  }

private:
  const build::Build& build_;
  std::string_view text_;
  const Wording& wording_;
  std::vector<Token> tokens_;
  std::size_t at_ = 0;
};

bool is_port(const build::Build& build, std::string_view text) {
  return port_named(build, text).has_value();
}

Result<Vector> offset_of(const build::Build& build, std::string_view text, const Wording& wording) {
  PhraseReader reader(build, text, wording);
  std::vector<PhraseReader::Step> steps;
  std::optional<PhraseReader::Origin> origin;
  const auto take_origin = [&]() -> std::optional<Error> {
    if (origin)
      return Error(reader.complaint(reader.rest(), "one port to measure from, not two").value());
    auto found = reader.origin();
    if (!found)
      return found.error();
    origin = *found;
    return std::nullopt;
  };
  for (reader.skip_joins(); !reader.done(); reader.skip_joins()) {
    if (leads_to_port(reader.token()) || (steps.empty() && is_port(build, text))) {
      if (const auto error = take_origin())
        return fail(*error);
      continue;
    }
    const auto step = reader.step(quantity::Dimension::length, wording.length_unit);
    if (!step)
      return fail(step.error());
    steps.push_back(*step);
    if (reader.port_follows(step->side))
      if (const auto error = take_origin())
        return fail(*error);
  }
  if (!origin && wording.here)
    origin = PhraseReader::Origin{*wording.here, nullptr};
  if (!origin)
    return reader.complaint("no port to measure from", "\"of\" and " + reader.placed_ports());
  Vector place = origin->position_m;
  for (const auto& [length_m, side, at] : steps) {
    if (side.out && origin->port == nullptr)
      return detail::complaint(text, at, "\"out\" without a port",
                               "\"out of\" and a port, whose direction it is");
    place = added(place, side.out ? origin->port->pose->direction : side.direction(), length_m);
  }
  return place;
}

/// One turn after the other, each towards its side.
Result<Vector> turned_from(std::string_view text, Vector direction,
                           const std::vector<PhraseReader::Step>& steps) {
  constexpr double parallel = 1e-9;
  for (const auto& [angle_rad, side, at] : steps) {
    const Vector to = side.direction();
    const double along = to[0] * direction[0] + to[1] * direction[1] + to[2] * direction[2];
    const Vector square = added(to, direction, -along);
    const double length = norm(square);
    if (length < parallel)
      return detail::complaint(text, at, "a turn towards where it points already, or away from it",
                               "a turn to a side of it");
    const double cosine = std::cos(angle_rad), sine = std::sin(angle_rad);
    for (std::size_t i = 0; i < 3; ++i)
      direction[i] = cosine * direction[i] + sine * square[i] / length;
  }
  return direction;
}

/// Of any length but zero.
Result<Vector> unit_of(std::string_view text, const Vector& vector) {
  const double length = norm(vector);
  if (!(length > 1e-9) || !std::isfinite(length))
    return detail::complaint(text, 0, detail::quoted(text) + ", which points nowhere",
                             "a direction, such as \"forward\", \"up and back\" or \"1 0 0\"");
  return Vector{vector[0] / length, vector[1] / length, vector[2] / length};
}

Result<Vector> numbers_of(std::string_view text, const Wording& wording) {
  std::vector<double> numbers;
  const std::string accepted =
      "three numbers, forward, left and up, such as 1 0 0, or words such as \"up and back\"";
  for (const Token& token : detail::tokens_of(text, wording.decimal)) {
    if (token.parts)
      continue;
    const auto number = quantity::read(quantity::Dimension::ratio, token.text,
                                       {.default_unit = "", .decimal = wording.decimal, .ambient_Pa = {}});
    if (!number || token.text.find('%') != std::string_view::npos)
      return detail::complaint(text, token.begin, detail::quoted(token.text), accepted);
    numbers.push_back(*number);
  }
  if (numbers.size() != 3)
    return detail::complaint(text, 0, fmt::format("{} numbers", numbers.size()), accepted);
  return unit_of(text, {numbers[0], numbers[1], numbers[2]});
}

/// "up and back" from the reader's place to the end.
Result<Vector> sides_of(PhraseReader& reader, std::string_view text) {
  Vector sum{};
  std::vector<Side> seen;
  for (reader.skip_joins(); !reader.done(); reader.skip_joins()) {
    const auto side =
        detail::side_at(reader.tokens(), static_cast<std::size_t>(&reader.token() - reader.tokens().data()));
    if (!side || side->out)
      return reader.complaint(
          detail::quoted(reader.token().text),
          fmt::format("a direction: sides ({}), turns from them such as \"30 deg up from "
                      "forward\", three numbers such as 1 0 0, or \"like\" or \"against\" a port",
                      "forward, back, left, right, up, down"));
    for (std::size_t i = 0; i < side->words; ++i)
      reader.next();
    sum = added(sum, side->direction(), 1);
  }
  return unit_of(text, sum);
}

} // namespace

Result<Vector> place_of(const build::Build& build, std::string_view text, const Wording& wording) {
  const std::vector<Token> tokens = detail::tokens_of(text, wording.decimal);
  if (tokens.empty())
    return detail::complaint(
        text, 0, "nothing",
        "a place: three lengths such as 300 -150 350, or words such as \"120 mm below and "
        "40 mm left of\" a port");
  const PhraseReader reader(build, text, wording);
  const bool spoken = reader.has_side() || std::ranges::any_of(tokens, leads_to_port) || is_port(build, text);
  if (spoken)
    return offset_of(build, text, wording);
  if (!detail::starts_number(tokens.front()))
    return detail::complaint(
        text, tokens.front().begin, detail::quoted(text.substr(tokens.front().begin)),
        "three lengths such as 300 -150 350, words such as \"120 mm below and 40 mm left of\" "
        "a port, or " +
            reader.placed_ports());
  return lengths_of(text, 3, wording).map([](const std::vector<double>& lengths) {
    return Vector{lengths[0], lengths[1], lengths[2]};
  });
}

Result<Vector> place_with_coordinate(const build::Build& build, std::string_view text, std::size_t axis,
                                     const Wording& wording) {
  assert(axis < 3);
  const auto length =
      quantity::read(quantity::Dimension::length, text,
                     {.default_unit = wording.length_unit, .decimal = wording.decimal, .ambient_Pa = {}});
  if (length) {
    if (!wording.here)
      return detail::complaint(
          text, 0, "one length, and the other two are not known",
          "three lengths such as 300 -150 350, or words such as \"120 mm below and 40 mm left "
          "of\" a port");
    Vector place = *wording.here;
    place[axis] = *length;
    return place;
  }
  const auto tokens = detail::tokens_of(text, wording.decimal);
  const auto numbers = std::ranges::count_if(tokens, detail::starts_number);
  const PhraseReader reader(build, text, wording);
  const bool place =
      reader.has_side() || numbers > 1 || tokens.empty() || !detail::starts_number(tokens.front());
  return place && !tokens.empty() ? place_of(build, text, wording) : fail(length.error());
}

Result<Vector> direction_of(const build::Build& build, std::string_view text, const Wording& wording) {
  PhraseReader reader(build, text, wording);
  reader.skip_joins();
  if (reader.done())
    return reader.complaint("nothing", "a direction, such as \"forward\", \"up and back\" or \"1 0 0\"");
  const bool like = is(reader.token(), "like") || is(reader.token(), "as");
  if (like || is(reader.token(), "against") || is(reader.token(), "opposite")) {
    reader.next();
    auto origin = reader.origin();
    if (!origin)
      return fail(origin.error());
    if (origin->port == nullptr)
      return detail::complaint(text, 0, detail::quoted(text), "\"like\" or \"against\" a port");
    const Vector& direction = origin->port->pose->direction;
    return like ? direction : Vector{-direction[0], -direction[1], -direction[2]};
  }
  if (!detail::starts_number(reader.token()))
    return sides_of(reader, text);
  if (!reader.has_side())
    return numbers_of(text, wording);
  std::vector<PhraseReader::Step> turns;
  for (reader.skip_joins(); !reader.done() && !leads_to_port(reader.token()); reader.skip_joins()) {
    const auto turn = reader.step(quantity::Dimension::angle, "deg");
    if (!turn)
      return fail(turn.error());
    turns.push_back(*turn);
  }
  if (reader.done())
    return reader.complaint("no direction to turn from", "\"from\" and a side, such as \"from forward\"");
  reader.next();
  const auto base = sides_of(reader, text);
  return base ? turned_from(text, *base, turns) : base;
}

std::string direction_words(const Vector& direction, char decimal) {
  static constexpr std::array<std::array<std::string_view, 2>, 3> names{
      {{"forward", "back"}, {"left", "right"}, {"up", "down"}}};
  std::array<std::size_t, 3> order{0, 1, 2};
  std::ranges::stable_sort(order, std::greater(),
                           [&](std::size_t axis) { return std::abs(direction[axis]); });
  const auto name = [&](std::size_t axis) { return names[axis][direction[axis] < 0 ? 1 : 0]; };
  constexpr double nothing = 1e-7;
  const auto turn = [&](double angle_rad, std::size_t axis) {
    return fmt::format("{} {}", quantity::write(quantity::Dimension::angle, angle_rad, "deg", 9, decimal),
                       name(axis));
  };
  const auto [first, second, third] = order;
  const double a = std::atan2(std::abs(direction[second]), std::abs(direction[first]));
  const double b = std::asin(std::clamp(std::abs(direction[third]), 0.0, 1.0));
  std::string words = a > nothing ? turn(a, second) : std::string();
  if (b > nothing)
    words += (words.empty() ? "" : " and ") + turn(b, third);
  return words.empty() ? std::string(name(first)) : fmt::format("{} from {}", words, name(first));
}

} // namespace bellmouth::bay
