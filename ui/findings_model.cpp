// SPDX-License-Identifier: GPL-3.0-or-later
#include "findings_model.hpp"

#include <algorithm>

namespace bellmouth::ui {

QString severity_word(check::Severity severity) {
  switch (severity) {
  case check::Severity::stop:
    return "Stop";
  case check::Severity::caution:
    return "Caution";
  case check::Severity::note:
    break;
  }
  return "Note";
}

void FindingsModel::set_findings(const std::vector<check::Finding>& findings) {
  std::vector<check::Finding> sorted = findings;
  std::ranges::stable_sort(sorted, std::ranges::greater(), &check::Finding::severity);
  if (sorted == findings_)
    return;
  beginResetModel();
  findings_ = std::move(sorted);
  endResetModel();
}

const check::Finding& FindingsModel::finding(int row) const {
  return findings_.at(static_cast<std::size_t>(row));
}

int FindingsModel::count(check::Severity severity) const {
  return static_cast<int>(std::ranges::count(findings_, severity, &check::Finding::severity));
}

int FindingsModel::rowCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(findings_.size());
}

/// What a rule is called and what it rests on, for whoever wants to look it up.
static QString basis_of(std::string_view key) {
  const auto text = [](std::string_view words) {
    return QString::fromUtf8(words.data(), static_cast<qsizetype>(words.size()));
  };
  const auto all = check::rules();
  const auto rule = std::ranges::find(all, key, &check::Rule::key);
  if (rule == all.end())
    return text(key);
  return QString("<b>%1</b><br>%2<br>Source: %3<br>Rule: %4")
      .arg(text(rule->title).toHtmlEscaped(), text(rule->basis).toHtmlEscaped(),
           text(check::text(rule->source)), text(key));
}

QVariant FindingsModel::data(const QModelIndex& index, int role) const {
  if (!index.isValid())
    return {};
  const check::Finding& what = finding(index.row());
  const QString word = severity_word(what.severity), where = QString::fromStdString(what.where.text),
                message = QString::fromStdString(what.message), reason = QString::fromStdString(what.reason);
  switch (role) {
  case Qt::DisplayRole:
  case message_role:
    return message;
  case where_role:
    return where;
  case reason_role:
    return reason;
  case severity_role:
    return static_cast<int>(what.severity);
  case Qt::AccessibleTextRole:
    return QString("%1, %2: %3 %4").arg(word, where, message, reason);
  case Qt::ToolTipRole:
    return basis_of(what.rule);
  default:
    return {};
  }
}

void FindingsFilter::set_least(check::Severity least) {
  least_ = least;
  invalidateFilter();
}

bool FindingsFilter::filterAcceptsRow(int source_row, const QModelIndex& source_parent) const {
  const QModelIndex index = sourceModel()->index(source_row, 0, source_parent);
  return index.data(FindingsModel::severity_role).toInt() >= static_cast<int>(least_);
}

} // namespace bellmouth::ui
