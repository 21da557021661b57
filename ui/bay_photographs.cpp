// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_photographs.hpp"

#include "scene/vector.hpp"

#include <QDir>
#include <QImageReader>
#include <QPainter>
#include <QStringList>

#include <cmath>
#include <complex>

namespace bellmouth::ui {

namespace {

/// The way the camera looks at a photograph that was taken from a side.
build::Vector way_of(build::Photograph::View view) {
  switch (view) {
  case build::Photograph::View::above:
    return {0, 0, -1};
  case build::Photograph::View::left:
    return {0, -1, 0};
  case build::Photograph::View::right:
    return {0, 1, 0};
  case build::Photograph::View::front:
    return {-1, 0, 0};
  }
  return {};
}

} // namespace

std::optional<QTransform> photograph_transform(const build::Photograph& photograph,
                                               const BayLookout& lookout) {
  constexpr double square_on = 1 - 1e-6;
  if (lookout.camera.perspective || scene::dot(lookout.camera.forward(), way_of(photograph.view)) < square_on)
    return std::nullopt;
  using Complex = std::complex<double>;
  const auto seen = [&](const build::Vector& point) {
    const QPointF at = lookout.camera.project(point, lookout.viewport).pixel;
    return Complex(at.x(), at.y());
  };
  const Complex from(photograph.first_px[0], photograph.first_px[1]),
      to(photograph.second_px[0], photograph.second_px[1]);
  const Complex from_seen = seen(photograph.first_m), to_seen = seen(photograph.second_m);
  if (std::abs(to - from) < 1e-9 || std::abs(to_seen - from_seen) < 1e-9)
    return std::nullopt;
  // Turned, scaled and shifted so that both points lie where they should: z -> a z + b.
  const Complex a = (to_seen - from_seen) / (to - from), b = from_seen - a * from;
  return QTransform(a.real(), a.imag(), -a.imag(), a.real(), b.real(), b.imag());
}

bool BayPhotographs::any_shown(const build::Build& build, const BayLookout& lookout) const {
  for (const build::Photograph& photograph : build.photographs)
    if (photograph_transform(photograph, lookout))
      return true;
  return false;
}

const BayPhotographs::Read& BayPhotographs::image(const QString& path) {
  const auto known = images_.find(path);
  if (known != images_.end())
    return known->second;
  QImageReader reader(path);
  reader.setAutoTransform(true);
  Read read{reader.read(), {}};
  if (read.image.isNull())
    read.problem = QString("Photograph %1: %2").arg(path, reader.errorString());
  return images_.emplace(path, std::move(read)).first->second;
}

void BayPhotographs::paint(QPainter& painter, const build::Build& build, const QString& folder,
                           const BayLookout& lookout) {
  for (const build::Photograph& photograph : build.photographs) {
    const auto transform = photograph_transform(photograph, lookout);
    if (!transform)
      continue;
    const QImage& picture = image(QDir(folder).filePath(QString::fromStdString(photograph.file))).image;
    if (picture.isNull())
      continue;
    painter.save();
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    painter.setTransform(*transform, true);
    painter.drawImage(QPointF(0, 0), picture);
    painter.restore();
  }
}

QStringList BayPhotographs::problems() const {
  QStringList all;
  for (const auto& [path, read] : images_)
    if (!read.problem.isEmpty())
      all << read.problem;
  return all;
}

} // namespace bellmouth::ui
