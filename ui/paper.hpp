// SPDX-License-Identifier: GPL-3.0-or-later
// All lists and findings of an option on paper.
#pragma once

#include "figures.hpp"

#include <QDate>
#include <QString>

class QPagedPaintDevice;

namespace bellmouth::ui {

/// What is printed.
struct Paper {
  const build::Build& build;
  const Known known;
  QDate date; ///< that is printed
  double engine_speed_rev_s = 0;
};

/// As HTML: what it is about, the lists, money, findings, what is waived and why, changed thresholds, what to
/// mind.
[[nodiscard]] QString paper_html(const Paper& paper);
/// Prints it on any number of pages, each with title, option, date and number. How many; 0: the device could
/// not be written to.
[[nodiscard]] int print_paper(const Paper& paper, QPagedPaintDevice& device);

} // namespace bellmouth::ui
