// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/light.hpp"
#include "scene/raster.hpp"
#include "scene/renderers.hpp"

#include <algorithm>
#include <cassert>

namespace bellmouth::ui::scene {

namespace {

constexpr std::size_t points_a_job = 4096, triangles_a_chunk = 2048;
constexpr std::size_t colours_kept = 64;

class CpuRenderer final : public Renderer {
public:
  explicit CpuRenderer(unsigned threads) : workers_(threads) {}

  [[nodiscard]] QString name() const override { return "own rasteriser"; }
  [[nodiscard]] Kind kind() const override { return Kind::cpu; }

  Picture draw(const Scene& scene, const Camera& camera, const DrawOptions& options) override {
    assert(!options.size_px.isEmpty());
    bounds_.forget_the_gone();
    frame_.resize(options.size_px, samples_of(options.quality));
    prepare(scene, camera, options);
    take_points_to_screen();
    workers_.run(chunks_.size(), [&](std::size_t number) {
      raster::Chunk& chunk = chunks_[number];
      const raster::Drawn& drawn = drawn_[chunk.drawn];
      raster::share_out(chunk, drawn, points_.data() + drawn.first_point, frame_, camera.perspective);
    });
    fill_bands(camera, options);
    return finished(frame_, scene, camera, options, workers_);
  }

private:
  void prepare(const Scene& scene, const Camera& camera, const DrawOptions& options) {
    const Order order = order_of(scene, camera, options.quality, bounds_);
    if (tables_.size() > colours_kept)
      tables_.clear();
    drawn_.clear();
    chunk_count_ = 0;
    std::size_t points = 0;
    opaque_ = order.opaque.size();
    for (const auto* places : {&order.opaque, &order.translucent})
      for (const std::size_t place : *places) {
        const Item& item = scene.items[place];
        const TriangleMesh& mesh = *mesh_of(item, options.quality);
        drawn_.push_back({&item, &mesh, raster::View(item, mesh, camera, frame_, options.section),
                          static_cast<std::uint32_t>(place + 1), points,
                          options.section.has_value() && item.cuttable, lights_of(item),
                          cut_colour(item.colour),
                          item.opacity < 1 ? mixed(item.colour, options.outline, 0.25) : options.outline,
                          (item.opacity < 1 ? 0.9 : 0.5) * (frame_.samples > 1 ? 1.0 : 0.75)});
        points += mesh.points_m.size();
        for (std::size_t first = 0; first < mesh.triangles.size(); first += triangles_a_chunk)
          add_chunk(drawn_.size() - 1, first, std::min(first + triangles_a_chunk, mesh.triangles.size()));
      }
    chunks_.resize(chunk_count_);
    points_.resize(points);
  }

  void add_chunk(std::size_t drawn, std::size_t first, std::size_t last) {
    if (chunk_count_ == chunks_.size())
      chunks_.emplace_back();
    raster::Chunk& chunk = chunks_[chunk_count_++];
    chunk.drawn = drawn;
    chunk.first = first;
    chunk.last = last;
  }

  const QRgb* lights_of(const Item& item) {
    auto& table = tables_[{item.finish, item.colour}];
    if (table.empty())
      table = lit_table(item.colour, item.finish);
    return table.data();
  }

  void take_points_to_screen() {
    struct Job {
      const raster::Drawn* drawn;
      std::size_t first, last;
    };
    std::vector<Job> jobs;
    for (const raster::Drawn& drawn : drawn_)
      for (std::size_t first = 0; first < drawn.mesh->points_m.size(); first += points_a_job)
        jobs.push_back({&drawn, first, std::min(first + points_a_job, drawn.mesh->points_m.size())});
    workers_.run(jobs.size(), [&](std::size_t number) {
      const Job& job = jobs[number];
      const raster::View& view = *job.drawn->view;
      raster::ScreenPoint* const out = points_.data() + job.drawn->first_point;
      for (std::size_t i = job.first; i < job.last; ++i)
        out[i] = view.screen(view.view(static_cast<std::uint32_t>(i)));
    });
  }

  void fill_bands(const Camera& camera, const DrawOptions& options) {
    const int bands = (frame_.height + raster::band_rows - 1) / raster::band_rows;
    layers_.resize(static_cast<std::size_t>(bands));
    const QImage backdrop = backdrop_of(options);
    workers_.run(static_cast<std::size_t>(bands), [&](std::size_t number) {
      raster::Band band(frame_, static_cast<int>(number), camera.perspective);
      band.clear(options.background_top, options.background_bottom, backdrop);
      std::size_t chunk = 0;
      const auto fill = [&](std::size_t drawn) {
        for (; chunk < chunks_.size() && chunks_[chunk].drawn == drawn; ++chunk)
          band.fill(chunks_[chunk], drawn_[drawn], points_.data() + drawn_[drawn].first_point);
      };
      for (std::size_t drawn = 0; drawn < opaque_; ++drawn)
        fill(drawn);
      for (std::size_t drawn = 0; drawn < opaque_; ++drawn)
        band.edges(drawn_[drawn], points_.data() + drawn_[drawn].first_point, false);
      for (std::size_t drawn = opaque_; drawn < drawn_.size(); ++drawn) {
        if (drawn_[drawn].mesh->convex && !drawn_[drawn].cut) {
          band.begin_glaze(drawn_[drawn].item->opacity);
          fill(drawn);
          band.end_glaze();
        } else {
          band.begin_layer(layers_[number]);
          fill(drawn);
          band.lay_over(drawn_[drawn]);
        }
        band.edges(drawn_[drawn], points_.data() + drawn_[drawn].first_point, true);
      }
      if (opaque_ < drawn_.size())
        band.settle();
    });
  }

  Workers workers_;
  Bounds bounds_;
  Frame frame_;
  std::vector<raster::Drawn> drawn_;
  std::vector<raster::ScreenPoint> points_;
  std::vector<raster::Chunk> chunks_;
  std::vector<raster::Band::Layer> layers_;
  std::map<std::pair<Finish, QRgb>, std::vector<QRgb>> tables_;
  std::size_t chunk_count_ = 0, opaque_ = 0;
};

} // namespace

std::unique_ptr<Renderer> make_cpu_renderer(unsigned threads) {
  return std::make_unique<CpuRenderer>(threads);
}

} // namespace bellmouth::ui::scene
