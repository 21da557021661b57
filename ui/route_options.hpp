// SPDX-License-Identifier: GPL-3.0-or-later
// What is asked of a route besides what matters: sizes, cuts, rows that stay, places to pass.
#pragma once

#include "form.hpp"
#include "session.hpp"

#include <bellmouth/find.hpp>

#include <QWidget>

#include <memory>

class QLineEdit;
class QPushButton;
class QVBoxLayout;

namespace bellmouth::ui {

/// The question, and for how long an answer is searched.
struct RouteWish {
  find::Ask ask;
  double seconds = 15;
  friend bool operator==(const RouteWish& a, const RouteWish& b);
};

class RouteOptions : public QWidget {
  Q_OBJECT

public:
  explicit RouteOptions(Session& session, QWidget* parent = nullptr);
  /// Shows a question about a run of the session's build. How long is searched stays.
  void show_ask(const find::Ask& ask);
  [[nodiscard]] const RouteWish& wish() const { return wish_; }
  void set_matters(const find::Matters& matters) { wish_.ask.matters = matters; }
  void pass(way::Waypoint waypoint);

signals:
  void changed(); ///< by the user

private:
  void show_form();
  void make_form();
  void make_places(QVBoxLayout& column);
  [[nodiscard]] std::vector<FormRow<RouteWish>> rows() const;
  void refresh_places();
  void refresh_keep_outs();
  void add_past();
  void add_point();

  Session& session_;
  RouteWish wish_;
  std::unique_ptr<Form<RouteWish>> form_;
  QStringList words_; ///< that the form has to choose from
  QVBoxLayout* form_place_;
  QVBoxLayout* places_;
  ComboBox *side_, *keep_out_;
  QPushButton *past_, *at_;
  QLineEdit* point_;
  QuantityEdit* radius_;
  WrappedLabel* error_;
};

} // namespace bellmouth::ui
