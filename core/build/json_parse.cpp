// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/build/json.hpp>
#include <bellmouth/quantity/utf8.hpp>

#include <nlohmann/json.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <iterator>
#include <optional>

namespace bellmouth::build {

namespace {

/// Goes over the text and counts, for all copies of itself, how many bytes the parser has taken.
class CountingIterator {
public:
  using iterator_category = std::forward_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;

  CountingIterator(const char* at, std::size_t* taken) : at_(at), taken_(taken) {}
  reference operator*() const { return *at_; }
  CountingIterator& operator++() {
    ++at_;
    ++*taken_;
    return *this;
  }
  CountingIterator operator++(int) {
    const CountingIterator before = *this;
    ++*this;
    return before;
  }
  friend bool operator==(const CountingIterator& a, const CountingIterator& b) { return a.at_ == b.at_; }

private:
  const char* at_;
  std::size_t* taken_;
};

/// What the library says of a fault, after "expected", in words for people.
std::string expectation(std::string_view message) {
  constexpr std::string_view mark = "; expected ";
  if (const std::size_t at = message.rfind(mark); at != std::string_view::npos) {
    const std::string_view wanted = message.substr(at + mark.size());
    if (wanted == "string literal")
      return "a key in double quotes";
    if (wanted.starts_with("'[', '{'") || wanted.find("literal") != std::string_view::npos)
      return "a value: a number, text in double quotes, true, false, [...] or {...}";
    if (wanted == "end of input")
      return "nothing more: the JSON text ends before";
    return std::string(wanted);
  }
  const std::size_t reason = message.rfind(" - ");
  const std::size_t tail = message.find("; last read");
  if (reason == std::string_view::npos)
    return "JSON as in RFC 8259";
  return fmt::format("JSON as in RFC 8259 ({})", message.substr(reason + 3, tail - reason - 3));
}

std::string byte_words(std::string_view text) {
  return fmt::format("the byte {:#04x}", static_cast<unsigned char>(text.front()));
}

/// Builds the tree from the parser's events. The parser reads one byte too many behind numbers; otherwise
/// what it has taken ends where the token ends. A token begins at the first byte behind the one before that
/// is no blank, colon or comma.
class TreeBuilder {
public:
  TreeBuilder(const Source& source, const std::size_t& taken) : source_(source), taken_(taken) {
    if (source.text.starts_with("\xEF\xBB\xBF")) // a byte-order mark is allowed
      token_end_ = 3;
  }

  [[nodiscard]] Json take_root() { return std::move(root_); }
  [[nodiscard]] const std::optional<Error>& error() const { return error_; }

  bool null() { return leaf(Json::Kind::null, {}); }
  bool boolean(bool value) { return leaf(Json::Kind::boolean, value ? "true" : "false"); }
  bool number_integer(std::int64_t) { return number(); }
  bool number_unsigned(std::uint64_t) { return number(); }
  bool number_float(double, const std::string&) { return number(); }
  bool string(std::string& text) { return leaf(Json::Kind::text, std::move(text)); }
  bool binary(nlohmann::json::binary_t&) { return false; }

  bool start_object(std::size_t) { return open(Json::Kind::object); }
  bool start_array(std::size_t) { return open(Json::Kind::array); }
  bool end_object() { return keys_differ(*open_.back()) && close(); }
  bool end_array() { return close(); }

  bool key(std::string& name) {
    key_ = std::move(name);
    key_begin_ = next_token();
    token_end_ = taken_;
    return true;
  }

  bool parse_error(std::size_t position, const std::string&, const nlohmann::detail::exception& fault) {
    const std::size_t size = source_.text.size();
    const std::string_view message = fault.what();
    std::size_t at = std::min(position > 0 ? position - 1 : 0, size);
    std::string accepted = expectation(message);
    // A token of several bytes is quoted from its beginning; the library gives its end.
    if (message.find(" - unexpected ") != std::string_view::npos && at < size &&
        std::string_view("[]{}:,").find(source_.text[at]) == std::string_view::npos)
      at = next_token();
    if (message.find("number overflow") != std::string_view::npos) {
      at = std::min(next_token(), size);
      accepted = "a number that is not beyond 1e308";
    }
    const bool at_end = at >= size || message.find("unexpected end of input") != std::string_view::npos ||
                        message.find("missing closing quote") != std::string_view::npos;
    if (at_end)
      return fail_at(size, "the end of the text", std::move(accepted));
    const std::string_view rest = source_.text.substr(at);
    if (quantity::character_length(rest) == 0)
      return fail_at(at, byte_words(rest), "text in UTF-8");
    if (static_cast<unsigned char>(rest.front()) < 0x20)
      return fail_at(at, byte_words(rest), std::move(accepted));
    return fail_at(at, quantity::printable(rest.substr(0, rest.find_first_of("\r\n")), 20),
                   std::move(accepted));
  }

private:
  [[nodiscard]] std::size_t next_token() const {
    return std::min(source_.text.find_first_not_of(" \t\r\n:,", token_end_), source_.text.size());
  }

