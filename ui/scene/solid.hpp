// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces, clamps, ports and keep-outs as solids. Meshes of pieces and ports are in axes of their own: the
// origin at the inlet end's middle (the port's face), x with the flow (out of the machine), z along the
// frame's reference.
#pragma once

#include "scene/triangle_mesh.hpp"

#include <bellmouth/bay.hpp>
#include <bellmouth/evaluate.hpp>

#include <any>
#include <cstddef>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace bellmouth::ui::scene {

/// Corners of the polygon that stands for a circle.
inline constexpr int ring_sides = 32;
/// An arc is divided into equal steps no longer than this.
inline constexpr double arc_step_rad = 5 * std::numbers::pi / 180;

/// \name Meshes
///@{
/// How the spigots in its ends stretch a hose: outside diameters, 0 where there is none.
struct Spigots {
  double in_m = 0, out_m = 0;             ///< outside diameters
  double cover_in_m = 0, cover_out_m = 0; ///< lengths that lie over them
  friend bool operator==(const Spigots&, const Spigots&) = default;
};
/// The whole of a piece, from end to end, the parts of a hose that cover spigots included; hollow, with its
/// beads. A hose lies snugly on its spigots where it covers them, whatever its own bore. Not for fittings.
[[nodiscard]] TriangleMesh piece_mesh(const build::Shape& shape, const Spigots& spigots = {});
/// A boss or a flange on a host of this outside diameter: the origin on the host's centreline, x with the
/// flow, z where the fitting points.
[[nodiscard]] TriangleMesh boss_mesh(const build::SensorBoss& boss, double host_diameter_m);
[[nodiscard]] TriangleMesh flange_mesh(const build::ValveFlange& flange, double host_diameter_m);
/// A band round the x axis with its screw housing at z, its middle at the origin.
[[nodiscard]] TriangleMesh clamp_mesh(double inner_diameter_m, double band_width_m);
/// The spigot of a port behind its face (towards negative x), closed at the back, with its bead.
[[nodiscard]] TriangleMesh port_mesh(const build::Port& port);
/// An arrow from the origin along x.
[[nodiscard]] TriangleMesh arrow_mesh(double length_m, double width_m);
/// Keep-outs lie where they lie. `bay` bounds the rectangle of a half-space.
[[nodiscard]] TriangleMesh keep_out_mesh(const build::Box& box);
[[nodiscard]] TriangleMesh keep_out_mesh(const build::Cylinder& cylinder);
[[nodiscard]] TriangleMesh keep_out_mesh(const build::Sphere& sphere);
[[nodiscard]] TriangleMesh keep_out_mesh(const build::HalfSpace& half, const Extent& bay);
///@}

/// \name A whole build
///@{
/// What a solid stands for.
struct Part {
  enum class Kind { piece, clamp, port, arrow, keep_out, scan } kind = Kind::piece;
  build::RunId run; ///< pieces; clamps: those of the hose
  std::size_t row = 0;
  build::PortId port;       ///< ports and their arrows
  std::size_t keep_out = 0; ///< keep-outs and scans: place in the build's list
  friend bool operator==(const Part&, const Part&) = default;
};

struct Solid {
  Part part;
  std::shared_ptr<const TriangleMesh> mesh;
  std::shared_ptr<const TriangleMesh> coarse;            ///< scans: thinned for dragging
  mesh::Placement placement;                             ///< takes the mesh's axes to the bay
  build::Material material = build::Material::aluminium; ///< pieces
  build::KeepOutClass keep_out_class = build::KeepOutClass::fixed;
  bool bounded = true; ///< false: the rectangle of a half-space
};

/// Makes the solids of a build and keeps their meshes: a mesh is made anew only when the sizes that shape it
/// differ. A piece that merely moved keeps its mesh.
class SolidMaker {
public:
  /// Pieces of the evaluated option whose run starts at a measured port, their clamps, measured ports,
  /// keep-outs. In a lasting order: pieces run by run, then ports, then keep-outs.
  [[nodiscard]] std::vector<Solid> solids(const build::Build& build, const Evaluation& evaluation);
  /// Meshes made since the maker was.
  [[nodiscard]] std::size_t meshes_made() const { return made_; }

private:
  template <class Key, class Make>
  [[nodiscard]] std::shared_ptr<const TriangleMesh> kept(const std::string& name, const Key& key,
                                                         const Make& make);
  void add_run(const build::Run& run, const RunResult& result, std::vector<Solid>& solids);
  void add_clamp(const Part& part, const joint::Joint& joint, const bay::Frame& middle,
                 std::vector<Solid>& solids);
  void add_port(const build::Port& port, bool flow_goes_in, std::vector<Solid>& solids);
  void add_keep_out(const build::KeepOut& keep_out, std::size_t index, const Extent& bay,
                    std::vector<Solid>& solids);

  struct Kept {
    std::any key;
    std::shared_ptr<const TriangleMesh> mesh;
  };
  std::map<std::string, Kept> kept_, used_;
  std::size_t made_ = 0;
};

/// The least box round solids, half-spaces left out; none without any other.
[[nodiscard]] std::optional<Extent> extent(const std::vector<Solid>& solids);
///@}

} // namespace bellmouth::ui::scene
