// SPDX-License-Identifier: GPL-3.0-or-later
// A change that the program proposes: its steps, what stays open, and what it does to the findings. It is
// shown in all views while the dialog is open, and taken as one step or not at all.
#pragma once

#include "session.hpp"

#include <bellmouth/join.hpp>

#include <QDialog>

#include <array>
#include <functional>
#include <vector>

class QComboBox;
class QPushButton;

namespace bellmouth::ui {

class WrappedLabel;

class ProposalDialog : public QDialog {
  Q_OBJECT

public:
  /// One of the proposals to choose from, made out of the build as it is without a preview.
  struct Choice {
    QString name;
    std::function<join::Proposal(const build::Build&)> make;
  };
  /// What there is only one of is named above the steps. There must be a choice, and `first` must be one of
  /// them (assertions).
  ProposalDialog(Session& session, const QString& title, std::vector<Choice> choices, int first = 0,
                 QWidget* parent = nullptr);
  /// Takes the preview back.
  ~ProposalDialog() override;
  void done(int result) override;
  /// Opens at the right of a window, over its editor, so that path and bay stay in sight.
  void open_beside(const QWidget& window);

private:
  using Counts = std::array<int, 3>; ///< of findings that are not waived, by severity
  [[nodiscard]] static Counts counts(const Session& session);
  void propose(int choice);
  void take();

  Session& session_;
  build::Build base_; ///< as it is without the preview
  std::vector<Choice> choices_;
  Counts before_;
  join::Proposal proposal_;
  QComboBox* which_;
  WrappedLabel *intro_, *summary_, *steps_, *open_title_, *open_, *findings_;
  QPushButton *take_, *leave_;
};

} // namespace bellmouth::ui
