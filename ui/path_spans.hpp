// SPDX-License-Identifier: GPL-3.0-or-later
// The distance axis of the plot along the path. Machines have no length of their own in the profile; on the
// axis each gets a band, so that what it does to the air can be seen. Between bands the axis is true to
// scale.
#pragma once

#include "session.hpp"

#include <bellmouth/evaluate.hpp>

#include <QList>
#include <QPointF>
#include <QString>

#include <functional>
#include <optional>
#include <vector>

namespace bellmouth::ui {

/// One step of the path on the axis.
struct PathSpan {
  std::size_t step = 0;
  bool machine = false;
  QString name;
  double from_x = 0, to_x = 0; ///< on the axis [m]
  double from_m = 0, to_m = 0; ///< distance along the path
};
/// A piece, or a machine, on the axis.
struct PathPart {
  Selection selection;
  double from_x = 0, to_x = 0;
};

class PathSpans {
public:
  PathSpans() = default;
  /// `band_m` is the width of a machine's band on the axis.
  PathSpans(const build::Build& build, const Evaluation& evaluation, double band_m);
  /// A band width that suits the length of the runs.
  [[nodiscard]] static double fair_band_m(const Evaluation& evaluation);

  [[nodiscard]] const std::vector<PathSpan>& spans() const { return spans_; }
  [[nodiscard]] double end_x() const { return spans_.empty() ? 0 : spans_.back().to_x; }
  /// The states along the path, two for each piece: at its inlet and at its outlet.
  [[nodiscard]] const std::vector<flow::PathPoint>& states() const { return profile_; }
  /// The states as points of the plot, y by `value`.
  [[nodiscard]] QList<QPointF> points(const std::function<double(const flow::PathPoint&)>& value) const;
  /// The state at a place on the axis, on straight lines between the points of the profile.
  [[nodiscard]] std::optional<flow::PathPoint> state_at(double x) const;
  /// Where a distance along the path lies, ahead of the machine that may stand there.
  [[nodiscard]] double x_of(double distance_m) const;
  [[nodiscard]] const PathPart* part_at(double x) const;
  [[nodiscard]] const PathPart* part_of(const Selection& selection) const;

private:
  std::vector<PathSpan> spans_;
  std::vector<PathPart> parts_;
  std::vector<flow::PathPoint> profile_;
  std::vector<double> x_; ///< of each state
};

} // namespace bellmouth::ui
