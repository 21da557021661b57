// SPDX-License-Identifier: GPL-3.0-or-later
// glTF 2.0 (Khronos Group, glTF 2.0 Specification, 2021; ISO/IEC 12113:2022): the triangles of a scene.
#include "gltf_buffers.hpp"
#include "readers.hpp"

#include <algorithm>
#include <limits>

namespace bellmouth::mesh {

namespace {

using Json = nlohmann::json;

/// x -> columns x + origin.
struct Motion {
  std::array<Point, 3> columns{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  Point origin{};

  [[nodiscard]] Point turned(const Point& v) const {
    Point result{};
    for (std::size_t axis = 0; axis < 3; ++axis)
      for (std::size_t i = 0; i < 3; ++i)
        result[i] += columns[axis][i] * v[axis];
    return result;
  }
  [[nodiscard]] Point of(const Point& point) const {
    Point result = turned(point);
    for (std::size_t i = 0; i < 3; ++i)
      result[i] += origin[i];
    return result;
  }
  /// First `inner`, then this.
  [[nodiscard]] Motion after(const Motion& inner) const {
    return {{turned(inner.columns[0]), turned(inner.columns[1]), turned(inner.columns[2])}, of(inner.origin)};
  }
  [[nodiscard]] bool mirrors() const {
    const auto& [a, b, c] = columns;
    return a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) +
               a[2] * (b[0] * c[1] - b[1] * c[0]) <
           0;
  }
};

Motion motion_of(const Asked& node) {
  if (const auto matrix = node.find("matrix")) {
    const auto m = matrix->numbers<16>();
    if (m[3] != 0 || m[7] != 0 || m[11] != 0 || m[15] != 1)
      matrix->fault("a perspective", "a matrix whose last row is 0 0 0 1");
    return {{{{m[0], m[1], m[2]}, {m[4], m[5], m[6]}, {m[8], m[9], m[10]}}}, {m[12], m[13], m[14]}};
  }
  Motion motion;
  if (const auto rotation = node.find("rotation")) {
    const auto [x, y, z, w] = rotation->numbers<4>();
    const double length = x * x + y * y + z * z + w * w;
    if (!(std::abs(length - 1) < 0.01))
      rotation->fault("a quaternion of unit length");
    const double s = 2 / length;
    motion.columns = {{{1 - s * (y * y + z * z), s * (x * y + z * w), s * (x * z - y * w)},
                       {s * (x * y - z * w), 1 - s * (x * x + z * z), s * (y * z + x * w)},
                       {s * (x * z + y * w), s * (y * z - x * w), 1 - s * (x * x + y * y)}}};
  }
  if (const auto scale = node.find("scale")) {
    const auto factors = scale->numbers<3>();
    for (std::size_t axis = 0; axis < 3; ++axis)
      for (double& each : motion.columns[axis])
        each *= factors[axis];
  }
  if (const auto translation = node.find("translation"))
    motion.origin = translation->numbers<3>();
  return motion;
}

class SceneReader {
public:
  SceneReader(const Source& source, const Json& json, std::filesystem::path folder,
              std::optional<std::string_view> own, Collector& collector)
      : source_(source), root_(source, json, "$"), buffers_(source, root_, std::move(folder), own),
        collector_(collector) {}

  void read() && {
    check_version();
    check_extensions();
    const auto nodes = root_.find("nodes");
    if (!nodes) {
      if (const auto meshes = root_.find("meshes"))
        for (std::size_t i = 0; i < meshes->size(); ++i)
          mesh(i, {});
    } else {
      seen_.assign(nodes->size(), false);
      tree(*nodes);
    }
    collector_.remark(points_and_lines_, "set of points or lines was left out",
                      "sets of points or lines were left out");
    collector_.remark(without_position_, "set of triangles without positions was left out",
                      "sets of triangles without positions were left out");
    collector_.remark(skins_, "part with a skin was read as if it had none",
                      "parts with a skin were read as if they had none");
    collector_.remark(morphs_, "part that changes its shape was read in its first",
                      "parts that change their shape were read in their first");
  }

private:
  const Source& source_;
  Asked root_;
  Buffers buffers_;
  Collector& collector_;
  std::vector<bool> seen_; ///< nodes
  std::size_t points_and_lines_ = 0, without_position_ = 0, skins_ = 0, morphs_ = 0, read_ = 0;

  void check_version() const {
    const Asked version = root_.at("asset").at("version");
    if (!version.text().starts_with("2."))
      version.fault("glTF 2.0");
  }
  void check_extensions() const {
    // What only looks, sounds or is told of does not matter here.
    constexpr std::array<std::string_view, 5> no_shape{"KHR_materials_", "KHR_texture_", "KHR_lights_",
                                                       "EXT_texture_", "KHR_xmp"};
    const auto required = root_.find("extensionsRequired");
    if (!required)
      return;
    for (std::size_t i = 0; i < required->size(); ++i) {
      const Asked name = required->at(i);
      if (name.text() == "KHR_draco_mesh_compression" || name.text() == "EXT_meshopt_compression")
        name.fault(fmt::format("compressed triangles ({})", name.text()),
                   "triangles that are not compressed");
      if (std::ranges::none_of(no_shape,
                               [&](std::string_view each) { return name.text().starts_with(each); }))
        name.fault("glTF 2.0 without extensions that concern shapes");
    }
  }

