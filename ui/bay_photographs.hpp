// SPDX-License-Identifier: GPL-3.0-or-later
// Photographs that lie under the bay, seen square on.
#pragma once

#include "bay_handles.hpp"

#include <QImage>
#include <QString>
#include <QTransform>

#include <map>
#include <optional>
#include <vector>

class QPainter;

namespace bellmouth::ui {

/// Takes a photograph's pixels to the view; nothing unless it is looked at in parallel projection from its
/// own side, or while its two points lie at one place of the view.
[[nodiscard]] std::optional<QTransform> photograph_transform(const build::Photograph& photograph,
                                                             const BayLookout& lookout);

/// Reads the images as they are needed, and remembers those that cannot be read.
class BayPhotographs {
public:
  /// Whether one of the build's photographs lies under the view as it is looked at now.
  [[nodiscard]] bool any_shown(const build::Build& build, const BayLookout& lookout) const;
  /// Draws those that do. File names are seen from `folder`.
  void paint(QPainter& painter, const build::Build& build, const QString& folder, const BayLookout& lookout);
  /// Why images could not be read, a sentence each.
  [[nodiscard]] QStringList problems() const;
  void forget() { images_.clear(); }

private:
  struct Read {
    QImage image;
    QString problem;
  };
  [[nodiscard]] const Read& image(const QString& path);
  std::map<QString, Read> images_;
};

} // namespace bellmouth::ui
