// SPDX-License-Identifier: GPL-3.0-or-later
// Findings as rows.
#pragma once

#include <bellmouth/check.hpp>

#include <QAbstractListModel>
#include <QSortFilterProxyModel>

#include <vector>

namespace bellmouth::ui {

class FindingsModel : public QAbstractListModel {
  Q_OBJECT

public:
  enum Role { message_role = Qt::UserRole + 1, where_role, reason_role, severity_role };

  using QAbstractListModel::QAbstractListModel;
  void set_findings(const std::vector<check::Finding>& findings);
  [[nodiscard]] const check::Finding& finding(int row) const;
  [[nodiscard]] int count(check::Severity severity) const;
  [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;

private:
  std::vector<check::Finding> findings_;
};

/// Lets through findings of a least severity.
class FindingsFilter : public QSortFilterProxyModel {
  Q_OBJECT

public:
  using QSortFilterProxyModel::QSortFilterProxyModel;
  void set_least(check::Severity least);

protected:
  [[nodiscard]] bool filterAcceptsRow(int source_row, const QModelIndex& source_parent) const override;

private:
  check::Severity least_ = check::Severity::note;
};

/// The words of a severity as people read it: "Stop", "Caution", "Note".
[[nodiscard]] QString severity_word(check::Severity severity);

} // namespace bellmouth::ui
