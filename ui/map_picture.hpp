// SPDX-License-Identifier: GPL-3.0-or-later
// The maps of blowers as curves, as words and as tables of their points.
#pragma once

#include "comparison.hpp"

#include <bellmouth/flow.hpp>
#include <bellmouth/machine.hpp>

#include <QList>
#include <QPointF>
#include <QString>

#include <optional>
#include <vector>

namespace bellmouth::ui {

/// One curve of a map.
struct MapCurve {
  enum class Kind { speed_line, second_line, surge, choke };
  Kind kind = Kind::speed_line;
  QString name; ///< written at its end; may be empty
  QList<QPointF> points;
  friend bool operator==(const MapCurve&, const MapCurve&) = default;
};

/// A map in the units shown.
struct MapPicture {
  QString title;   ///< what is plotted, over what
  QString key;     ///< what the kinds of lines mean
  QString summary; ///< how much of a map there is, in a line
  std::vector<MapCurve> curves;
  TextTable points; ///< all that was measured
  std::optional<QPointF> working_point;
  QString working_words; ///< the working point in words; empty without one
};

/// Pressure ratio over corrected flow: lines of speed as the solver reads them between the points, with the
/// surge line through their first points and the choke line through their last. The map must be without
/// fault (an assertion). `flow`: what the compressor does now, or nullptr; `bypass`: the valve by which some
/// of it may go round again.
[[nodiscard]] MapPicture picture_of(const machine::CompressorMap& map,
                                    const std::optional<machine::BypassValve>& bypass,
                                    const flow::MachineFlow* flow);
/// Efficiencies over pressure ratio, a pair of lines for each speed. The map must be without fault.
[[nodiscard]] MapPicture picture_of(const std::vector<machine::BlowerMapPoint>& map,
                                    const flow::MachineFlow* flow);

} // namespace bellmouth::ui
