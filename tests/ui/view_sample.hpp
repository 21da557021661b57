// SPDX-License-Identifier: GPL-3.0-or-later
// What the tests of the views share: a build with every kind of piece, measured ports and two options, and
// small helpers.
#pragma once

#include "support/sample_builds.hpp"

#include <QCoreApplication>
#include <QWidget>
#include <gtest/gtest.h>

#include <algorithm>
#include <figures.hpp>
#include <session.hpp>

namespace bellmouth::ui::test {

/// Every kind of piece and machine; ports measured; options "small" (shown) and "wide".
inline build::Build full_build() {
  return bellmouth::test::sample_build();
}

inline const build::RunId suction{"suction"}, hot_side{"hot_side"}, cold_side{"cold_side"};

/// Rows of a run of the shown option.
inline const std::vector<build::Piece>& pieces_of(const Session& session, const build::RunId& run) {
  return session.build().find(session.option())->find(run)->pieces;
}

/// Takes all pieces out of a run.
inline build::Build with_empty_run(build::Build build, const build::RunId& run) {
  for (build::Option& option : build.options)
    for (build::Shared<build::Run>& shared : option.runs)
      if (shared->id == run) {
        build::Run empty = *shared;
        empty.pieces.clear();
        shared = empty;
      }
  return build;
}

/// A build whose hot side is so narrow that the air chokes in it.
inline build::Build choking_build() {
  build::Build build = full_build();
  const build::PieceRef bend{{"small"}, hot_side, 1};
  build::Piece piece = *build::find(build, bend);
  auto& shape = std::get<build::TubeBend>(piece.shape);
  shape.outer_diameter_m = 0.015;
  shape.wall_m = 0.001;
  return build::with_piece_replaced(build, bend, piece);
}

/// The figure with a key, which must be among them.
inline const Figure& named(const std::vector<Figure>& all, const QString& key) {
  const auto found = std::ranges::find(all, key, &Figure::key);
  EXPECT_NE(found, all.end()) << key.toStdString();
  return *found;
}

inline void show(QWidget& widget, int width, int height) {
  widget.resize(width, height);
  widget.show();
  QCoreApplication::processEvents();
}

} // namespace bellmouth::ui::test