  /// The nodes of the scene that is meant, and what hangs on them.
  void tree(const Asked& nodes) {
    struct Waiting {
      std::size_t node;
      Motion motion;
    };
    std::vector<Waiting> waiting;
    const auto scenes = root_.find("scenes");
    if (scenes && scenes->size() > 0) {
      const Asked scene = scenes->at(root_.whole("scene", 0));
      if (const auto roots = scene.find("nodes"))
        for (std::size_t i = roots->size(); i-- > 0;)
          waiting.push_back({roots->at(i).whole(), {}});
      collector_.remark(scenes->size() - 1, "other scene was left out", "other scenes were left out");
    } else {
      std::vector<bool> hangs(nodes.size(), false);
      for (std::size_t i = 0; i < nodes.size(); ++i)
        if (const auto children = nodes.at(i).find("children"))
          for (std::size_t j = 0; j < children->size(); ++j)
            if (const std::size_t child = children->at(j).whole(); child < hangs.size())
              hangs[child] = true;
      for (std::size_t i = nodes.size(); i-- > 0;)
        if (!hangs[i])
          waiting.push_back({i, {}});
    }
    while (!waiting.empty()) {
      const auto [number, above] = waiting.back();
      waiting.pop_back();
      const Asked node = nodes.at(number);
      if (seen_[number])
        node.fault("a node that hangs on two others, or on itself", "nodes that form a tree");
      seen_[number] = true;
      const Motion motion = above.after(motion_of(node));
      skins_ += node.find("skin") ? 1 : 0;
      if (const auto found = node.find("mesh"))
        mesh(found->whole(), motion);
      if (const auto children = node.find("children"))
        for (std::size_t i = children->size(); i-- > 0;)
          waiting.push_back({children->at(i).whole(), motion});
    }
  }

  void mesh(std::size_t number, const Motion& motion) {
    const Asked primitives = root_.at("meshes").at(number).at("primitives");
    for (std::size_t i = 0; i < primitives.size(); ++i)
      primitive(primitives.at(i), motion);
  }

  void primitive(const Asked& primitive, const Motion& motion) {
    constexpr std::size_t triangles = 4, fan = 6; // between them strips
    const std::size_t mode = primitive.whole("mode", triangles);
    if (mode > fan)
      primitive.at("mode").fault("0 to 6");
    if (mode < triangles) {
      ++points_and_lines_;
      return;
    }
    morphs_ += primitive.find("targets") ? 1 : 0;
    const auto position = primitive.at("attributes").find("POSITION");
    if (!position) {
      ++without_position_;
      return;
    }
    if (const auto extensions = primitive.find("extensions"))
      if (const auto draco = extensions->find("KHR_draco_mesh_compression");
          draco && !root_.at("accessors").at(position->whole()).find("bufferView"))
        draco->fault("triangles compressed by Draco", "triangles that are not compressed");
    const Asked accessor = root_.at("accessors").at(position->whole());
    const Row points = buffers_.row(accessor, "VEC3");
    constexpr std::size_t as_float = 5126;
    if (points.component_type != as_float)
      accessor.at("componentType").fault("positions as floats (5126)");
    std::optional<Row> indices;
    if (const auto found = primitive.find("indices")) {
      const Asked of_indices = root_.at("accessors").at(found->whole());
      indices = buffers_.row(of_indices, "SCALAR");
      if (indices->component_type != 5121 && indices->component_type != 5123 &&
          indices->component_type != 5125)
        of_indices.at("componentType").fault("indices as unsigned whole numbers (5121, 5123 or 5125)");
    }
    const std::size_t corners = indices ? indices->count : points.count;
    const auto corner = [&](std::size_t i) {
      return motion.of(point(accessor, points, index(primitive, indices, points, i)));
    };
    const auto add = [&](std::size_t a, std::size_t b, std::size_t c) {
      constexpr std::size_t triangles_between_reports = 1U << 15U;
      if (read_++ % triangles_between_reports == 0)
        source_.reached_share(0.5); // how many there are in all is known at the end only
      if (motion.mirrors())
        std::swap(b, c);
      std::array<Point, 3> places{corner(a), corner(b), corner(c)};
      for (const Point& place : places)
        for (const double x : place)
          if (!(std::abs(x) < coordinate_at_most))
            accessor.fault(fmt::format("the coordinate {}", x),
                           fmt::format("less than {:g} in size", coordinate_at_most));
      collector_.add(places[0], places[1], places[2]);
    };
    if (mode == triangles) {
      if (corners % 3 != 0)
        primitive.fault(fmt::format("{} corners of triangles", corners), "three corners for each triangle");
      for (std::size_t i = 0; i + 2 < corners; i += 3)
        add(i, i + 1, i + 2);
    } else {
      for (std::size_t i = 0; i + 2 < corners; ++i)
        if (mode == fan)
          add(i + 1, i + 2, 0);
        else
          add(i, i + 1 + i % 2, i + 2 - i % 2);
    }
  }

