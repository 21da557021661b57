// SPDX-License-Identifier: GPL-3.0-or-later
#include "fit_tables.hpp"

#include "units.hpp"

#include <QCoreApplication>
#include <QLocale>

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

using quantity::Dimension;

QString tr(const char* text) {
  return QCoreApplication::translate("FitTables", text);
}

/// The size of a difference between two values of a channel.
QString show_size(const fit::Channel& channel, double size_si) {
  switch (channel.dimension) {
  case Dimension::pressure:
    return show_pressure_difference(size_si);
  case Dimension::temperature:
    return show_temperature_difference(size_si);
  default:
    return show_mass_flow(size_si);
  }
}
RankedCell size_cell(const fit::Channel& channel, double size_si) {
  return {show_size(channel, size_si), size_si};
}
RankedCell count_cell(std::size_t count) {
  return {show_count(static_cast<double>(count)), static_cast<double>(count)};
}

QString sigma_text(const fit::Channel& channel) {
  QStringList parts;
  if (channel.sigma.absolute > 0)
    parts << show_size(channel, channel.sigma.absolute);
  if (channel.sigma.relative > 0)
    parts << show_percent(channel.sigma.relative, 0);
  return parts.join(" + ");
}

std::size_t readings_of(const fit::Log& log, std::size_t channel) {
  return static_cast<std::size_t>(std::ranges::count_if(
      log.rows, [channel](const fit::LogRow& row) { return row.readings[channel].has_value(); }));
}

QString factor_text(double factor) {
  return show_ratio(factor, 3);
}

QString remark_of(const fit::Fitted& fitted) {
  switch (fitted.at_bound) {
  case fit::Bound::least:
    return tr("at the least factor it may have");
  case fit::Bound::greatest:
    return tr("at the greatest factor it may have");
  case fit::Bound::none:
    break;
  }
  return fitted.determined() ? QString() : tr("not determined by this log");
}

QString remark_of(const fit::Held& held) {
  return held.mistaken_for
             ? tr("left as found: looks like %1").arg(coefficient_name(*held.mistaken_for).toLower())
             : tr("left as found: not seen by this log");
}

QList<QPointF> by_speed(QList<QPointF> points) {
  std::ranges::stable_sort(points, {}, [](const QPointF& point) { return point.x(); });
  return points;
}

} // namespace

QString channel_unit(const fit::Channel& channel) {
  const auto unit = shown_unit(channel.dimension);
  const QString symbol = QString::fromUtf8(unit.data(), static_cast<qsizetype>(unit.size()));
  return channel.dimension == Dimension::pressure ? symbol + " abs" : symbol;
}

QString coefficient_name(build::Coefficient coefficient) {
  const auto words = fit::name(coefficient);
  QString name = QString::fromUtf8(words.data(), static_cast<qsizetype>(words.size()));
  name[0] = name[0].toUpper();
  return name;
}

Ranking channels_ranking(const fit::Log& log, const fit::Fit* fit) {
  Ranking ranking{
      {{tr("Channel"), false, tr("As the log's header has it")},
       {tr("Readings"), true, fit ? tr("In rows with an operating point") : tr("Cells that are not empty")},
       {tr("Taken as"), true,
        tr("Standard deviation of one reading: what the sensor and the model are off by")}},
      {}};
  if (fit) {
    ranking.columns.push_back({tr("Off before"), true, tr("Root mean square of prediction less reading")});
    ranking.columns.push_back({tr("Off after"), true, tr("The same with the fitted factors")});
    ranking.columns.push_back({tr("Outliers"), true, tr("Readings that count for less than half")});
  }
  for (std::size_t i = 0; i < log.channels.size(); ++i) {
    const fit::Channel& channel = log.channels[i];
    RankedRow row{.cells = {{QString::fromStdString(channel.column), static_cast<double>(i)},
                            count_cell(fit ? fit->channel_reports[i].readings : readings_of(log, i)),
                            {sigma_text(channel), {}}},
                  .tip = {},
                  .leads_to = {}};
    if (fit) {
      const fit::ChannelReport& report = fit->channel_reports[i];
      row.cells.push_back(size_cell(channel, report.rms_before));
      row.cells.push_back(size_cell(channel, report.rms));
      row.tip = tr("%1; mean of prediction less reading: %2 before, %3 after")
                    .arg(QString::fromStdString(channel.column), show_size(channel, report.bias_before),
                         show_size(channel, report.bias));
      row.cells.push_back(count_cell(report.outliers));
    }
    ranking.rows.push_back(std::move(row));
  }
  return ranking;
}

