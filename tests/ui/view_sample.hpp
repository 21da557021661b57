// SPDX-License-Identifier: GPL-3.0-or-later
// What the tests of the views share: a build with every kind of piece, measured ports and two options, and
// small helpers.
#pragma once

#include "support/sample_builds.hpp"

#include <QCoreApplication>
#include <QWidget>

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

inline void show(QWidget& widget, int width, int height) {
  widget.resize(width, height);
  widget.show();
  QCoreApplication::processEvents();
}

} // namespace bellmouth::ui::test
