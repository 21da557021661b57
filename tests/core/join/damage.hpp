// SPDX-License-Identifier: GPL-3.0-or-later
// Builds whose joints have been spoilt at random, as somebody spoils them who changes one thing at a time.
#pragma once

#include <bellmouth/build.hpp>

#include <algorithm>
#include <cstddef>
#include <random>
#include <vector>

namespace bellmouth::test {

class Damage {
public:
  explicit Damage(std::uint64_t seed) : random_(seed) {}

  /// The build with some of the runs of its first option spoilt; always a valid one.
  [[nodiscard]] build::Build operator()(const build::Build& whole) {
    build::Build build = whole;
    const int count = whole_number(1, 8);
    for (int i = 0; i < count; ++i) {
      build::Build tried = build;
      auto& runs = tried.options.front().runs;
      auto& shared = runs[static_cast<std::size_t>(whole_number(0, static_cast<int>(runs.size()) - 1))];
      build::Run run = *shared;
      spoil(tried, run);
      shared = run;
      if (!build::validate(tried))
        build = std::move(tried);
    }
    return build;
  }

private:
  int whole_number(int from, int to) {
    return from + static_cast<int>(random_() % static_cast<std::uint64_t>(to - from + 1));
  }
  double between(double from, double to) {
    return from + (to - from) * static_cast<double>(random_() >> 11U) * 0x1p-53;
  }

  void spoil(build::Build& build, build::Run& run) {
    if (run.pieces.empty())
      return;
    const auto row = static_cast<std::size_t>(whole_number(0, static_cast<int>(run.pieces.size()) - 1));
    build::Piece& piece = run.pieces[row];
    if (build::is_fitting(piece.shape))
      return;
    switch (whole_number(0, 6)) {
    case 0:
      run.pieces.erase(run.pieces.begin() + static_cast<std::ptrdiff_t>(row),
                       run.pieces.begin() +
                           static_cast<std::ptrdiff_t>(row + build::rows_with_fittings(run, row)));
      break;
    case 1: {
      const build::Piece copy = piece;
      run.pieces.insert(run.pieces.begin() + static_cast<std::ptrdiff_t>(row), copy);
      break;
    }
    case 2:
      piece = build::with_bore(piece, build::bore_in_m(piece.shape) + between(-12e-3, 12e-3));
      break;
    case 3:
      set_engagements(piece.shape);
      break;
    case 4:
      set_beads(piece.shape);
      break;
    case 5:
      piece.shape = build::turned_round(piece.shape);
      break;
    default:
      spoil_port(build, whole_number(0, 1) == 0 ? run.from : run.to);
    }
  }

  void set_engagements(build::Shape& shape) {
    std::visit(
        [&](auto& s) {
          if constexpr (requires { s.engagement; })
            s.engagement = {between(0, 60e-3), between(0, 60e-3)};
        },
        shape);
  }
  void set_beads(build::Shape& shape) {
    std::visit(
        [&](auto& s) {
          if constexpr (requires { s.beads; })
            s.beads = {whole_number(0, 1) == 0, whole_number(0, 1) == 0};
        },
        shape);
  }
  void spoil_port(build::Build& build, const build::PortId& id) {
    build::Port& port = *std::ranges::find(build.ports, id, &build::Port::id);
    switch (whole_number(0, 3)) {
    case 0:
      port.connection = {build::Connection::Kind::flange, "4 x M8 on 80"};
      break;
    case 1:
      port.land_m = between(5e-3, 60e-3);
      break;
    case 2:
      port.beaded = !port.beaded;
      break;
    default: {
      const double by_m = between(-10e-3, 10e-3);
      port.outer_diameter_m += by_m;
      port.bore_m += by_m;
    }
    }
  }

  std::mt19937_64 random_;
};

} // namespace bellmouth::test
