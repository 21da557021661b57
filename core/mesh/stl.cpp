// SPDX-License-Identifier: GPL-3.0-or-later
// STL, binary and text (3D Systems, Stereolithography Interface Specification, 1989).
#include "readers.hpp"
#include "text.hpp"

#include <spdlog/fmt/fmt.h>

namespace bellmouth::mesh {

namespace {

constexpr std::size_t triangles_between_reports = 1U << 15U;

} // namespace

void read_binary_stl(const Source& source, Collector& collector) {
  const std::string_view bytes = source.bytes();
  if (bytes.size() < binary_stl_size(0))
    source.fault_at_byte(bytes.size(), "the end of the file",
                         "a header of 80 bytes and the number of triangles");
  const std::size_t count = number_at<std::uint32_t>(bytes.data() + 80);
  const std::size_t room = (bytes.size() - binary_stl_size(0)) / 50;
  if (count != room)
    source.fault_at_byte(80, fmt::format("{} triangles announced, and bytes for {}", count, room),
                         "a number of triangles that agrees with the length of the file");
  collector.remark(bytes.size() - binary_stl_size(count), "byte behind the last triangle was left out",
                   "bytes behind the last triangle were left out");
  for (std::size_t i = 0; i < count; ++i) {
    if (i % triangles_between_reports == 0)
      source.reached(binary_stl_size(i));
    // A normal, which is not used, three corners, two bytes for anything.
    const std::size_t at = binary_stl_size(i) + 12;
    std::array<Point, 3> corners;
    for (std::size_t j = 0; j < 9; ++j)
      corners[j / 3][j % 3] = source.checked(number_at<float>(bytes.data() + at + 4 * j), at + 4 * j);
    collector.add(corners[0], corners[1], corners[2]);
  }
}

void read_text_stl(const Source& source, Collector& collector) {
  Text text(source, text_begin(source.bytes()));
  std::size_t facets = 0;
  do {
    text.expect("solid");
    text.skip_line(); // the name
    while (text.accepts("facet")) {
      if (facets++ % triangles_between_reports == 0)
        source.reached(text.at());
      text.expect("normal");
      for (int i = 0; i < 3; ++i)
        text.any("the three numbers of a normal"); // not used, and often "nan"
      text.expect("outer");
      text.expect("loop");
      std::array<Point, 3> corners;
      for (Point& corner : corners) {
        text.expect("vertex");
        for (double& x : corner)
          x = text.coordinate();
      }
      text.expect("endloop");
      text.expect("endfacet");
      collector.add(corners[0], corners[1], corners[2]);
    }
    text.expect("endsolid", "\"facet\" or \"endsolid\"");
    text.skip_line();
  } while (!text.at_end());
}

} // namespace bellmouth::mesh
