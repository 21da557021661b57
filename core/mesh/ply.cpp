// SPDX-License-Identifier: GPL-3.0-or-later
// PLY, text and binary (Turk, The PLY Polygon File Format, 1994).
#include "ply_header.hpp"
#include "readers.hpp"
#include "text.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <charconv>

namespace bellmouth::mesh {

namespace {

using namespace ply;

/// Values from the text, a line for each element.
class TextValues {
public:
  TextValues(const Source& source, std::size_t begin) : source_(source), text_(source, begin) {}

  /// The least that an element takes: a digit and a blank for each property.
  [[nodiscard]] static std::size_t least_size(const Property&) { return 2; }
  [[nodiscard]] std::size_t at() const { return text_.at(); }
  void begin_element() {
    if (text_.at_end())
      text_.fault(text_.at(), "as many lines as the header announces");
  }
  void end_element() {
    if (!text_.at_line_end())
      text_.fault(text_.at(), "the end of the line: the header names no more properties");
    text_.skip_line();
  }
  double coordinate(Type) { return text_.coordinate(text_.word()); }
  std::int64_t whole(Type) {
    const std::string_view word = text_.word();
    std::int64_t value = 0;
    const auto [behind, failure] = std::from_chars(word.data(), word.data() + word.size(), value);
    if (failure != std::errc() || behind != word.data() + word.size())
      text_.fault(word, "a whole number");
    return value;
  }
  void skip(Type) {
    if (const std::string_view word = text_.word(); word.empty())
      text_.fault(text_.at(), "a value for each property that the header names");
  }
  [[noreturn]] void fault(const std::string& found, const std::string& accepted) const {
    source_.fault_in_text(text_.at(), found, accepted);
  }
  void end() {
    if (!text_.at_end())
      text_.fault(text_.at(), "the end of the file: the header announces no more");
  }

private:
  const Source& source_;
  Text text_;
};

/// Values from the bytes.
class BinaryValues {
public:
  BinaryValues(const Source& source, std::size_t begin, std::endian order)
      : source_(source), at_(begin), order_(order) {}

  [[nodiscard]] static std::size_t least_size(const Property& property) {
    return size_of(property.count.value_or(property.type));
  }
  [[nodiscard]] std::size_t at() const { return at_; }
  void begin_element() {}
  void end_element() {}
  double coordinate(Type type) {
    const std::size_t here = at_;
    return source_.checked(real(type), here);
  }
  std::int64_t whole(Type type) { return static_cast<std::int64_t>(real(type)); }
  void skip(Type type) { (void)next(size_of(type)); }
  [[noreturn]] void fault(const std::string& found, const std::string& accepted) const {
    source_.fault_at_byte(at_, found, accepted);
  }
  void end() {
    const std::string_view rest = source_.bytes().substr(at_);
    if (rest.find_first_not_of(" \t\r\n") != std::string_view::npos)
      fault(fmt::format("{} bytes more", rest.size()), "the end of the file: the header announces no more");
  }

private:
  const Source& source_;
  std::size_t at_;
  std::endian order_;

