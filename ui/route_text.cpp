// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_text.hpp"

#include "units.hpp"

#include <bellmouth/bay/names.hpp>

#include <QCoreApplication>
#include <QLocale>

#include <algorithm>
#include <cassert>

namespace bellmouth::ui {

namespace {

QString tr(const char* text) {
  return QCoreApplication::translate("Routes", text);
}
QString words(const std::string& text) {
  return QString::fromStdString(text);
}
QString counted(std::size_t count, const char* one, const char* more) {
  return count == 1 ? tr(one) : tr(more).arg(count);
}
QString cost_text(double cost) {
  constexpr int digits = 4;
  return QLocale().toString(cost, 'g', digits);
}

QString closest_words(const bay::Gap& gap, const RouteGhost& ghost) {
  const build::Option* option = ghost.build.find(ghost.evaluation.option);
  assert(option);
  const QString neighbour = words(bay::name_of(ghost.build, *option, gap.neighbour));
  if (gap.distance_m < 0)
    return tr("goes %1 into %2").arg(show_length(-gap.distance_m), neighbour);
  // The bay shows one state of it; the figure is the least of all.
  const QString text = gap.margin_m() < 0           ? tr("only %1 to %2 (%3 asked)")
                       : ghost.build.states.empty() ? tr("%1 to %2 (%3 asked)")
                                                    : tr("at worst %1 to %2 (%3 asked)");
  return text.arg(show_length(gap.distance_m), neighbour, show_length(gap.required_m));
}

/// "adds 1 stop, 2 cautions": notes are left out.
QString findings_words(const std::vector<check::Finding>& findings) {
  const auto count = [&](check::Severity severity) {
    return static_cast<std::size_t>(std::ranges::count(findings, severity, &check::Finding::severity));
  };
  QStringList parts;
  if (const std::size_t stops = count(check::Severity::stop); stops > 0)
    parts << counted(stops, "1 stop", "%1 stops");
  if (const std::size_t cautions = count(check::Severity::caution); cautions > 0)
    parts << counted(cautions, "1 caution", "%1 cautions");
  return parts.isEmpty() ? QString() : tr("adds %1").arg(parts.join(", "));
}

} // namespace

QString route_title(const find::Proposal& route, std::size_t number) {
  const QString differs = words(route.differs);
  return differs.isEmpty() ? tr("Route %1").arg(number + 1) : differs.left(1).toUpper() + differs.mid(1);
}

QStringList route_lines(const find::Proposal& route, const RouteGhost& ghost) {
  const QString dot = QString::fromUtf8(" · ");
  QStringList lines{show_money(route.price) + dot + show_pressure_difference(route.drop_Pa),
                    counted(static_cast<std::size_t>(route.joints), "1 joint", "%1 joints") + dot +
                        show_length(route.length_m) + dot + show_volume(route.volume_m3),
                    tr("ends %1 off").arg(show_length(route.end.gap_m))};
  if (const QString findings = findings_words(route.findings); !findings.isEmpty())
    lines.back() += dot + findings;
  if (route.closest)
    lines << closest_words(*route.closest, ghost);
  return lines;
}

QString progress_words(const RouteSearch::Progress& progress) {
  QString text = tr("%1 s, %2 rounds").arg(QLocale().toString(progress.seconds, 'f', 1)).arg(progress.rounds);
  if (progress.best_cost)
    text += tr(", best cost %1").arg(cost_text(*progress.best_cost));
  return text;
}

QString progress_tip(const RouteSearch::Progress& progress) {
  QStringList lines{tr("The cost adds price, drop, joints and length up, each as much as it matters.")};
  if (progress.best_cost)
    lines << (progress.exhausted
                  ? tr("By the search's own count nothing that is left to try costs less than the best.")
                  : tr("By the search's own count no route costs less than %1.")
                        .arg(cost_text(progress.least_cost)));
  return lines.join(' ');
}

QString route_tip(const find::Proposal& route) {
  QStringList lines{tr("Enter or a double click makes an option of it.")};
  for (const check::Finding& finding : route.findings)
    lines << QString::fromUtf8("• ") + words(finding.where.text + ": " + finding.message);
  return lines.join('\n');
}

} // namespace bellmouth::ui
