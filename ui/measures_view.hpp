// SPDX-License-Identifier: GPL-3.0-or-later
// How the bay is entered by tape measure: tables of ports and keep-outs, how the engine moves, how far
// ducting stays off, states, photographs.
#pragma once

#include "bay_edits.hpp"
#include "form.hpp"
#include "session.hpp"

#include <QWidget>

#include <memory>
#include <optional>

class QPushButton;
class QTabWidget;
class QToolButton;

namespace bellmouth::ui {

class PhotographList;
class Sheet;
class StateList;

class MeasuresView : public QWidget {
  Q_OBJECT

public:
  explicit MeasuresView(Session& session, QWidget* parent = nullptr);

  /// \name What the buttons do
  ///@{
  void add(NewShape shape);
  void duplicate();
  void mirror();
  void remove();
  void mirror_bay();
  ///@}

protected:
  void showEvent(QShowEvent* event) override;

signals:
  void message(const QString& text);
  void scan_requested();       ///< a keep-out from a file is wanted
  void photograph_requested(); ///< a photograph is to be added

private:
  [[nodiscard]] QWidget* ports_page();
  [[nodiscard]] QWidget* keep_outs_page();
  [[nodiscard]] QWidget* movement_page();
  [[nodiscard]] QWidget* corner();
  void refresh();
  /// Every table reads the build anew, `fit`: with columns as wide as what they say.
  void refresh_tables(bool fit);
  void show_picked();
  void refresh_buttons();
  void use_usual_clearances();
  [[nodiscard]] std::optional<std::size_t> picked() const;
  /// Inserts a keep-out and picks it.
  void insert(std::size_t before, build::KeepOut keep_out, const QString& what);

  Session& session_;
  bool stale_ = false; ///< hidden, and behind the build
  QTabWidget* pages_;
  Sheet *ports_ = nullptr, *keep_outs_ = nullptr;
  StateList* states_ = nullptr;
  PhotographList* photographs_ = nullptr;
  QPushButton *duplicate_ = nullptr, *mirror_ = nullptr, *remove_ = nullptr, *mirror_bay_ = nullptr,
              *usual_ = nullptr;
  QuantityEdit* plane_ = nullptr;
  QLabel *ports_hint_ = nullptr, *keep_outs_hint_ = nullptr;
  std::vector<std::unique_ptr<Form<build::Build>>> forms_;
};

} // namespace bellmouth::ui
