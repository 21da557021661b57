// SPDX-License-Identifier: GPL-3.0-or-later
// What the view of the bay draws: solids of the build shown, coloured, with what is picked marked.
#pragma once

#include "route_ghost.hpp"
#include "scene/palette.hpp"
#include "scene/render.hpp"
#include "scene/solid.hpp"
#include "session.hpp"

#include <QString>

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <vector>

namespace bellmouth::ui {

/// What the colours of the pieces say.
enum class BayColouring { nothing, velocity, pressure, temperature, clearance };
inline constexpr std::array all_bay_colourings{BayColouring::nothing, BayColouring::velocity,
                                               BayColouring::pressure, BayColouring::temperature,
                                               BayColouring::clearance};
[[nodiscard]] QString bay_colouring_name(BayColouring colouring);

/// What the colours mean. The scale counts in the unit shown.
struct BayLegend {
  QString title; ///< "velocity, m/s"
  scene::ValueScale scale;
};

/// The solids keep their meshes from one build to the next; an edit makes anew what it changes only.
class BayScene {
public:
  /// Takes everything from the session anew. `dark`: for a dark window.
  void refresh(const Session& session, BayColouring colouring, bool dark);
  /// Draws a route translucently beside what there is, and the run that it is for fainter; nullptr: no more.
  /// It lies as in the bay at rest. Nothing is picked on it.
  void set_ghost(std::shared_ptr<const RouteGhost> ghost, QRgb colour);
  [[nodiscard]] const RouteGhost* ghost() const { return ghost_.get(); }
  /// Marks what is picked.
  void mark(const build::Build& build, const Selection& selection);

  [[nodiscard]] const scene::Scene& scene() const { return scene_; }
  /// The box round all that has bounds; none where there is nothing.
  [[nodiscard]] std::optional<scene::Extent> extent() const;
  /// The camera turned as it is, with all that has bounds, or what is picked, as large as the viewport
  /// allows.
  [[nodiscard]] scene::Camera fitted(const scene::Camera& camera, QSizeF viewport) const;
  [[nodiscard]] scene::Camera fitted_to(const build::Build& build, const Selection& selection,
                                        const scene::Camera& camera, QSizeF viewport) const;
  [[nodiscard]] std::optional<scene::Extent> extent_of(const build::Build& build,
                                                       const Selection& selection) const;
  /// What an id of the picture stands for; nothing for ground.
  [[nodiscard]] std::optional<Selection> selection_of(std::uint32_t id) const;
  /// Whether it is ground on which nothing is picked: nothing at all, or a plane without bounds.
  [[nodiscard]] bool is_ground(std::uint32_t id) const;
  /// The scene without planes that have no bounds, which would hide what lies under the bay.
  [[nodiscard]] scene::Scene without_planes() const;
  /// The solid's part, or nullptr.
  [[nodiscard]] const scene::Part* part_of(std::uint32_t id) const;
  /// Whether an item belongs to what is picked.
  [[nodiscard]] static bool belongs(const build::Build& build, const scene::Part& part,
                                    const Selection& selection);
  [[nodiscard]] const std::optional<BayLegend>& legend() const { return legend_; }
  [[nodiscard]] const std::vector<scene::Solid>& solids() const { return solids_; }
  /// Of each run of the evaluation, in the state that is looked at.
  [[nodiscard]] const std::vector<bay::RunClearance>& clearances() const { return clearances_; }

private:
  void add_ghost();
  [[nodiscard]] std::vector<scene::Solid> picked(const build::Build& build, const Selection& selection) const;
  void colour_pieces(const Session& session, BayColouring colouring);
  /// A surface coarse enough to be turned while a button is down.
  [[nodiscard]] std::shared_ptr<const scene::TriangleMesh>
  coarse_scan(const std::shared_ptr<const mesh::Scan>& scan);

  struct CoarseScan {
    std::weak_ptr<const mesh::Scan> scan;
    std::shared_ptr<const scene::TriangleMesh> mesh;
  };
  scene::SolidMaker maker_;
  std::vector<scene::Solid> solids_;
  scene::Scene scene_;
  std::optional<BayLegend> legend_;
  std::vector<bay::RunClearance> clearances_;
  std::map<const mesh::Scan*, CoarseScan> coarse_;
  scene::SolidMaker ghost_maker_;
  std::shared_ptr<const RouteGhost> ghost_;
  QRgb ghost_colour_ = 0;
};

} // namespace bellmouth::ui
