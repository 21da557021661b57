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
  /// Of waived_role the user's reason, of mend_role what the mend is called; unset where there is none.
  enum Role {
    message_role = Qt::UserRole + 1,
    where_role,
    reason_role,
    severity_role,
    waived_role,
    mend_role
  };

  using QAbstractListModel::QAbstractListModel;
  /// Worst first, what is waived last. Mends of other findings than those shown are forgotten.
  void set_findings(const std::vector<check::Finding>& findings);
  /// What the mend of each row is called; empty: there is none. One for each row (an assertion).
  void set_mends(QStringList mends);
  [[nodiscard]] const check::Finding& finding(int row) const;
  /// Of those that are not waived.
  [[nodiscard]] int count(check::Severity severity) const;
  [[nodiscard]] int waived() const;
  [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;

private:
  std::vector<check::Finding> findings_;
  QStringList mends_; ///< one for each of `findings_`
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
/// "1 stop", "3 cautions".
[[nodiscard]] QString severity_count(check::Severity severity, int count);

} // namespace bellmouth::ui
