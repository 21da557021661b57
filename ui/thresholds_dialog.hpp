// SPDX-License-Identifier: GPL-3.0-or-later
// What the checks hold to be right, in one table: each threshold with the value that holds, that of the
// trade, and where it comes from. Every change is a step of the build's history.
#pragma once

#include "session.hpp"

#include <bellmouth/trade.hpp>

#include <QDialog>

#include <vector>

class QCheckBox;
class QLabel;
class QLineEdit;
class QListWidget;
class QPushButton;

namespace bellmouth::ui {

class Sheet;
class WrappedLabel;
struct SheetColumn;

class ThresholdsDialog : public QDialog {
  Q_OBJECT

public:
  explicit ThresholdsDialog(Session& session, QWidget* parent = nullptr);

private:
  [[nodiscard]] std::vector<SheetColumn> columns();
  [[nodiscard]] QWidget* choice();
  [[nodiscard]] const trade::Threshold& threshold(int row) const;
  [[nodiscard]] bool changed(const trade::Threshold& threshold) const;
  /// Which thresholds are shown: of the group that is picked, or those in which the words are found.
  void choose();
  void refresh();
  void show_basis();
  /// A complaint, or nothing.
  std::optional<QString> take(const trade::Threshold& threshold, const QString& typed);
  void restore_picked();
  void restore_all();

  Session& session_;
  std::vector<const trade::Threshold*> rows_;
  QLineEdit* search_;
  QCheckBox* only_changed_;
  QListWidget* groups_;
  Sheet* sheet_ = nullptr;
  WrappedLabel* basis_;
  QPushButton *restore_, *restore_all_;
  QLabel* count_;
};

} // namespace bellmouth::ui
