// SPDX-License-Identifier: GPL-3.0-or-later
// Makes a run meet its port: which sizes may move and how far, what comes out of it, and whether the build
// takes it. What comes out is shown in all views while the dialog is open.
#pragma once

#include "session.hpp"

#include <bellmouth/route.hpp>

#include <QDialog>

#include <optional>
#include <vector>

class QCheckBox;
class QLabel;
class QPushButton;
class QVBoxLayout;

namespace bellmouth::ui {

class Sheet;
class TitledTable;
class WrappedLabel;
struct SheetColumn;

class MeetDialog : public QDialog {
  Q_OBJECT

public:
  /// The shown option must have the run (an assertion). Shows nothing that is not worked out at once.
  MeetDialog(Session& session, build::RunId run, QWidget* parent = nullptr);
  /// Takes the preview back.
  ~MeetDialog() override;
  /// What came out last.
  [[nodiscard]] const route::Met& met() const { return met_; }

  void done(int result) override;

private:
  /// A size that may move, if it is ticked.
  struct Row {
    route::Freedom freedom;
    bool on = true;
  };
  [[nodiscard]] std::vector<SheetColumn> columns();
  [[nodiscard]] SheetColumn limit(const QString& title, double route::Freedom::*member);
  [[nodiscard]] QWidget* choice();
  [[nodiscard]] QWidget* outcome();
  [[nodiscard]] const build::Run& run() const;
  [[nodiscard]] QString piece_name(std::size_t row) const;
  void tick_all(bool on);
  void solve();
  /// Shows a build, met or not, in the views and in words.
  void show_result(const build::Build& build);
  void take_help(std::size_t index);
  void show_help();
  void accept_result();

  Session& session_;
  build::Build base_; ///< as it is without the preview
  build::OptionId option_;
  build::RunId run_;
  std::vector<Row> rows_;
  route::Met met_;
  bool helped_ = false; ///< one of the helps is shown

  Sheet* sheet_ = nullptr;
  QCheckBox* keep_clear_;
  QCheckBox* few_;
  WrappedLabel *summary_, *figures_;
  TitledTable* changes_;
  QWidget* help_;
  QVBoxLayout* help_column_;
  QPushButton *accept_, *close_;
};

} // namespace bellmouth::ui
