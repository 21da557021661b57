// SPDX-License-Identifier: GPL-3.0-or-later
// From an edit to the repainted view of the bay, without a display, drawn by the rasteriser of our own: 40
// pieces and a scan of 200 000 triangles at 1280x800. Wanted while dragging: under 25 ms on two cores.
#include "desktop.hpp"
#include "support/sample_builds.hpp"

#include <bellmouth/mesh.hpp>

#include <QDir>
#include <QTemporaryDir>
#include <benchmark/benchmark.h>

#include <bay_view.hpp>
#include <chrono>
#include <cmath>
#include <main_window.hpp>
#include <recovery.hpp>

namespace bellmouth::ui {
namespace {

using test::deg;
using test::mm;

/// Hills under the ducting, 2 m square: 199 712 triangles.
build::KeepOut scanned_ground() {
  constexpr std::uint32_t side = 317;
  mesh::Surface surface;
  for (std::uint32_t row = 0; row < side; ++row)
    for (std::uint32_t column = 0; column < side; ++column) {
      const double x = -1000 + 2000.0 * column / (side - 1), y = -1000 + 2000.0 * row / (side - 1);
      surface.points.push_back({x, y, -220 + 40 * std::sin(x / 90) * std::cos(y / 70)});
    }
  for (std::uint32_t row = 0; row + 1 < side; ++row)
    for (std::uint32_t column = 0; column + 1 < side; ++column) {
      const std::uint32_t corner = row * side + column;
      surface.triangles.push_back({corner, corner + 1, corner + side});
      surface.triangles.push_back({corner + 1, corner + side + 1, corner + side});
    }
  build::Scan scan;
  scan.file = "ground.stl";
  scan.loaded = mesh::make_scan(std::move(surface));
  scan.digest = scan.loaded->digest;
  return {"ground", build::KeepOutClass::fixed, {}, scan};
}

/// Forty pieces, hose and bend in turn, winding over the ground.
build::Build winding_build() {
  using namespace build;
  Build b = bellmouth::test::bench_build();
  b.ports[0].pose = Pose{{-0.8, -0.6, 0.1}, {1, 0, 0}};
  b.ports[1].pose = Pose{{0.9, 0.6, 0.1}, {-1, 0, 0}};
  Run run = *b.options.front().runs.front();
  run.pieces.clear();
  for (int i = 0; i < 20; ++i) {
    run.pieces.push_back({Hose{mm(63.5), mm(4.5), mm(90), {mm(30), mm(30)}}, Material::silicone, {}, ""});
    run.pieces.push_back(
        {TubeBend{
             mm(63.5), mm(1.65), deg(60), mm(95), mm(70), mm(70), i % 2 == 0 ? 0 : deg(180), {true, true}},
         Material::aluminium,
         {},
         ""});
  }
  b.options.front().runs.front() = run;
  b.keep_outs = {scanned_ground()};
  return b;
}

void edit_to_repaint(benchmark::State& state) {
  application();
  Session session(winding_build());
  BayView view(session);
  view.resize(1280, 800 + view.height() - view.canvas().height());
  view.show();
  view.canvas().setFixedSize(1280, 800);
  QApplication::processEvents();
  view.canvas().repaint();
  const build::PieceRef ref{session.option(), {"specimen"}, 1};
  int step = 0;
  for (auto _ : state) {
    build::Piece piece = *build::find(session.build(), ref);
    std::get<build::TubeBend>(piece.shape).leg_out_m = mm(70 + (++step % 40));
    session.preview(build::with_piece_replaced(session.build(), ref, piece));
    view.canvas().repaint();
    if (!session.previewing()) {
      state.SkipWithError("the edit was refused");
      break;
    }
  }
  session.cancel_preview();
}
BENCHMARK(edit_to_repaint)->Unit(benchmark::kMillisecond)->UseRealTime();

void turn_to_repaint(benchmark::State& state) {
  application();
  Session session(winding_build());
  BayView view(session);
  view.show();
  view.canvas().setFixedSize(1280, 800);
  QApplication::processEvents();
  int step = 0;
  for (auto _ : state) {
    view.canvas().look_from(++step % 2 == 0 ? scene::StandardView::slanted : scene::StandardView::front);
    view.canvas().repaint();
  }
}
BENCHMARK(turn_to_repaint)->Unit(benchmark::kMillisecond)->UseRealTime();

/// The same in the whole window: figures, path, fields and all.
void edit_to_repaint_of_the_window(benchmark::State& state) {
  application();
  const QTemporaryDir folder;
  Session session(winding_build());
  Settings settings(folder.filePath("settings.ini"));
  Recovery recovery(session, QDir(folder.filePath("recovery")), std::chrono::hours(1));
  MainWindow window(session, recovery, settings, Dialogs{}, Places{});
  window.resize(1280, 800);
  window.show();
  window.show_tab("tab_bay");
  session.select(PickedPiece{{"specimen"}, 1});
  QApplication::processEvents();
  const build::PieceRef ref{session.option(), {"specimen"}, 1};
  int step = 0;
  for (auto _ : state) {
    build::Piece piece = *build::find(session.build(), ref);
    std::get<build::TubeBend>(piece.shape).leg_out_m = mm(70 + (++step % 40));
    session.preview(build::with_piece_replaced(session.build(), ref, piece));
    QApplication::processEvents();
  }
  session.cancel_preview();
}
BENCHMARK(edit_to_repaint_of_the_window)->Unit(benchmark::kMillisecond)->UseRealTime();

} // namespace
} // namespace bellmouth::ui
