// SPDX-License-Identifier: GPL-3.0-or-later
#include "gltf_mesh.hpp"

#include <cmath>

namespace bellmouth::mesh {

namespace {

constexpr std::size_t as_triangles = 4, as_fan = 6; // strips between them, points and lines before them
constexpr std::size_t as_byte = 5121, as_short = 5123, as_int = 5125, as_float = 5126;

} // namespace

Part::Part(Asked primitive, Asked accessor, std::size_t mode, const Row& points, std::optional<Row> indices)
    : primitive_(std::move(primitive)), accessor_(std::move(accessor)), mode_(mode),
      corners_(indices ? indices->count : points.count), points_(points), indices_(indices) {
  if (mode_ == as_triangles && corners_ % 3 != 0)
    primitive_.fault(fmt::format("{} corners of triangles", corners_), "three corners for each triangle");
}

std::size_t Part::triangles() const {
  if (mode_ == as_triangles)
    return corners_ / 3;
  return corners_ < 3 ? 0 : corners_ - 2;
}

std::array<std::size_t, 3> Part::triangle(std::size_t number) const {
  if (mode_ == as_triangles)
    return {3 * number, 3 * number + 1, 3 * number + 2};
  if (mode_ == as_fan)
    return {number + 1, number + 2, 0};
  return {number, number + 1 + number % 2, number + 2 - number % 2};
}

std::size_t Part::index(std::size_t corner) const {
  if (!indices_)
    return corner;
  const char* const at = indices_->bytes.data() + corner * indices_->step;
  const std::size_t found = indices_->component_type == as_byte    ? number_at<std::uint8_t>(at)
                            : indices_->component_type == as_short ? number_at<std::uint16_t>(at)
                                                                   : number_at<std::uint32_t>(at);
  if (found >= points_.count)
    primitive_.at("indices").fault(fmt::format("index {} at place {}", found, corner),
                                   fmt::format("indices of the {} points", points_.count));
  return found;
}

Point Part::point(std::size_t corner) const {
  const std::size_t number = index(corner);
  Point result;
  for (std::size_t axis = 0; axis < 3; ++axis) {
    result[axis] = number_at<float>(points_.bytes.data() + number * points_.step + 4 * axis);
    if (!(std::abs(result[axis]) < coordinate_at_most))
      accessor_.fault(fmt::format("the coordinate {} of point {}", result[axis], number),
                      fmt::format("finite numbers, less than {:g} in size", coordinate_at_most));
  }
  return result;
}

void Part::fault_of_place(double coordinate) const {
  primitive_.fault(fmt::format("the coordinate {} where a node takes it", coordinate),
                   fmt::format("less than {:g} in size", coordinate_at_most));
}

const std::vector<Part>& Meshes::parts(std::size_t mesh) {
  const auto found = parts_.find(mesh);
  if (found != parts_.end())
    return found->second;
  const Asked primitives = root_.at("meshes").at(mesh).at("primitives");
  std::vector<Part> parts;
  for (std::size_t i = 0; i < primitives.size(); ++i)
    if (auto each = part(primitives.at(i)))
      parts.push_back(*std::move(each));
  return parts_.emplace(mesh, std::move(parts)).first->second;
}

std::optional<Part> Meshes::part(const Asked& primitive) {
  const std::size_t mode = primitive.whole("mode", as_triangles);
  if (mode > as_fan)
    primitive.at("mode").fault("0 to 6");
  if (mode < as_triangles) {
    ++points_and_lines_;
    return std::nullopt;
  }
  const auto position = primitive.at("attributes").find("POSITION");
  if (!position) {
    ++without_position_;
    return std::nullopt;
  }
  morphs_ += primitive.find("targets") ? 1 : 0;
  const Asked accessor = root_.at("accessors").at(position->whole());
  if (const auto extensions = primitive.find("extensions"))
    if (const auto draco = extensions->find("KHR_draco_mesh_compression");
        draco && !accessor.find("bufferView"))
      draco->fault("triangles compressed by Draco", "triangles that are not compressed");
  const Row points = buffers_.row(accessor, "VEC3");
  if (points.component_type != as_float)
    accessor.at("componentType").fault("positions as floats (5126)");
  std::optional<Row> indices;
  if (const auto found = primitive.find("indices")) {
    const Asked of_indices = root_.at("accessors").at(found->whole());
    indices = buffers_.row(of_indices, "SCALAR");
    if (indices->component_type != as_byte && indices->component_type != as_short &&
        indices->component_type != as_int)
      of_indices.at("componentType").fault("indices as unsigned whole numbers (5121, 5123 or 5125)");
  }
  return Part(primitive, accessor, mode, points, indices);
}

void Meshes::remark(Collector& collector) const {
  collector.remark(points_and_lines_, "set of points or lines was left out",
                   "sets of points or lines were left out");
  collector.remark(without_position_, "set of triangles without positions was left out",
                   "sets of triangles without positions were left out");
  collector.remark(morphs_, "part that changes its shape was read in its first",
                   "parts that change their shape were read in their first");
}

} // namespace bellmouth::mesh
