// SPDX-License-Identifier: GPL-3.0-or-later
// The single sums of `calc`: a table of what each takes and gives. To add a sum, add a row to one of the
// tables.
#pragma once

#include "figures.hpp"
#include "refusal.hpp"

#include <bellmouth/quantity.hpp>

#include <limits>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace bellmouth::cli {

/// \name What an argument takes
///@{
/// A quantity typed as text with its unit; a bare number is in `unit`. The range is in SI.
struct Quantity {
  quantity::Dimension dimension;
  std::string_view unit;
  double lowest;
  double highest = std::numeric_limits<double>::infinity();
  bool above_lowest = false; ///< the lowest value itself is not accepted
  quantity::Reference reference = quantity::Reference::absolute;
};
/// A flow by mass or by volume, more than none.
struct Flow {};
/// A whole number of at least `lowest`.
struct Count {
  int lowest, highest;
};
/// One of these words.
struct Choice {
  std::span<const std::string_view> words;
};
/// Free text.
struct Word {};
/// There or not.
struct Switch {};
using Kind = std::variant<Quantity, Flow, Count, Choice, Word, Switch>;
///@}

/// How an argument stands when it is not given.
enum class Need { required, optional };

struct Argument {
  std::string_view flag; ///< with its dashes
  std::string_view help;
  Kind kind;
  Need need = Need::required;
  std::string_view preset = {}; ///< of an optional one: what is taken instead; empty: nothing
};

/// The arguments that were given, read and within their ranges.
class Given {
public:
  using Value = std::variant<double, quantity::Flow, std::size_t, std::string>;

  void set(std::string_view flag, Value value) { values_[flag] = std::move(value); }
  [[nodiscard]] bool has(std::string_view flag) const { return values_.contains(flag); }
  /// A quantity in SI or a count. Like the others: the argument must be there (an assertion).
  [[nodiscard]] double number(std::string_view flag) const { return as<double>(flag); }
  [[nodiscard]] const quantity::Flow& flow(std::string_view flag) const { return as<quantity::Flow>(flag); }
  [[nodiscard]] std::size_t choice(std::string_view flag) const { return as<std::size_t>(flag); }
  [[nodiscard]] const std::string& word(std::string_view flag) const { return as<std::string>(flag); }

private:
  std::map<std::string_view, Value> values_;

  template <class T> [[nodiscard]] const T& as(std::string_view flag) const {
    return std::get<T>(values_.at(flag));
  }
};

using Answer = tl::expected<Figures, Refusal>;

struct Sum {
  std::string_view name;
  std::string_view help;
  std::vector<Argument> arguments;
  Answer (*work)(const Given&);
};

/// \name The tables
///@{
[[nodiscard]] std::span<const Sum> air_sums();
[[nodiscard]] std::span<const Sum> loss_sums();
[[nodiscard]] std::span<const Sum> fitting_sums();
[[nodiscard]] std::span<const Sum> meter_sums();
[[nodiscard]] std::span<const Sum> machine_sums();
[[nodiscard]] std::span<const Sum> engine_sums();
[[nodiscard]] std::span<const Sum> heat_sums();
[[nodiscard]] std::span<const Sum> joint_sums();
///@}

/// Reads what was typed for the arguments of a sum, by flag. Presets stand in for what is missing.
[[nodiscard]] tl::expected<Given, Refusal>
read_arguments(const Sum& sum, const std::map<std::string_view, std::string>& typed);

/// What an argument takes, in a word, for the help text: "mm", "mass or volume flow",
/// "counterflow|parallel-flow".
[[nodiscard]] std::string type_name(const Kind& kind);

} // namespace bellmouth::cli
