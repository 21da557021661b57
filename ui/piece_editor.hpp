// SPDX-License-Identifier: GPL-3.0-or-later
// The fields and the figures of the picked piece.
#pragma once

#include "fact_list.hpp"
#include "form.hpp"
#include "session.hpp"

#include <QWidget>

#include <memory>

class QPushButton;
class QVBoxLayout;

namespace bellmouth::ui {

class PieceEditor : public QWidget {
  Q_OBJECT

public:
  explicit PieceEditor(Session& session, QWidget* parent = nullptr);
  /// Shows the picked piece; there must be one.
  void refresh();

private:
  void build_form(const build::Piece& piece);
  void refresh_stock(const build::Piece& piece);
  void refresh_lagging(const build::Piece& piece);
  void lag_run();
  void show_chosen_stock(const build::Piece& piece);
  void choose_stock(int index);
  std::optional<Error> apply(build::Piece next, const QString& key, const QString& what);

  /// What a form is for. It keeps aside what its choices took away, so each piece has its own.
  struct Subject {
    std::size_t document;
    build::PieceRef piece;
    std::size_t shape;
    friend bool operator==(const Subject&, const Subject&) = default;
  };
  Session& session_;
  build::PieceRef shown_;
  QLabel* title_;
  WrappedLabel* where_;
  QVBoxLayout* form_place_;
  std::unique_ptr<Form<build::Piece>> form_;
  std::optional<Subject> form_for_;
  QPushButton* lag_run_; ///< gives the whole run the lagging of this piece, or none
  QComboBox* stock_;
  WrappedLabel* stock_error_;
  FactList* facts_;
};

/// The figures of a row of a run, by name.
[[nodiscard]] std::vector<Fact> piece_facts(const build::Piece& piece, const RunResult& result,
                                            std::size_t row, bool usable);

} // namespace bellmouth::ui