  static std::size_t index(const Asked& primitive, const std::optional<Row>& indices, const Row& points,
                           std::size_t i) {
    if (!indices)
      return i;
    const char* const at = indices->bytes.data() + i * indices->step;
    const std::size_t found = indices->component_type == 5121   ? number_at<std::uint8_t>(at)
                              : indices->component_type == 5123 ? number_at<std::uint16_t>(at)
                                                                : number_at<std::uint32_t>(at);
    if (found >= points.count)
      primitive.at("indices").fault(fmt::format("index {} at place {}", found, i),
                                    fmt::format("indices of the {} points", points.count));
    return found;
  }
  static Point point(const Asked& accessor, const Row& points, std::size_t i) {
    Point result;
    for (std::size_t axis = 0; axis < 3; ++axis) {
      result[axis] = number_at<float>(points.bytes.data() + i * points.step + 4 * axis);
      if (!(std::abs(result[axis]) < coordinate_at_most))
        accessor.fault(fmt::format("the coordinate {} of point {}", result[axis], i),
                       fmt::format("finite numbers, less than {:g} in size", coordinate_at_most));
    }
    return result;
  }
};

void read_json(const Source& source, std::string_view text, std::filesystem::path folder,
               std::optional<std::string_view> own, Collector& collector) {
  // A value takes many times its text.
  constexpr std::size_t json_at_most = 300'000'000;
  if (text.size() > json_at_most)
    source.fault(fmt::format("{} bytes of JSON", text.size()),
                 fmt::format("at most {} bytes of JSON", json_at_most));
  source.reached_share(0);
  const auto begin = static_cast<std::size_t>(text.data() - source.bytes().data());
  Json json;
  try {
    json = Json::parse(text);
  } catch (const Json::parse_error& wrong) {
    source.fault_in_text(begin + std::max<std::size_t>(wrong.byte, 1) - 1,
                         wrong.byte > text.size() ? "the end of the JSON" : "something that is no JSON",
                         "the JSON of a glTF 2.0 file");
  } catch (const Json::out_of_range& wrong) {
    // The one of these that parsing throws: "number overflow parsing '1e999'".
    const std::string words = wrong.what();
    const std::size_t open = std::min(words.find('\''), words.size() - 1);
    const std::string number = words.substr(open + 1, words.find('\'', open + 1) - open - 1);
    source.fault_in_text(begin + std::min(text.find(number), text.size()), in_quotes(number),
                         "a finite number");
  }
  source.reached_share(0.5);
  SceneReader(source, json, std::move(folder), own, collector).read();
}

} // namespace

void read_gltf(const Source& source, const std::filesystem::path& folder, Collector& collector) {
  read_json(source, source.bytes(), folder, std::nullopt, collector);
}

void read_glb(const Source& source, const std::filesystem::path& folder, Collector& collector) {
  constexpr std::size_t header = 12, chunk_header = 8;
  constexpr std::uint32_t json_chunk = 0x4E4F534A, binary_chunk = 0x004E4942;
  const std::string_view bytes = source.bytes();
  if (bytes.size() < header + chunk_header)
    source.fault_at_byte(bytes.size(), "the end of the file", "the header of a .glb file");
  const auto word = [&](std::size_t at) { return number_at<std::uint32_t>(bytes.data() + at); };
  if (!bytes.starts_with("glTF"))
    source.fault_at_byte(0, in_quotes(bytes.substr(0, 4)), "\"glTF\"");
  if (word(4) != 2)
    source.fault_at_byte(4, fmt::format("version {}", word(4)), "version 2");
  if (word(8) != bytes.size())
    source.fault_at_byte(8, fmt::format("{} bytes announced, and {} there", word(8), bytes.size()),
                         "a file that is as long as it says");
  std::string_view json;
  std::optional<std::string_view> binary;
  for (std::size_t at = header; at < bytes.size();) {
    if (bytes.size() - at < chunk_header || bytes.size() - at - chunk_header < word(at))
      source.fault_at_byte(at, "a part that goes on behind the end of the file", "parts within the file");
    const std::string_view chunk = bytes.substr(at + chunk_header, word(at));
    const std::uint32_t kind = word(at + 4);
    if (at == header) {
      if (kind != json_chunk)
        source.fault_at_byte(at + 4, fmt::format("a first part of kind {:#010x}", kind),
                             "JSON as the first part");
      json = chunk;
    } else if (kind == binary_chunk && !binary) {
      binary = chunk;
    }
    at += chunk_header + chunk.size();
  }
  read_json(source, json, folder, binary, collector);
}

} // namespace bellmouth::mesh
