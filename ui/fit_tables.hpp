// SPDX-License-Identifier: GPL-3.0-or-later
// A log of measurements, and what a fit to it found, as tables and words.
#pragma once

#include "ranked_table.hpp"

#include <bellmouth/fit.hpp>

#include <QList>
#include <QPointF>

namespace bellmouth::ui {

/// A value in the unit and with the name that the screen uses: "pressure" reads "kPa abs".
[[nodiscard]] QString channel_unit(const fit::Channel& channel);
[[nodiscard]] QString coefficient_name(build::Coefficient coefficient); ///< "Filter drop"

/// \name Columns
///@{
enum ChannelColumn {
  channel_name,
  channel_readings,
  channel_sigma,
  channel_before,
  channel_after,
  channel_outliers
};
enum FittedColumn { fitted_name, fitted_remark, fitted_before, fitted_factor, fitted_interval };
///@}

/// The channels of a log, in its order; with `fit`, what they are off by before and after.
[[nodiscard]] Ranking channels_ranking(const fit::Log& log, const fit::Fit* fit);
/// The coefficients that were freed, and those that were held.
[[nodiscard]] Ranking coefficients_ranking(const fit::Fit& fit);
/// "180 readings in 30 rows, 900 to 6200 rpm".
[[nodiscard]] QString log_words(const fit::Log& log);
/// How the fit ended, and how far its readings scatter.
[[nodiscard]] QString fit_words(const fit::Fit& fit);

/// One channel over engine speed, in the units shown, ordered by speed: x in rpm.
struct ChannelCurves {
  QString title, across, up; ///< of the chart and its axes
  QList<QPointF> measured, outliers, before, after;
};
[[nodiscard]] ChannelCurves channel_curves(const fit::Log& log, const fit::Fit* fit, std::size_t channel);

} // namespace bellmouth::ui
