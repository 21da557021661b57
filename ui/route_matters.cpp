// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_matters.hpp"

#include "theme.hpp"

#include <QGridLayout>
#include <QLabel>
#include <QLocale>
#include <QSignalBlocker>
#include <QSlider>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

constexpr int usual_step = 10, steps = 2 * usual_step, widest_step = 12;
constexpr std::array members{&find::Matters::price, &find::Matters::drop, &find::Matters::joints,
                             &find::Matters::length};

double share_of(int step) {
  const double half = static_cast<double>(step) / usual_step;
  return half * half;
}
int step_of(double share) {
  return std::clamp(static_cast<int>(std::lround(usual_step * std::sqrt(std::max(0.0, share)))), 0, steps);
}
QString share_words(int step) {
  return step == 0            ? RouteMatters::tr("off")
         : step == usual_step ? QString()
                              : RouteMatters::tr("× %1").arg(QLocale().toString(share_of(step), 'g', 2));
}

} // namespace

RouteMatters::RouteMatters(QWidget* parent) : QWidget(parent) {
  setObjectName("route_matters");
  const std::array<QString, 4> names{tr("Price"), tr("Drop"), tr("Joints"), tr("Length")};
  const std::array<QString, 4> keys{"price", "drop", "joints", "length"};
  auto* grid = new QGridLayout(this);
  grid->setContentsMargins(0, 0, 0, 0);
  grid->setHorizontalSpacing(gap);
  grid->setVerticalSpacing(2);
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    auto* name = new QLabel(names[i], this);
    auto* slider = new QSlider(Qt::Horizontal, this);
    slider->setObjectName("route_matters_" + keys[i]);
    slider->setAccessibleName(tr("How much it matters: %1").arg(names[i]));
    slider->setToolTip(tr("Left: it does not matter; middle: as usual; right: four times as much"));
    slider->setRange(0, steps);
    slider->setPageStep(usual_step / 2);
    slider->setValue(usual_step);
    auto* words = new QLabel(this);
    words->setFont(small_font());
    words->setForegroundRole(QPalette::PlaceholderText);
    words->setFixedWidth(words->fontMetrics().horizontalAdvance(share_words(widest_step)));
    name->setBuddy(slider);
    constexpr int across = 3;
    const int row = static_cast<int>(i) / 2, column = across * (static_cast<int>(i) % 2);
    grid->addWidget(name, row, column);
    grid->addWidget(words, row, column + 1);
    grid->addWidget(slider, row, column + 2);
    grid->setColumnStretch(column + 2, 1);
    rows_[i] = {slider, words};
    connect(slider, &QSlider::valueChanged, this, [this] {
      refresh_words();
      emit changed();
    });
  }
  refresh_words();
}

void RouteMatters::show_matters(const find::Matters& matters) {
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    const QSignalBlocker quiet(rows_[i].slider);
    rows_[i].slider->setValue(step_of(matters.*members[i]));
  }
  refresh_words();
}

find::Matters RouteMatters::matters() const {
  find::Matters matters;
  for (std::size_t i = 0; i < rows_.size(); ++i)
    matters.*members[i] = share_of(rows_[i].slider->value());
  return matters;
}

void RouteMatters::refresh_words() {
  for (const Row& row : rows_)
    row.words->setText(share_words(row.slider->value()));
}

} // namespace bellmouth::ui