  /// The path of the innermost array or object that is still open, or of the key whose value is awaited in
  /// it.
  [[nodiscard]] std::string path() const {
    std::string text = "$";
    for (std::size_t i = 1; i < open_.size(); ++i) {
      const std::vector<Json>& siblings = open_[i - 1]->items;
      text += open_[i - 1]->kind == Json::Kind::object
                  ? fmt::format(".{}", quantity::printable(siblings.back().key, 40))
                  : fmt::format("[{}]", siblings.size() - 1);
    }
    if (!key_.empty())
      text += fmt::format(".{}", quantity::printable(key_, 40));
    return text;
  }

  bool fail_at(std::size_t offset, std::string found, std::string accepted) {
    if (!error_)
      error_ = source_.error(offset, path(), std::move(found), std::move(accepted));
    return false;
  }

  /// Puts a value where it belongs; nullptr when there are too many.
  Json* place(Json::Kind kind, std::string text, std::size_t begin, std::size_t end) {
    if (++values_ > max_json_values) {
      fail_at(begin, "one value more", fmt::format("at most {} values", max_json_values));
      return nullptr;
    }
    Json value{kind, std::move(text)};
    value.begin = begin;
    value.end = token_end_ = end;
    if (open_.empty()) {
      root_ = std::move(value);
      return &root_;
    }
    value.key = std::exchange(key_, {});
    value.key_begin = key_begin_;
    return &open_.back()->items.emplace_back(std::move(value));
  }

  bool leaf(Json::Kind kind, std::string text) {
    return place(kind, std::move(text), next_token(), taken_) != nullptr;
  }

  bool number() {
    const std::size_t begin = next_token();
    const std::size_t end =
        std::min(source_.text.find_first_not_of("+-.0123456789eE", begin), source_.text.size());
    return place(Json::Kind::number, std::string(source_.text.substr(begin, end - begin)), begin, end) !=
           nullptr;
  }

  bool open(Json::Kind kind) {
    Json* opened = place(kind, {}, next_token(), taken_);
    if (!opened)
      return false;
    open_.push_back(opened);
    if (open_.size() > max_json_depth)
      return fail_at(opened->begin, "one level more",
                     fmt::format("at most {} levels of [ ] and {{ }}", max_json_depth));
    return true;
  }

  bool close() {
    open_.back()->end = token_end_ = taken_;
    open_.pop_back();
    return true;
  }

  bool keys_differ(const Json& object) {
    std::vector<const Json*> members;
    for (const Json& item : object.items)
      members.push_back(&item);
    std::ranges::sort(members, [](const Json* a, const Json* b) {
      return std::pair(std::string_view(a->key), a->begin) < std::pair(std::string_view(b->key), b->begin);
    });
    const auto twice =
        std::ranges::adjacent_find(members, [](const Json* a, const Json* b) { return a->key == b->key; });
    if (twice == members.end())
      return true;
    key_ = (*twice)->key;
    const std::string name = quantity::printable((*twice)->key, 60);
    return fail_at((*(twice + 1))->key_begin, fmt::format("the key \"{}\" a second time", name),
                   "each key once");
  }

  const Source& source_;
  const std::size_t& taken_;
  Json root_;
  std::vector<Json*> open_; ///< stays valid: only the innermost grows
  std::string key_;
  std::size_t key_begin_ = 0, token_end_ = 0, values_ = 0;
  std::optional<Error> error_;
};

} // namespace

Error Source::error(std::size_t offset, std::string path, std::string found, std::string accepted) const {
  constexpr std::size_t widest = 160;
  offset = std::min(offset, text.size());
  const std::string_view before = text.substr(0, offset);
  const std::size_t line_begin = before.rfind('\n') + 1; // npos + 1 is 0
  const std::size_t line_end = std::min(text.find('\n', offset), text.size());
  const std::size_t column = offset - line_begin;
  // Of a very long line, the part around the place.
  const std::size_t from =
      line_end - line_begin > widest && column > widest / 2 ? offset - widest / 2 : line_begin;
  std::string_view line = text.substr(from, line_end - from);
  line.remove_prefix(std::min(line.find_first_not_of(" \t"), line.size()));
  if (line.ends_with('\r'))
    line.remove_suffix(1);
  Place place{file, static_cast<int>(std::ranges::count(before, '\n')) + 1, static_cast<int>(column) + 1,
              std::move(path)};
  return {std::move(place), std::move(found), std::move(accepted), quantity::printable(line, widest)};
}

std::string Source::excerpt(const Json& value) const {
  return quantity::printable(text.substr(value.begin, value.end - value.begin), 60);
}

Result<Json> parse(const Source& source) {
  if (source.text.size() > max_json_bytes)
    return fail(source.error(0, "$", fmt::format("{} bytes", source.text.size()),
                             fmt::format("at most {} bytes", max_json_bytes)));
  std::size_t taken = 0;
  TreeBuilder builder(source, taken);
  const char* begin = source.text.data();
  const bool whole = nlohmann::json::sax_parse(
      CountingIterator(begin, &taken), CountingIterator(begin + source.text.size(), &taken), &builder);
  if (!whole && !builder.error())
    return fail(source.error(taken, "$", "an unreadable text", "JSON as in RFC 8259"));
  if (builder.error())
    return fail(*builder.error());
  return builder.take_root();
}

} // namespace bellmouth::build
