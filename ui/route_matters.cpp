// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_matters.hpp"

#include "theme.hpp"
#include "units.hpp"

#include <QGridLayout>
#include <QLabel>
#include <QSignalBlocker>
#include <QSlider>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

constexpr int usual_step = 10, steps = 2 * usual_step;
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
  return step == 0            ? RouteMatters::tr("not at all")
         : step == usual_step ? RouteMatters::tr("usual")
                              : RouteMatters::tr("× %1").arg(show_ratio(share_of(step)));
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
    words->setFixedWidth(words->fontMetrics().horizontalAdvance(tr("not at all")) + gap);
    name->setBuddy(slider);
    const int row = static_cast<int>(i);
    grid->addWidget(name, row, 0);
    grid->addWidget(slider, row, 1);
    grid->addWidget(words, row, 2);
    rows_[i] = {slider, words};
    connect(slider, &QSlider::valueChanged, this, [this] {
      refresh_words();
      emit changed();
    });
  }
  grid->setColumnStretch(1, 1);
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
