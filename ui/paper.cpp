// SPDX-License-Identifier: GPL-3.0-or-later
#include "paper.hpp"

#include "caution.hpp"
#include "findings_model.hpp"
#include "list_tables.hpp"
#include "piece_text.hpp"
#include "threshold_text.hpp"
#include "units.hpp"

#include <bellmouth/build/thresholds.hpp>

#include <QAbstractTextDocumentLayout>
#include <QCoreApplication>
#include <QLocale>
#include <QPagedPaintDevice>
#include <QPainter>
#include <QTextDocument>

namespace bellmouth::ui {

namespace {

QString tr(const char* text) {
  return QCoreApplication::translate("Paper", text);
}
QString html(const QString& text) {
  return text.toHtmlEscaped();
}
QString html(const std::string& text) {
  return html(QString::fromStdString(text));
}
QString heading(const QString& text) {
  return "<h2>" + html(text) + "</h2>";
}
QString words(const QString& text) {
  return "<p>" + html(text) + "</p>";
}

/// A table whose head comes again on each page. Rows of cells that are HTML already.
class HtmlTable {
public:
  explicit HtmlTable(const QStringList& header, std::vector<bool> numbers = {})
      : numbers_(std::move(numbers)) {
    text_ = "<table width='100%' cellspacing='0' cellpadding='2' border='0.5' "
            "style='border-collapse:collapse; border-style:solid; border-color:#bbb;'><thead><tr>";
    for (int i = 0; i < header.size(); ++i)
      text_ += QString("<th align='%1' style='background-color:#eee;'>%2</th>")
                   .arg(is_number(i) ? "right" : "left", html(header[i]) + behind(i));
    text_ += "</tr></thead>";
  }
  void add(const QStringList& cells) {
    text_ += "<tr>";
    for (int i = 0; i < cells.size(); ++i)
      text_ += (is_number(i) ? "<td align='right'>" : "<td>") + cells[i] + behind(i) + "</td>";
    text_ += "</tr>";
  }
  /// A row over those that follow: each cell has the room of the empty ones behind it.
  void add_heading(const QStringList& cells) {
    text_ += "<tr>";
    for (int i = 0, across = 1; i < cells.size(); i += across) {
      across = 1;
      while (i + across < cells.size() && cells[i + across].isEmpty())
        ++across;
      text_ += QString("<td colspan='%1' align='%2' style='background-color:#f4f4f4;'><b>%3</b></td>")
                   .arg(across)
                   .arg(i > 0 && is_number(i) && across == 1 ? "right" : "left", cells[i] + behind(i));
    }
    text_ += "</tr>";
  }
  [[nodiscard]] QString text() const { return text_ + "</table>"; }

private:
  [[nodiscard]] bool is_number(int column) const {
    return static_cast<std::size_t>(column) < numbers_.size() && numbers_[static_cast<std::size_t>(column)];
  }
  /// Keeps a number off the words of the next column.
  [[nodiscard]] QString behind(int column) const { return is_number(column) ? "&nbsp;&nbsp;" : ""; }

