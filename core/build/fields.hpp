// SPDX-License-Identifier: GPL-3.0-or-later
// What a single key of a file may hold. Each kind of field says how a value is written, read, checked and
// stated in a schema; reading and checking give what is accepted when a value is not.
#pragma once

#include <bellmouth/build/document.hpp>
#include <bellmouth/build/json.hpp>

#include <algorithm>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace bellmouth::build {

/// Nothing, or what is accepted instead.
using Refusal = std::optional<std::string>;

/// How the number in a file relates to the SI value inside.
enum class Scale { as_is, millimetres, degrees, per_minute };
/// The number that a file holds for an SI value, rounded to the digits that files hold.
[[nodiscard]] double to_file(Scale scale, double value);
[[nodiscard]] double from_file(Scale scale, double number);

/// A number; bounds as a file has them.
struct NumberField {
  Scale scale = Scale::as_is;
  double low, high;
  bool low_open = false, high_open = false; ///< the bound itself is out
  std::string_view unit = {};

  [[nodiscard]] std::string words() const;
  [[nodiscard]] Json write(double value) const;
  [[nodiscard]] Refusal read(const Json& json, double& value) const;
  [[nodiscard]] Refusal check(double value) const;
  [[nodiscard]] Json schema() const;

private:
  [[nodiscard]] bool holds(double number) const;
};

/// So many numbers in an array.
template <std::size_t Count> struct NumbersField {
  using Numbers = std::array<double, Count>;
  NumberField component;

  [[nodiscard]] std::string words() const;
  [[nodiscard]] Json write(const Numbers& value) const;
  [[nodiscard]] Refusal read(const Json& json, Numbers& value) const;
  [[nodiscard]] Refusal check(const Numbers& value) const;
  [[nodiscard]] Json schema() const;
};
extern template struct NumbersField<2>;
extern template struct NumbersField<3>;
using PairField = NumbersField<2>;
using VectorField = NumbersField<3>;

/// Three vectors in an array.
struct AxesField {
  VectorField axis;

  [[nodiscard]] Json write(const std::array<Vector, 3>& value) const;
  [[nodiscard]] Refusal read(const Json& json, std::array<Vector, 3>& value) const;
  [[nodiscard]] Refusal check(const std::array<Vector, 3>& value) const;
  [[nodiscard]] Json schema() const;
};

/// A whole number from `low` in steps to `high`.
struct IntegerField {
  int low, high, step = 1;

  [[nodiscard]] std::string words() const;
  [[nodiscard]] Json write(int value) const;
  [[nodiscard]] Refusal read(const Json& json, int& value) const;
  [[nodiscard]] Refusal check(int value) const;
  [[nodiscard]] Json schema() const;
};

struct FlagField {
  [[nodiscard]] Json write(bool value) const { return Json::boolean(value); }
  [[nodiscard]] Refusal read(const Json& json, bool& value) const;
  [[nodiscard]] Refusal check(bool) const { return std::nullopt; }
  [[nodiscard]] Json schema() const;
};

/// Text in UTF-8 without control characters; of several lines where that is allowed.
struct TextField {
  std::size_t fewest, most; ///< characters
  bool lines = false;

  [[nodiscard]] std::string words() const;
  [[nodiscard]] Json write(const std::string& value) const { return Json::string(value); }
  [[nodiscard]] Refusal read(const Json& json, std::string& value) const;
  [[nodiscard]] Refusal check(const std::string& value) const;
  [[nodiscard]] Json schema() const;

  template <class Tag> [[nodiscard]] Json write(const Id<Tag>& id) const { return write(id.text); }
  template <class Tag> [[nodiscard]] Refusal read(const Json& json, Id<Tag>& id) const {
    return read(json, id.text);
  }
  template <class Tag> [[nodiscard]] Refusal check(const Id<Tag>& id) const { return check(id.text); }
};

/// Names in an array, each once; at least one where the key is there at all.
struct NamesField {
  TextField name;
  std::size_t most;

  [[nodiscard]] std::string words() const;
  template <class Tag> [[nodiscard]] Json write(const std::vector<Id<Tag>>& ids) const {
    std::vector<Json> items;
    for (const Id<Tag>& id : ids)
      items.push_back(name.write(id));
    return Json::array(std::move(items));
  }
  template <class Tag> [[nodiscard]] Refusal read(const Json& json, std::vector<Id<Tag>>& ids) const {
    if (json.kind != Json::Kind::array)
      return words();
    for (const Json& item : json.items)
      if (name.read(item, ids.emplace_back()))
        return words();
    return json.items.empty() ? Refusal(words()) : check(ids);
  }
  template <class Tag> [[nodiscard]] Refusal check(const std::vector<Id<Tag>>& ids) const {
    bool good = ids.size() <= most;
    for (std::size_t i = 0; good && i < ids.size(); ++i)
      good = !name.check(ids[i]) && std::find(ids.begin(), ids.begin() + static_cast<std::ptrdiff_t>(i),
                                              ids[i]) == ids.begin() + static_cast<std::ptrdiff_t>(i);
    return good ? std::nullopt : Refusal(words());
  }
  [[nodiscard]] Json schema() const;
};

/// A word out of a list.
struct WordField {
  std::span<const std::string_view> words;

  [[nodiscard]] Json write(std::size_t index) const { return Json::string(words[index]); }
  [[nodiscard]] Refusal read(const Json& json, std::size_t& index) const;
  [[nodiscard]] Json schema() const;
};

/// An enumerator by its word.
template <class Enum> struct ChoiceField {
  WordField words;

  [[nodiscard]] Json write(Enum value) const { return words.write(static_cast<std::size_t>(value)); }
  [[nodiscard]] Refusal read(const Json& json, Enum& value) const {
    std::size_t index = 0;
    Refusal refusal = words.read(json, index);
    value = static_cast<Enum>(index);
    return refusal;
  }
  [[nodiscard]] Refusal check(Enum) const { return std::nullopt; }
  [[nodiscard]] Json schema() const { return words.schema(); }
};

/// A currency by its code.
struct CurrencyField {
  [[nodiscard]] Json write(const quantity::Currency& value) const { return Json::string(value.text()); }
  [[nodiscard]] Refusal read(const Json& json, quantity::Currency& value) const;
  [[nodiscard]] Refusal check(const quantity::Currency& value) const;
  [[nodiscard]] Json schema() const;
};

/// An amount, not negative, of the currency that the file names once.
struct MoneyField {
  quantity::Currency currency;

  [[nodiscard]] std::string words() const;
  [[nodiscard]] Json write(const quantity::Money& value) const;
  [[nodiscard]] Refusal read(const Json& json, quantity::Money& value) const;
  [[nodiscard]] Refusal check(const quantity::Money& value) const;
  [[nodiscard]] Json schema() const;
};

/// "\"a\", \"b\" or \"c\"".
[[nodiscard]] std::string listed(std::span<const std::string_view> words);
/// A schema that asks for a type only.
[[nodiscard]] Json type_schema(std::string_view type);

} // namespace bellmouth::build