  const char* next(std::size_t size) {
    if (source_.bytes().size() - at_ < size)
      source_.fault_at_byte(source_.bytes().size(), "the end of the file", "as much as the header announces");
    at_ += size;
    return source_.bytes().data() + at_ - size;
  }
  template <class Number> double as() {
    return static_cast<double>(number_at<Number>(next(sizeof(Number)), order_));
  }
  /// Every whole number of at most 32 bits is a double.
  double real(Type type) {
    switch (type) {
    case Type::int8:
      return as<std::int8_t>();
    case Type::uint8:
      return as<std::uint8_t>();
    case Type::int16:
      return as<std::int16_t>();
    case Type::uint16:
      return as<std::uint16_t>();
    case Type::int32:
      return as<std::int32_t>();
    case Type::uint32:
      return as<std::uint32_t>();
    case Type::float32:
      return as<float>();
    case Type::float64:
      return as<double>();
    }
    return 0;
  }
};

/// Reads what the header announces.
template <class Values> class BodyReader {
public:
  BodyReader(const Source& source, const Header& header, Collector& collector, Values values)
      : source_(source), header_(header), collector_(collector), values_(std::move(values)) {}

  void read() && {
    for (const Element& element : header_.elements) {
      check_count(element);
      if (element.name == "tristrips" && element.count > 0)
        header_fault(element, "triangle strips", "faces");
      const bool is_point = element.name == "vertex", is_face = element.name == "face";
      std::array<std::size_t, 3> axes{};
      if (is_point) {
        for (std::size_t axis = 0; axis < 3; ++axis)
          axes[axis] = property(element, std::array{std::array{"x", "y", "z"}[axis], ""}, false);
        collector_.reserve_points(element.count);
      }
      const std::size_t list =
          is_face ? property(element, std::array{"vertex_indices", "vertex_index"}, true) : 0;
      for (std::size_t i = 0; i < element.count; ++i) {
        if (i % elements_between_reports == 0)
          source_.reached(values_.at());
        values_.begin_element();
        if (is_point)
          point(element, axes);
        else if (is_face)
          face(element, list);
        else
          skip(element);
        values_.end_element();
      }
    }
    values_.end();
  }

private:
  static constexpr std::size_t elements_between_reports = 1U << 15U;
  const Source& source_;
  const Header& header_;
  Collector& collector_;
  Values values_;
  std::vector<std::uint32_t> corners_;

  [[noreturn]] void header_fault(const Element& element, std::string found, std::string accepted) const {
    source_.fault_in_text(static_cast<std::size_t>(element.count_word.data() - source_.bytes().data()),
                          std::move(found), std::move(accepted));
  }
  void check_count(const Element& element) const {
    std::size_t least = 0;
    for (const Property& each : element.properties)
      least += Values::least_size(each);
    if (least == 0 && element.count > 0)
      header_fault(element, "an element without properties", "at least one property");
    // The last line of a text need not end.
    const std::size_t left = source_.bytes().size() - values_.at() + 1;
    if (element.count > 0 && element.count > left / least)
      header_fault(element, fmt::format("{} of {} announced", element.count, in_quotes(element.name)),
                   fmt::format("at most {}, for which the file has room", left / least));
  }
  /// Which of the element's properties has one of the names.
  [[nodiscard]] std::size_t property(const Element& element, std::array<const char*, 2> names,
                                     bool is_list) const {
    for (std::size_t i = 0; i < element.properties.size(); ++i) {
      const Property& each = element.properties[i];
      if ((each.name == names[0] || each.name == names[1]) && each.count.has_value() == is_list &&
          !(is_list && is_real(each.type)))
        return i;
    }
    header_fault(element, fmt::format("{} without \"{}\"", in_quotes(element.name), names[0]),
                 is_list ? "a list of whole numbers of that name" : "a number of that name");
  }
  void skip(const Property& property) {
    std::int64_t count = 1;
    if (property.count)
      count = length(property);
    for (std::int64_t i = 0; i < count; ++i)
      values_.skip(property.type);
  }
  void skip(const Element& element) {
    for (const Property& each : element.properties)
      skip(each);
  }
  std::int64_t length(const Property& property) {
    const std::int64_t count = values_.whole(*property.count);
    if (count < 0)
      values_.fault(fmt::format("a list of length {}", count), "a length of 0 or more");
    return count;
  }
  void point(const Element& element, const std::array<std::size_t, 3>& axes) {
    Point point{};
    for (std::size_t i = 0; i < element.properties.size(); ++i) {
      const auto axis = std::ranges::find(axes, i);
      if (axis == axes.end())
        skip(element.properties[i]);
      else
        point[static_cast<std::size_t>(axis - axes.begin())] = values_.coordinate(element.properties[i].type);
    }
    collector_.add_point(point);
  }
  void face(const Element& element, std::size_t list) {
    for (std::size_t i = 0; i < element.properties.size(); ++i) {
      const Property& each = element.properties[i];
      if (i != list) {
        skip(each);
        continue;
      }
      const std::int64_t count = length(each);
      corners_.clear();
      for (std::int64_t j = 0; j < count; ++j) {
        const std::int64_t corner = values_.whole(each.type);
        if (corner < 0 || corner >= static_cast<std::int64_t>(collector_.points()))
          values_.fault(fmt::format("point {}", corner),
                        collector_.points() == 0 ? std::string("points ahead of the faces")
                                                 : fmt::format("0 to {}", collector_.points() - 1));
        corners_.push_back(static_cast<std::uint32_t>(corner));
      }
      if (count < 3)
        values_.fault(fmt::format("{} for the number of a face's corners", count), "three or more");
    }
    collector_.add_face(corners_);
  }
};

} // namespace

void read_ply(const Source& source, Collector& collector) {
  const Header header = read_header(source);
  if (header.is_text)
    BodyReader(source, header, collector, TextValues(source, header.end)).read();
  else
    BodyReader(source, header, collector, BinaryValues(source, header.end, header.order)).read();
}

} // namespace bellmouth::mesh