  std::vector<bool> numbers_;
  QString text_;
};

QString list_html(const ListTable& list) {
  QString text = heading(list.title) + words(list.about + ".");
  if (list.rows.empty())
    return text + words(list.empty);
  HtmlTable table(list.header, list.number_columns());
  for (const ListRow& row : list.rows) {
    QStringList cells;
    for (const QString& cell : row.cells)
      cells << html(cell);
    if (row.heading)
      table.add_heading(cells);
    else
      table.add(cells);
  }
  return text + table.text();
}

QString money_html(const Paper& paper) {
  if (paper.known.purchase == nullptr)
    return {};
  QString text = heading(tr("Money")) + "<p>";
  for (const QString& line : money_words(paper.build, *paper.known.purchase))
    text += html(line) + ".<br>";
  return text + "</p>";
}

QString findings_html(const Paper& paper, bool waived) {
  HtmlTable table({tr("Severity"), tr("Where"), tr("What"), waived ? tr("Waived because") : tr("Why")});
  int count = 0;
  for (const check::Finding& finding : paper.known.all_findings()) {
    if (finding.waived.has_value() != waived)
      continue;
    ++count;
    table.add({html(severity_word(finding.severity)), html(finding.where.text), html(finding.message),
               html(finding.waived ? *finding.waived : finding.reason)});
  }
  const QString title = heading(waived ? tr("Findings that are waived") : tr("Findings"));
  if (count > 0)
    return title + table.text();
  return waived ? QString()
                : title + words(tr("None. The checks see only what is written into the build; this is no "
                                   "proof that it is right."));
}

QString thresholds_html(const build::Build& build) {
  if (build.thresholds.empty())
    return {};
  HtmlTable table({tr("Threshold"), tr("Holds here"), tr("Trade"), tr("Source of the trade's")});
  for (const build::ChangedThreshold& changed : build.thresholds)
    if (const trade::Threshold* threshold = trade::find(changed.key))
      table.add({html(words_of(threshold->title)), html(show_threshold(*threshold, build::limits_of(build))),
                 html(show_threshold(*threshold, trade::defaults())),
                 html(words_of(trade::text(threshold->source)))});
  return heading(tr("Thresholds that this build has changed")) + table.text();
}

QString title_of(const Paper& paper) {
  return paper.build.title.empty() ? tr("Build without a title") : QString::fromStdString(paper.build.title);
}

QString about_html(const Paper& paper) {
  QString text = "<h1>" + html(title_of(paper)) + "</h1><p>" +
                 html(tr("Option: %1").arg(option_name(paper.known.evaluation.option))) + "<br>" +
                 html(tr("Printed on %1").arg(QLocale().toString(paper.date, QLocale::LongFormat)));
  if (paper.engine_speed_rev_s > 0)
    text += "<br>" +
            html(tr("Pressures and temperatures at %1").arg(show_engine_speed(paper.engine_speed_rev_s)));
  text += "</p>";
  if (!paper.build.note.empty())
    text += "<p>" + html(paper.build.note).replace('\n', "<br>") + "</p>";
  return text;
}

} // namespace

QString paper_html(const Paper& paper) {
  QString text = about_html(paper);
  for (const ListTable& list : list_tables(paper.build, paper.known.evaluation, paper.known.purchase)) {
    text += list_html(list);
    if (list.key == "shopping")
      text += money_html(paper);
  }
  text += findings_html(paper, false) + findings_html(paper, true) + thresholds_html(paper.build);
  return text + heading(tr("Before the first start")) + caution_html();
}

int print_paper(const Paper& paper, QPagedPaintDevice& device) {
  QPainter painter;
  if (!painter.begin(&device))
    return 0;
  const QFont font("DejaVu Sans", 7);
  QTextDocument document;
  document.documentLayout()->setPaintDevice(&device);
  document.setDefaultFont(font);
  document.setDefaultStyleSheet("h1 { font-size: 14pt; } h2 { font-size: 10pt; } td, th { font-size: 7pt; }");
  document.setHtml(paper_html(paper));
  painter.setFont(font);
  const QFontMetricsF metrics(font, &device);
  const double line = metrics.height(), band = 2 * line;
  const double width = device.width(), height = device.height();
  const QSizeF body(width, height - 2 * band);
  document.setDocumentMargin(0);
  document.setPageSize(body);
  const int pages = document.pageCount();
  for (int page = 0; page < pages; ++page) {
    if (page > 0)
      device.newPage();
    painter.setPen(Qt::black);
    const QRectF top(0, 0, width, line), bottom(0, height - line, width, line);
    painter.drawText(top, Qt::AlignLeft,
                     tr("%1, option %2").arg(title_of(paper), option_name(paper.known.evaluation.option)));
    painter.drawText(top, Qt::AlignRight, QLocale().toString(paper.date, QLocale::ShortFormat));
    painter.drawText(bottom, Qt::AlignLeft, tr("This program advises. It does not certify anything."));
    painter.drawText(bottom, Qt::AlignRight, tr("Page %1 of %2").arg(page + 1).arg(pages));
    painter.save();
    painter.translate(0, band - page * body.height());
    QAbstractTextDocumentLayout::PaintContext context;
    context.clip = QRectF(0, page * body.height(), width, body.height());
    context.palette.setColor(QPalette::Text, Qt::black);
    painter.setClipRect(context.clip);
    document.documentLayout()->draw(&painter, context);
    painter.restore();
  }
  return painter.end() ? pages : 0;
}

} // namespace bellmouth::ui
