// SPDX-License-Identifier: GPL-3.0-or-later
// glTF 2.0 (Khronos Group, glTF 2.0 Specification, 2021; ISO/IEC 12113:2022): the triangles of a scene.
#include "gltf_mesh.hpp"
#include "gltf_motion.hpp"
#include "readers.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::mesh {

namespace {

using Json = nlohmann::json;

class SceneReader {
public:
  SceneReader(const Source& source, const Json& json, std::filesystem::path folder,
              std::optional<std::string_view> own, Collector& collector)
      : source_(source), root_(source, json, "$"),
        meshes_(root_, Buffers(source, root_, std::move(folder), own)), collector_(collector) {}

  void read() && {
    check_version();
    check_extensions();
    const auto nodes = root_.find("nodes");
    if (!nodes) {
      if (const auto meshes = root_.find("meshes"))
        for (std::size_t i = 0; i < meshes->size(); ++i)
          place(i, {});
    } else {
      seen_.assign(nodes->size(), false);
      tree(*nodes);
    }
    for (const auto& [mesh, motion] : placed_)
      for (const Part& part : meshes_.parts(mesh))
        read(part, motion);
    meshes_.remark(collector_);
    collector_.remark(skins_, "part with a skin was read as if it had none",
                      "parts with a skin were read as if they had none");
  }

private:
  const Source& source_;
  Asked root_;
  Meshes meshes_;
  Collector& collector_;
  std::vector<bool> seen_; ///< nodes
  struct Placed {
    std::size_t mesh;
    Motion motion;
  };
  std::vector<Placed> placed_;
  std::size_t skins_ = 0, triangles_ = 0, read_ = 0;

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
        place(found->whole(), motion);
      if (const auto children = node.find("children"))
        for (std::size_t i = children->size(); i-- > 0;)
          waiting.push_back({children->at(i).whole(), motion});
    }
  }

  /// Notes where a mesh lies. All triangles are counted before the first is read, since a small file may name
  /// a mesh very often.
  void place(std::size_t mesh, const Motion& motion) {
    for (const Part& part : meshes_.parts(mesh))
      triangles_ += part.triangles();
    if (triangles_ > triangles_at_most)
      source_.fault(fmt::format("more than {} triangles", triangles_at_most),
                    fmt::format("at most {} triangles", triangles_at_most));
    placed_.push_back({mesh, motion});
  }

  void read(const Part& part, const Motion& motion) {
    constexpr std::size_t triangles_between_reports = 1U << 15U;
    const bool mirrors = motion.mirrors();
    for (std::size_t i = 0; i < part.triangles(); ++i) {
      if (read_++ % triangles_between_reports == 0)
        source_.reached_share(0.5 + 0.5 * static_cast<double>(read_) / static_cast<double>(triangles_));
      std::array<Point, 3> places;
      const auto corners = part.triangle(i);
      for (std::size_t j = 0; j < 3; ++j) {
        places[j] = motion.of(part.point(corners[j]));
        for (const double x : places[j])
          if (!(std::abs(x) < coordinate_at_most))
            part.fault_of_place(x);
      }
      if (mirrors)
        std::swap(places[1], places[2]);
      collector_.add(places[0], places[1], places[2]);
    }
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
