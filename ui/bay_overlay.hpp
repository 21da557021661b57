// SPDX-License-Identifier: GPL-3.0-or-later
// What is drawn over the picture of the bay: names, gaps, tight places, axes, scale, legend.
#pragma once

#include "bay_handles.hpp"
#include "bay_scene.hpp"
#include "bay_states.hpp"
#include "session.hpp"
#include "theme.hpp"

#include <QLineF>
#include <QRectF>
#include <QStringList>

#include <optional>
#include <vector>

class QPainter;

namespace bellmouth::ui {

/// \name Words
///@{
/// How a run's end stands off its port: "12.3 mm and 4.2° off"; empty where it meets it or a port is not
/// measured.
[[nodiscard]] QString gap_words(const RunResult& run);
/// How each run ends, one line each.
[[nodiscard]] QStringList meeting_lines(const Evaluation& evaluation);
/// Two points' distance and how far apart they are forward, left and up.
[[nodiscard]] QString distance_words(const build::Vector& from_m, const build::Vector& to_m);
///@}

/// \name Labels that do not cover each other
///@{
/// A name, and the boxes in which it may stand, best first.
struct BayLabel {
  QString text;
  std::vector<QRectF> places;
};
/// A box for each label in turn, within the pane and clear of the boxes before it and of `taken`; null where
/// a label finds no room.
[[nodiscard]] std::vector<QRectF> place_bay_labels(const std::vector<BayLabel>& labels, const QRectF& pane,
                                                   std::vector<QRectF> taken);
///@}

/// All that the overlay needs to know.
struct BayOverlay {
  const Session& session;
  BayLookout lookout;
  const Theme& colours;
  std::vector<TightPlace> tight_places;
  std::optional<BayLegend> legend;
  QString corner_words;                                      ///< beneath the axes
  std::optional<scene::SectionPlane> section = std::nullopt; ///< what it cuts away has no words
};
void paint_overlay(QPainter& painter, const BayOverlay& overlay);

/// A grip and the words beside it: of the value that is dragged, or why it is refused.
void paint_grips(QPainter& painter, const std::vector<BayGrip>& grips, std::optional<std::size_t> active,
                 const QString& words, bool refused, const BayLookout& lookout, const Theme& colours);
/// The line between two measured points, or from the first to where the pointer is.
void paint_measure(QPainter& painter, const std::vector<build::Vector>& points_m, const BayLookout& lookout,
                   const Theme& colours);
/// A ring where a dropped piece would go.
void paint_drop(QPainter& painter, QPointF at, const Theme& colours);

/// A piece of text on a plate, its middle where wanted but within the pane.
QRectF paint_plate(QPainter& painter, const QString& text, QPointF middle, const QRectF& pane,
                   const QColor& ink, const Theme& colours);

} // namespace bellmouth::ui
