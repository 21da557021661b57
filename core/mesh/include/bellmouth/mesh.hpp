// SPDX-License-Identifier: GPL-3.0-or-later
// Triangle meshes: scans of the bay read from files that others made, thinned for display, and asked for
// their distance to a point or a line.
#pragma once

#include <bellmouth/quantity.hpp>

#include <array>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <limits>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::mesh {

using Point = std::array<double, 3>;
using Triangle = std::array<std::uint32_t, 3>;

/// What a file's numbers count. Files do not say: the user is asked.
enum class Unit { millimetre, centimetre, metre, inch };
/// Metres to one unit.
[[nodiscard]] double metres(Unit unit);

/// Points and the triangles between them, in the unit and the axes of the file. Each index leads to a point;
/// coordinates are finite, less than 1e12 in size.
struct Surface {
  std::vector<Point> points;
  std::vector<Triangle> triangles;
};

struct Extent {
  Point low{}, high{};
};
/// The least box that holds all points. There must be one (an assertion).
[[nodiscard]] Extent extent(const Surface& surface);

/// \name Reading
///@{
/// What came out of a file.
struct Imported {
  Surface surface;
  std::vector<std::string> remarks; ///< what was left out and why: "12 triangles without area"
};
/// Told how far reading is, from 0 to 1 and never back; answers whether to go on. If not, reading ends in an
/// error that says so.
using Progress = std::function<bool(double)>;

/// Reads a mesh file: STL (binary, text), Wavefront OBJ, PLY (text, binary of both byte orders), glTF 2.0
/// (.gltf, .glb). The kind goes by the content, and by the name's ending only where the content does not say.
/// Strict: a file that ends early, an index that leads nowhere, a number that is not finite, a count that the
/// file cannot hold are errors with the place (line and column, byte, or path in the JSON). Sizes are checked
/// against the file before memory is asked for. At most 20 million triangles and 2 GB are read. A file
/// without a triangle is an error. Polygons are split into triangles, points at one place are joined,
/// triangles without area and points without a triangle are left out with a remark.
///
/// Of glTF, triangles, strips and fans with float positions are read where the scene's nodes put them;
/// compressed or sparse data are errors; other files are read only from within the file's own folder.
///
/// An OBJ file has no end mark: one cut off at the end of a line cannot be told from a whole one; elsewhere
/// there is an error or a remark.
[[nodiscard]] Result<Imported> load(const std::filesystem::path& file, const Progress& progress = {});
/// The same from memory. `name` is the name to speak of; `folder` is where a glTF file's buffers may lie
/// (empty: only those within the file).
[[nodiscard]] Result<Imported> read(std::string_view bytes, const std::string& name,
                                    const std::filesystem::path& folder = {}, const Progress& progress = {});
///@}

/// A coarser surface of at most, and about, `triangles` triangles for display (vertex clustering: the points
/// within each cell of a grid become their mean); the surface itself when it has no more than that. The same
/// for the same surface.
[[nodiscard]] Surface thinned(const Surface& surface, std::size_t triangles);

/// \name Where a mesh lies
///@{
/// Takes the file's points into the bay: x = axes * (scale p) + origin. The axes are the columns: where the
/// file's x, y and z point in the bay; a mirrored part has left-handed ones.
struct Placement {
  double scale = 1; ///< metres to one unit of the file
  std::array<Point, 3> axes{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  Point origin_m{};

  [[nodiscard]] Point to_bay(const Point& in_file) const;
  [[nodiscard]] Point to_file(const Point& in_bay_m) const;
};
/// How three points of the file come to lie on three points of the bay: the rigid motion with the least sum
/// of squares (Kabsch 1976; Horn 1987).
struct Fitted {
  Placement placement;
  double largest_miss_m = 0; ///< of the three: how well the points agree
};
/// An error when the three points of either side lie on one line (within 1 mm), or when their distances
/// differ so much from side to side that the unit must be wrong (more than a tenth).
[[nodiscard]] Result<Fitted> placed_by(const std::array<Point, 3>& in_file,
                                       const std::array<Point, 3>& in_bay_m, Unit unit);
///@}

/// \name Distances
///@{
/// The place of a line and of the surface where they come nearest.
struct Nearest {
  double distance = std::numeric_limits<double>::infinity(); ///< to the surface less the radius there
  double along = 0;                                          ///< 0 at the line's start to 1 at its end
  Point on_line{}, on_surface{};
  std::uint32_t triangle = 0;
};

/// Boxes round the triangles of a surface, for quick answers. Built once, immutable, safe to ask from any
/// thread.
class Tree {
public:
  explicit Tree(const Surface& surface);
  ~Tree();
  Tree(Tree&&) noexcept;
  Tree& operator=(Tree&&) noexcept;

  /// The nearest place of a line with a radius that goes evenly from `radius_from` to `radius_to` (a ball
  /// pulled along it): exact over all triangles. Below zero where they meet; the distance of the middle line,
  /// less the radius, goes on down to minus the radius. Nothing nearer than `cutoff` comes back with an
  /// infinite distance.
  [[nodiscard]] Nearest nearest(const Point& from, const Point& to, double radius_from, double radius_to,
                                double cutoff = std::numeric_limits<double>::infinity()) const;
  /// The same for a point.
  [[nodiscard]] Nearest nearest(const Point& point,
                                double cutoff = std::numeric_limits<double>::infinity()) const;
  /// Where a ray first meets the surface, as a multiple of `direction`; infinite when it does not.
  [[nodiscard]] double hit(const Point& from, const Point& direction) const;
  [[nodiscard]] const Extent& extent() const;
  [[nodiscard]] std::size_t bytes() const; ///< memory that it takes

private:
  struct Parts;
  std::unique_ptr<const Parts> parts_;
};
///@}

/// A scan made ready: what was read, its tree, and a thinned surface for display. Immutable, shared.
struct Scan {
  Surface surface;
  Surface for_display; ///< at most `display_triangles`
  Tree tree;
  std::string digest; ///< of the points and triangles, to tell one scan from another (hexadecimal)
  std::vector<std::string> remarks;
};
inline constexpr std::size_t display_triangles = 60'000;
/// Loads a file and makes it ready.
[[nodiscard]] Result<std::shared_ptr<const Scan>> load_scan(const std::filesystem::path& file,
                                                            const Progress& progress = {});
/// Makes a surface ready that did not come from a file.
[[nodiscard]] std::shared_ptr<const Scan> make_scan(Surface surface, std::vector<std::string> remarks = {});

} // namespace bellmouth::mesh