Ranking coefficients_ranking(const fit::Fit& fit) {
  Ranking ranking{
      {{tr("Coefficient"), false, tr("What of the build is multiplied with the factor")},
       {tr("Remark"), false, {}},
       {tr("Before"), true, tr("Factor at the start")},
       {tr("Factor"), true, tr("On the build's own figure")},
       {tr("95 % interval"), true, tr("Where the factor lies 19 times in 20, if the model holds")}},
      {}};
  const auto name_cell = [](build::Coefficient coefficient) {
    return RankedCell{coefficient_name(coefficient), static_cast<double>(coefficient)};
  };
  const RankedCell nothing{"–", 0.0};
  for (const fit::Fitted& fitted : fit.coefficients)
    ranking.rows.push_back(
        {.cells = {name_cell(fitted.coefficient),
                   {remark_of(fitted), {}},
                   {factor_text(fitted.start), fitted.start},
                   {factor_text(fitted.factor), fitted.factor},
                   fitted.determined()
                       ? RankedCell{tr("%1 to %2").arg(factor_text(fitted.low), factor_text(fitted.high)),
                                    fitted.band}
                       : nothing},
         .tip = {},
         .leads_to = {},
         .strong = true});
  for (const fit::Held& held : fit.held)
    ranking.rows.push_back({.cells = {name_cell(held.coefficient),
                                      {remark_of(held), {}},
                                      {factor_text(held.factor), held.factor},
                                      nothing,
                                      nothing},
                            .tip = {},
                            .leads_to = {}});
  return ranking;
}

QString log_words(const fit::Log& log) {
  const auto [slowest, fastest] = std::ranges::minmax(log.rows, {}, &fit::LogRow::engine_speed_rev_s);
  std::size_t readings = 0;
  for (std::size_t i = 0; i < log.channels.size(); ++i)
    readings += readings_of(log, i);
  QString words =
      tr("%1 readings in %2 rows, %3 to %4")
          .arg(show_count(static_cast<double>(readings)), show_count(static_cast<double>(log.rows.size())),
               show_engine_speed(slowest.engine_speed_rev_s), show_engine_speed(fastest.engine_speed_rev_s));
  if (!log.ignored.empty())
    words += "; " + (log.ignored.size() == 1 ? tr("1 column not read")
                                             : tr("%1 columns not read").arg(log.ignored.size()));
  return words;
}

QString fit_words(const fit::Fit& fit) {
  const std::string_view text = fit::text(fit.stop);
  QString how = QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size()));
  how[0] = how[0].toUpper();
  if (!fit.usable())
    return how + ".";
  return tr("%1 after %2 steps. %3 readings scatter %4 times as much as they were taken to.")
      .arg(how)
      .arg(fit.iterations)
      .arg(show_count(static_cast<double>(fit.readings)), show_ratio(fit.scatter));
}

ChannelCurves channel_curves(const fit::Log& log, const fit::Fit* fit, std::size_t channel) {
  const fit::Channel& what = log.channels[channel];
  ChannelCurves curves{.title = QString::fromStdString(what.column),
                       .across = tr("engine speed, rpm"),
                       .up = channel_unit(what),
                       .measured = {},
                       .outliers = {},
                       .before = {},
                       .after = {}};
  const auto add = [&](QList<QPointF>& points, double speed_rev_s, double value) {
    points.push_back(
        {in_shown_unit(Dimension::rotational_speed, speed_rev_s), in_shown_unit(what.dimension, value)});
  };
  if (fit == nullptr) {
    for (const fit::LogRow& row : log.rows)
      if (row.readings[channel])
        add(curves.measured, row.engine_speed_rev_s, *row.readings[channel]);
  } else {
    for (const fit::RowReport& row : fit->rows) {
      if (channel >= row.readings.size() || !row.readings[channel])
        continue;
      const fit::Reading& reading = *row.readings[channel];
      add(reading.outlier() ? curves.outliers : curves.measured, row.engine_speed_rev_s, reading.measured);
      add(curves.before, row.engine_speed_rev_s, reading.predicted_before);
      add(curves.after, row.engine_speed_rev_s, reading.predicted);
    }
  }
  for (QList<QPointF>* points : {&curves.measured, &curves.outliers, &curves.before, &curves.after})
    *points = by_speed(std::move(*points));
  return curves;
}

} // namespace bellmouth::ui
