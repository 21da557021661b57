// SPDX-License-Identifier: GPL-3.0-or-later
// The bar: 40 pieces and a scan at 1280x800 in under 18 ms a frame while dragging, drawn in software on two
// cores.
#include "support/sample_builds.hpp"

#include <benchmark/benchmark.h>

#include <cmath>
#include <numbers>
#include <scene/look.hpp>
#include <stdexcept>

namespace bellmouth::ui::scene {
namespace {

constexpr QSize size_px(1280, 800);

/// 40 pieces in a row that winds through the bay: bends, tubes with beads, hoses with their clamps.
std::vector<Solid> forty_pieces() {
  std::vector<Solid> solids;
  bay::Frame frame{{0, 0, 0.3}, {1, 0, 0}, {0, 0, 1}};
  const auto add = [&](TriangleMesh mesh, const bay::Frame& at, build::Material material, Part::Kind kind) {
    Solid solid;
    solid.part.kind = kind;
    solid.mesh = std::make_shared<const TriangleMesh>(std::move(mesh));
    solid.placement = {1, {{at.direction, cross(at.reference, at.direction), at.reference}}, at.position_m};
    solid.material = material;
    solids.push_back(std::move(solid));
  };
  for (int i = 0; i < 40; ++i) {
    build::Shape shape = build::Tube{0.0635, 0.0016, 0.08, {true, true}};
    if (i % 4 == 1)
      shape = build::TubeBend{0.0635, 0.0016, std::numbers::pi / 2, 0.09, 0.03, 0.03, 0.9 * i, {true, true}};
    else if (i % 2 == 0)
      shape = build::Hose{0.0635, 0.005, 0.07, {0.03, 0.03}};
    const bool soft = build::is_flexible(shape);
    const Spigots spigots = soft ? Spigots{0.0635, 0.0635, 0.03, 0.03} : Spigots{};
    const double cover_m = spigots.cover_in_m;
    add(piece_mesh(shape, spigots), bay::advanced(frame, -cover_m),
        soft ? build::Material::silicone : build::Material::aluminium, Part::Kind::piece);
    const bay::Frame end = bay::followed(frame, bay::track(shape, cover_m, cover_m));
    if (soft) {
      add(clamp_mesh(0.0735, 0.0127), bay::advanced(frame, -0.015), build::Material::stainless_steel,
          Part::Kind::clamp);
      add(clamp_mesh(0.0735, 0.0127), bay::advanced(end, 0.015), build::Material::stainless_steel,
          Part::Kind::clamp);
    }
    frame = end;
  }
  return solids;
}

/// A wavy floor of 200 000 triangles under the pieces.
mesh::Surface waves() {
  mesh::Surface surface;
  constexpr std::uint32_t count = 317;
  for (std::uint32_t i = 0; i < count; ++i)
    for (std::uint32_t j = 0; j < count; ++j)
      surface.points.push_back(
          {i * 5e-3 - 0.6, j * 5e-3 - 0.8, 0.03 * std::sin(i * 0.11) * std::cos(j * 0.07)});
  for (std::uint32_t i = 0; i + 1 < count; ++i)
    for (std::uint32_t j = 0; j + 1 < count; ++j) {
      const std::uint32_t at = i * count + j;
      surface.triangles.push_back({at, at + count, at + 1});
      surface.triangles.push_back({at + 1, at + count, at + count + 1});
    }
  return surface;
}

/// The pieces, the scan as it is shown and as it is dragged, and four keep-outs.
struct Prepared {
  Scene scene;
  Camera camera;

  Prepared() {
    std::vector<Solid> solids = forty_pieces();
    const auto scan = mesh::make_scan(waves());
    Solid floor;
    floor.part.kind = Part::Kind::scan;
    floor.mesh = std::make_shared<const TriangleMesh>(surface_mesh(scan->for_display));
    floor.coarse = std::make_shared<const TriangleMesh>(coarse_mesh(scan->for_display));
    solids.push_back(floor);
    for (int i = 0; i < 4; ++i) {
      Solid box;
      box.part.kind = Part::Kind::keep_out;
      box.mesh = std::make_shared<const TriangleMesh>(
          keep_out_mesh(build::Box{{0.3 * i - 0.4, 0.3, 0.2}, {0.1, 0.12, 0.15}}));
      solids.push_back(box);
    }
    scene = dressed(solids, false);
    camera = Camera{}.seen_from(StandardView::slanted).fitted(*extent(solids), QSizeF(size_px));
  }
};

void draw(benchmark::State& state, Renderer& renderer, Quality quality) {
  const Prepared prepared;
  const DrawOptions options = light_options(size_px, quality);
  for (auto _ : state)
    benchmark::DoNotOptimize(renderer.draw(prepared.scene, prepared.camera, options));
}

void own_rasteriser_dragging(benchmark::State& state) {
  draw(state, *make_cpu_renderer(), Quality::dragging);
}
BENCHMARK(own_rasteriser_dragging)->Unit(benchmark::kMillisecond)->UseRealTime();
void own_rasteriser_resting(benchmark::State& state) {
  draw(state, *make_cpu_renderer(), Quality::resting);
}
BENCHMARK(own_rasteriser_resting)->Unit(benchmark::kMillisecond)->UseRealTime();

void egl(benchmark::State& state, Quality quality) {
  const MadeRenderer made = make_renderer(Choice::egl);
  if (made.renderer->kind() != Renderer::Kind::egl)
    throw std::runtime_error(made.missing.join(' ').toStdString());
  draw(state, *made.renderer, quality);
}
void opengl_without_a_display_dragging(benchmark::State& state) {
  egl(state, Quality::dragging);
}
BENCHMARK(opengl_without_a_display_dragging)->Unit(benchmark::kMillisecond)->UseRealTime();
void opengl_without_a_display_resting(benchmark::State& state) {
  egl(state, Quality::resting);
}
BENCHMARK(opengl_without_a_display_resting)->Unit(benchmark::kMillisecond)->UseRealTime();

void making_the_solids_of_forty_pieces(benchmark::State& state) {
  for (auto _ : state)
    benchmark::DoNotOptimize(forty_pieces());
}
BENCHMARK(making_the_solids_of_forty_pieces)->Unit(benchmark::kMillisecond);

void keeping_the_solids_of_a_build(benchmark::State& state) {
  const build::Build build = test::sample_build();
  const Evaluation evaluation = evaluate(build, build.options.front().id);
  SolidMaker maker;
  for (auto _ : state)
    benchmark::DoNotOptimize(maker.solids(build, evaluation));
}
BENCHMARK(keeping_the_solids_of_a_build)->Unit(benchmark::kMicrosecond);

} // namespace
} // namespace bellmouth::ui::scene
