// SPDX-License-Identifier: GPL-3.0-or-later
#include "ply_header.hpp"

#include "text.hpp"

#include <charconv>

namespace bellmouth::mesh::ply {

namespace {

struct TypeName {
  std::string_view name, other;
  Type type;
  std::size_t size;
};
constexpr std::array<TypeName, 8> types{{{"char", "int8", Type::int8, 1},
                                         {"uchar", "uint8", Type::uint8, 1},
                                         {"short", "int16", Type::int16, 2},
                                         {"ushort", "uint16", Type::uint16, 2},
                                         {"int", "int32", Type::int32, 4},
                                         {"uint", "uint32", Type::uint32, 4},
                                         {"float", "float32", Type::float32, 4},
                                         {"double", "float64", Type::float64, 8}}};

/// Reads the header line by line.
class HeaderReader {
public:
  explicit HeaderReader(const Source& source) : text_(source, 0) {}

  Header read() && {
    text_.skip_line(); // "ply"
    format();
    for (;;) {
      const std::string_view keyword = next_keyword();
      if (keyword == "end_header")
        break;
      if (keyword == "element")
        element();
      else if (keyword == "property")
        property();
      else
        text_.fault(keyword, "\"element\", \"property\", \"comment\" or \"end_header\"");
    }
    finish_line();
    header_.end = text_.at();
    return std::move(header_);
  }

private:
  Text text_;
  Header header_;

  std::string_view next_keyword() {
    for (;;) {
      const std::string_view keyword = text_.any("\"end_header\"");
      if (keyword != "comment" && keyword != "obj_info")
        return keyword;
      text_.skip_line();
    }
  }
  void finish_line() {
    if (!text_.at_line_end())
      text_.fault(text_.at(), "the end of the line");
    text_.skip_line();
  }
  void format() {
    const std::string_view keyword = next_keyword();
    if (keyword != "format")
      text_.fault(keyword, "\"format\"");
    const std::string_view name = text_.word();
    header_.is_text = name == "ascii";
    header_.order = name == "binary_big_endian" ? std::endian::big : std::endian::little;
    if (!header_.is_text && name != "binary_little_endian" && name != "binary_big_endian")
      text_.fault(name, "\"ascii\", \"binary_little_endian\" or \"binary_big_endian\"");
    if (const std::string_view version = text_.word(); version != "1.0")
      text_.fault(version, "version 1.0");
    finish_line();
  }
  void element() {
    Element element;
    element.name = text_.word();
    element.count_word = text_.word();
    const char* const end = element.count_word.data() + element.count_word.size();
    const auto [behind, failure] = std::from_chars(element.count_word.data(), end, element.count);
    if (failure != std::errc() || behind != end)
      text_.fault(element.count_word, "the number of elements");
    for (const Element& other : header_.elements)
      if (other.name == element.name)
        text_.fault(element.name, "each element once");
    header_.elements.push_back(std::move(element));
    finish_line();
  }
  Type type(std::string_view name) const {
    for (const TypeName& each : types)
      if (name == each.name || name == each.other)
        return each.type;
    text_.fault(
        name,
        "\"list\", \"char\", \"uchar\", \"short\", \"ushort\", \"int\", \"uint\", \"float\" or \"double\"");
  }
  void property() {
    if (header_.elements.empty())
      text_.fault(text_.at(), "an element ahead of its properties");
    Property property{};
    std::string_view word = text_.word();
    if (word == "list") {
      word = text_.word();
      property.count = type(word);
      if (is_real(*property.count))
        text_.fault(word, "a whole number for the length of a list");
      word = text_.word();
    }
    property.type = type(word);
    property.name = text_.word();
    if (property.name.empty())
      text_.fault(text_.at(), "the name of the property");
    header_.elements.back().properties.push_back(property);
    finish_line();
  }
};

} // namespace

std::size_t size_of(Type type) {
  return types[static_cast<std::size_t>(type)].size;
}

Header read_header(const Source& source) {
  return HeaderReader(source).read();
}

} // namespace bellmouth::mesh::ply
