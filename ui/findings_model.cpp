// SPDX-License-Identifier: GPL-3.0-or-later
#include "findings_model.hpp"

#include <algorithm>
#include <cassert>
#include <tuple>

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

QString severity_count(check::Severity severity, int count) {
  return QString("%1 %2%3").arg(count).arg(severity_word(severity).toLower(), count == 1 ? "" : "s");
}

void FindingsModel::set_findings(const std::vector<check::Finding>& findings) {
  std::vector<check::Finding> sorted = findings;
  std::ranges::stable_sort(sorted, [](const check::Finding& a, const check::Finding& b) {
    return std::tuple(a.waived.has_value(), b.severity) < std::tuple(b.waived.has_value(), a.severity);
  });
  if (sorted == findings_)
    return;
  beginResetModel();
  findings_ = std::move(sorted);
  mends_ = QStringList(static_cast<qsizetype>(findings_.size()));
  endResetModel();
}

void FindingsModel::set_mends(QStringList mends) {
  assert(mends.size() == rowCount());
  if (mends == mends_)
    return;
  mends_ = std::move(mends);
  emit dataChanged(index(0), index(rowCount() - 1));
}

const check::Finding& FindingsModel::finding(int row) const {
  return findings_.at(static_cast<std::size_t>(row));
}

int FindingsModel::count(check::Severity severity) const {
  return static_cast<int>(std::ranges::count_if(findings_, [&](const check::Finding& finding) {
    return finding.severity == severity && !finding.waived;
  }));
}

int FindingsModel::waived() const {
  return static_cast<int>(
      std::ranges::count_if(findings_, [](const auto& finding) { return finding.waived.has_value(); }));
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
  case waived_role:
    return what.waived ? QVariant(QString::fromStdString(*what.waived)) : QVariant();
  case mend_role:
    return mends_[index.row()].isEmpty() ? QVariant() : QVariant(mends_[index.row()]);
  case Qt::AccessibleTextRole:
    return QString("%1, %2: %3 %4").arg(word, where, message, reason) +
           (what.waived ? " Waived: " + QString::fromStdString(*what.waived) : QString());
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
