// SPDX-License-Identifier: GPL-3.0-or-later
#include "path_chart.hpp"

#include "art_tools.hpp"
#include "figures.hpp"
#include "piece_text.hpp"
#include "strip_chart.hpp"
#include "units.hpp"

#include <QEvent>
#include <QLabel>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace bellmouth::ui {

using quantity::Dimension;

namespace {

QString unit_of(Dimension dimension) {
  const auto unit = shown_unit(dimension);
  return QString::fromUtf8(unit.data(), static_cast<qsizetype>(unit.size()));
}

double total_pressure(const flow::PathPoint& point) {
  return in_shown_unit(Dimension::pressure, point.total_pressure_Pa);
}
double static_pressure(const flow::PathPoint& point) {
  return in_shown_unit(Dimension::pressure, point.static_pressure_Pa);
}
double velocity(const flow::PathPoint& point) {
  return in_shown_unit(Dimension::velocity, point.velocity_m_s);
}
double temperature(const flow::PathPoint& point) {
  return in_shown_unit(Dimension::temperature, point.total_temperature_K);
}

} // namespace

PathChart::PathChart(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), stack_(new QStackedWidget(this)), empty_(new QLabel(this)),
      pressure_(new StripChart("chart_pressure", StripChart::Place::topmost, this)),
      velocity_(new StripChart("chart_velocity", StripChart::Place::middle, this)),
      temperature_(new StripChart("chart_temperature", StripChart::Place::lowest, this)) {
  setObjectName("path_chart");
  setAccessibleName("Pressure, velocity and temperature along the path");
  empty_->setObjectName("chart_empty");
  empty_->setAlignment(Qt::AlignCenter);
  empty_->setWordWrap(true);
  auto* charts = new QWidget(this);
  auto* column = new QVBoxLayout(charts);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(0);
  column->addWidget(pressure_, 5);
  column->addWidget(velocity_, 4);
  column->addWidget(temperature_, 5);
  stack_->addWidget(charts);
  stack_->addWidget(empty_);
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(0, 0, 0, 0);
  all->addWidget(stack_);

  for (StripChart* strip : {pressure_, velocity_, temperature_}) {
    connect(strip, &StripChart::hovered, this, &PathChart::hover);
    connect(strip, &StripChart::picked, this, &PathChart::pick);
  }
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & (Change::document | Change::evaluation | Change::rival)) {
      stale_ = true;
      if (isVisible())
        refresh();
    } else if ((changes & Change::selection) && !stale_) {
      mark_selection();
    }
  });
  restyle();
}

void PathChart::restyle() {
  const Theme& colours = theme();
  const StripLine rival{rival_name_, colours.rival, Qt::DashLine, 1.2};
  pressure_->set_lines({rival,
                        {"static", mixed(colours.pressure, colours.panel, 0.45), Qt::SolidLine, 1.4},
                        {"total", colours.pressure, Qt::SolidLine, 2.2}});
  velocity_->set_lines({rival, {"velocity", colours.velocity, Qt::SolidLine, 2.2}});
  temperature_->set_lines({rival, {"total", colours.temperature, Qt::SolidLine, 2.2}});
  for (StripChart* strip : {pressure_, velocity_, temperature_})
    strip->apply_theme();
}

void PathChart::refresh() {
  stale_ = false;
  const Evaluation& evaluation = session_.evaluation();
  const bool usable = evaluation.path.point.usable() && !evaluation.path.profile.empty();
  stack_->setCurrentIndex(usable ? 0 : 1);
  empty_->setText(trouble(evaluation));
  if (!usable) {
    spans_ = PathSpans();
    return;
  }

  const Evaluation* rival = session_.rival_evaluation();
  if (const QString name = rival ? option_name(rival->option) : QString(); name != rival_name_) {
    rival_name_ = name;
    restyle();
  }
  // One band width for both, so that their curves lie over each other.
  const double band_m = PathSpans::fair_band_m(evaluation);
  spans_ = PathSpans(session_.build(), evaluation, band_m);
  rival_spans_ =
      rival && rival->path.point.usable() ? PathSpans(session_.build(), *rival, band_m) : PathSpans();
  pressure_->set_title("Pressure, " + unit_of(Dimension::pressure) + " abs");
  velocity_->set_title("Velocity, " + unit_of(Dimension::velocity));
  temperature_->set_title("Total temperature, " + unit_of(Dimension::temperature));
  pressure_->show_points(spans_, {rival_spans_.points(total_pressure), spans_.points(static_pressure),
                                  spans_.points(total_pressure)});
  velocity_->show_points(spans_, {rival_spans_.points(velocity), spans_.points(velocity)});
  temperature_->show_points(spans_, {rival_spans_.points(temperature), spans_.points(temperature)});
  mark_selection();
}

void PathChart::mark_selection() {
  std::optional<std::pair<double, double>> part;
  if (const PathPart* picked = spans_.part_of(session_.selection()))
    part = {picked->from_x, picked->to_x};
  if (const auto* run = std::get_if<PickedRun>(&session_.selection()))
    for (const PathSpan& span : spans_.spans())
      if (!span.machine && std::get<build::RunId>(session_.build().path[span.step]) == run->run)
        part = {span.from_x, span.to_x};
  for (StripChart* strip : {pressure_, velocity_, temperature_})
    strip->mark(part);
}

void PathChart::hover(std::optional<double> x) {
  const auto state = x ? spans_.state_at(*x) : std::nullopt;
  if (!state) {
    for (StripChart* strip : {pressure_, velocity_, temperature_})
      strip->set_cursor(std::nullopt, {});
    return;
  }
  pressure_->set_cursor(x, show_length(state->distance_m) + ":  total " +
                               show_pressure_abs(state->total_pressure_Pa) + ", static " +
                               show_pressure_abs(state->static_pressure_Pa));
  velocity_->set_cursor(x, show_velocity(state->velocity_m_s) + ", Mach " + show_ratio(state->mach));
  temperature_->set_cursor(x, show_temperature(state->total_temperature_K));
}

QString PathChart::read_out(double x) const {
  const auto state = spans_.state_at(x);
  if (!state)
    return {};
  return QString("%1: total %2, static %3, %4, Mach %5, %6")
      .arg(show_length(state->distance_m), show_pressure_abs(state->total_pressure_Pa),
           show_pressure_abs(state->static_pressure_Pa), show_velocity(state->velocity_m_s),
           show_ratio(state->mach), show_temperature(state->total_temperature_K));
}

void PathChart::pick(double x) {
  if (const PathPart* part = spans_.part_at(x))
    session_.select(part->selection);
}

void PathChart::showEvent(QShowEvent* event) {
  QWidget::showEvent(event);
  if (stale_)
    refresh();
}

void PathChart::changeEvent(QEvent* event) {
  QWidget::changeEvent(event);
  if (event->type() == QEvent::PaletteChange)
    restyle();
}

} // namespace bellmouth::ui
