// SPDX-License-Identifier: GPL-3.0-or-later
// Wavefront OBJ: points and polygons (Advanced Visualizer Manual, appendix B1, version 3.0).
#include "readers.hpp"
#include "text.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <charconv>

namespace bellmouth::mesh {

namespace {

template <std::size_t count>
bool among(const std::array<std::string_view, count>& words, std::string_view word) {
  return std::ranges::find(words, word) != words.end();
}

/// Followed by names, in which a backslash at the line's end may be part of a path.
constexpr std::array<std::string_view, 8> named{"g",      "o",      "mtllib",     "usemtl",
                                                "usemap", "maplib", "shadow_obj", "trace_obj"};
/// Appearance, and what goes with free-form shapes: nothing to measure against.
constexpr std::array<std::string_view, 27> without_shape{
    "vt",     "vn",  "vp",    "s",     "mg",   "bevel", "c_interp", "d_interp", "lod",
    "cstype", "deg", "bmat",  "step",  "parm", "trim",  "hole",     "scrv",     "sp",
    "end",    "con", "ctech", "stech", "bsp",  "bzp",   "cdc",      "cdp",      "res"};
constexpr std::array<std::string_view, 3> points_and_lines{"p", "l", "line"};
constexpr std::array<std::string_view, 3> free_form{"curv", "curv2", "surf"};

/// The number of the point that a corner such as "7", "7/1", "7//3", "-2/1/3" names.
std::uint32_t corner(const Text& text, std::string_view word, std::size_t points) {
  std::int64_t number = 0;
  const char* const end = word.data() + word.size();
  const auto [behind, failure] = std::from_chars(word.data(), end, number);
  if (failure != std::errc() || (behind != end && *behind != '/'))
    text.fault(word, "the number of a point, such as 7, 7/1, 7//3 or -1");
  const auto count = static_cast<std::int64_t>(points);
  const std::int64_t index = number < 0 ? count + number : number - 1;
  if (number == 0 || index < 0 || index >= count)
    text.fault(word, points == 0
                         ? "points (\"v\") ahead of the faces"
                         : fmt::format("a point ahead of this line: 1 to {}, or -1 to -{}", points, points));
  return static_cast<std::uint32_t>(index);
}

} // namespace

void read_obj(const Source& source, Collector& collector) {
  constexpr std::size_t lines_between_reports = 1U << 15U;
  Text text(source, text_begin(source.bytes()));
  std::size_t lines = 0, left_points_and_lines = 0, left_free_form = 0;
  std::vector<std::uint32_t> corners;
  while (!text.at_end()) {
    if (lines++ % lines_between_reports == 0)
      source.reached(text.at());
    const std::string_view keyword = text.word();
    if (keyword == "v") {
      Point point;
      for (double& x : point)
        x = text.coordinate(text.word());
      collector.add_point(point);
      text.skip_joined_lines(); // a weight or a colour
      continue;
    }
    if (keyword == "f" || keyword == "fo") {
      corners.clear();
      for (std::string_view word = text.word(); !word.empty(); word = text.word())
        corners.push_back(corner(text, word, collector.points()));
      if (corners.size() < 3)
        text.fault(text.at(), "at least three corners of a face");
      collector.add_face(corners);
      continue;
    }
    if (keyword.starts_with('#') || among(named, keyword)) {
      text.skip_line();
      continue;
    }
    if (among(points_and_lines, keyword))
      ++left_points_and_lines;
    else if (among(free_form, keyword))
      ++left_free_form;
    else if (!among(without_shape, keyword))
      text.fault(keyword, "\"v\", \"f\" or another statement of an OBJ file");
    text.skip_joined_lines();
  }
  collector.remark(left_points_and_lines, "statement of points or lines was left out",
                   "statements of points or lines were left out");
  collector.remark(left_free_form, "free-form curve or surface was left out",
                   "free-form curves and surfaces were left out");
  if (text.lacks_last_line_end())
    collector.remark("the last line has no end: the file may have been cut off");
}

} // namespace bellmouth::mesh
