// SPDX-License-Identifier: GPL-3.0-or-later
#include "sums.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace bellmouth::cli {

namespace {

using Read = tl::expected<Given::Value, Refusal>;

std::string range_text(const Quantity& kind) {
  const auto write = [&](double value) { return quantity::write(kind.dimension, value, kind.unit); };
  std::string text = (kind.above_lowest ? "more than " : "at least ") + write(kind.lowest);
  return std::isinf(kind.highest) ? text : text + ", at most " + write(kind.highest);
}

quantity::Reading reading(std::string_view unit,
                          quantity::Reference reference = quantity::Reference::absolute) {
  quantity::Reading reading;
  reading.default_unit = unit;
  reading.reference = reference;
  return reading;
}

/// Reads one argument of each kind.
class Reader {
public:
  Reader(std::string_view flag, std::string_view typed) : flag_(flag), typed_(typed) {}

  Read operator()(const Quantity& kind) const {
    const auto value = quantity::read(kind.dimension, typed_, reading(kind.unit, kind.reference));
    if (!value)
      return misfit(flag_, value.error());
    const bool high_enough = kind.above_lowest ? *value > kind.lowest : *value >= kind.lowest;
    if (!high_enough || *value > kind.highest)
      return misfit(flag_, typed_, range_text(kind));
    return *value;
  }
  Read operator()(const Flow&) const {
    const auto flow = quantity::read_flow(typed_, reading("kg/s"));
    if (!flow)
      return misfit(flag_, flow.error());
    if (!(flow->value > 0))
      return misfit(flag_, typed_, "a flow of more than nothing");
    return *flow;
  }
  Read operator()(const Count& kind) const {
    int value = 0;
    const char* end = typed_.data() + typed_.size();
    const auto [stop, error] = std::from_chars(typed_.data(), end, value);
    if (error != std::errc{} || stop != end || value < kind.lowest || value > kind.highest)
      return misfit(flag_, typed_, fmt::format("a whole number from {} to {}", kind.lowest, kind.highest));
    return static_cast<double>(value);
  }
  Read operator()(const Choice& kind) const {
    const auto found = std::ranges::find(kind.words, typed_);
    if (found == kind.words.end())
      return misfit(flag_, typed_, fmt::format("{}", fmt::join(kind.words, ", ")));
    return static_cast<std::size_t>(found - kind.words.begin());
  }
  Read operator()(const Word&) const { return std::string(typed_); }
  Read operator()(const Switch&) const { return 1.0; }

private:
  std::string_view flag_, typed_;
};

/// The unit in plain letters, which the columns of a help text need.
std::string unit_name(const Quantity& kind) {
  if (kind.unit.empty())
    return "number";
  if (kind.dimension == quantity::Dimension::angle)
    return "deg";
  if (kind.dimension == quantity::Dimension::temperature)
    return "degC";
  const bool gauge =
      kind.dimension == quantity::Dimension::pressure && kind.reference == quantity::Reference::gauge;
  return std::string(kind.unit) + (gauge ? " gauge" : "");
}

struct TypeName {
  std::string operator()(const Quantity& kind) const { return unit_name(kind); }
  std::string operator()(const Flow&) const { return "kg/s or volume flow"; }
  std::string operator()(const Count& kind) const {
    return fmt::format("{} to {}", kind.lowest, kind.highest);
  }
  std::string operator()(const Choice& kind) const { return fmt::format("{}", fmt::join(kind.words, "|")); }
  std::string operator()(const Word&) const { return "text"; }
  std::string operator()(const Switch&) const { return ""; }
};

} // namespace

tl::expected<Given, Refusal> read_arguments(const Sum& sum,
                                            const std::map<std::string_view, std::string>& typed) {
  Given given;
  for (const Argument& argument : sum.arguments) {
    const auto found = typed.find(argument.flag);
    if (found == typed.end() && argument.preset.empty())
      continue;
    const std::string_view text = found == typed.end() ? argument.preset : std::string_view(found->second);
    auto value = std::visit(Reader(argument.flag, text), argument.kind);
    if (!value)
      return tl::unexpected(value.error());
    given.set(argument.flag, std::move(*value));
  }
  return given;
}

std::string type_name(const Kind& kind) {
  return std::visit(TypeName{}, kind);
}

} // namespace bellmouth::cli
