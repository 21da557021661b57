// SPDX-License-Identifier: GPL-3.0-or-later
// A field for one quantity, typed with or without its unit.
#pragma once

#include <bellmouth/quantity.hpp>

#include <QString>
#include <QWidget>

#include <optional>
#include <utility>

class QLineEdit;

namespace bellmouth::ui {

class WrappedLabel;

/// A unit of what has no dimension in quantity/, written behind the number: 12 kJ/kg is 12 times `factor`.
struct OwnUnit {
  std::string symbol;
  double factor = 1;
  double step = 1; ///< of an arrow key, in SI
};

/// What a field wants.
struct QuantityKind {
  quantity::Dimension dimension = quantity::Dimension::length;
  /// The unit of a bare number, in which the value is shown; empty: as the user has chosen for the dimension.
  std::string unit{};
  /// For pressures.
  quantity::Reference reference = quantity::Reference::difference;
  std::optional<double> ambient_Pa{};
  /// Whether the field may be left empty: no value.
  bool optional = false;
  /// Whether only whole numbers are accepted (a count).
  bool whole = false;
  /// Where only greater values are accepted.
  std::optional<double> above{};
  /// For ratios: what is typed is a number in this unit, which may be left out.
  std::optional<OwnUnit> own_unit{};
  /// What an empty optional field means, shown in it; empty: "none".
  std::string when_empty{};
};

/// A quantity in the unit that the user has chosen for it.
[[nodiscard]] inline QuantityKind quantity_of(quantity::Dimension dimension) {
  return {.dimension = dimension};
}
[[nodiscard]] inline QuantityKind absolute_pressure() {
  return {.dimension = quantity::Dimension::pressure, .reference = quantity::Reference::absolute};
}
[[nodiscard]] inline QuantityKind percentage() {
  return {.dimension = quantity::Dimension::ratio, .unit = "%"};
}
[[nodiscard]] inline QuantityKind in_own_unit(OwnUnit unit) {
  return {.dimension = quantity::Dimension::ratio, .own_unit = std::move(unit)};
}

/// Reads "2 1/4 in", "57", "12 psi gauge". Enter and leaving the field accept what is typed, Escape brings
/// back what was there, the arrow keys up and down change the value by a small step (Page Up and Page Down by
/// ten). What cannot be read stays in the field, with the complaint below it and the cursor where the trouble
/// begins.
class QuantityEdit : public QWidget {
  Q_OBJECT

public:
  explicit QuantityEdit(QuantityKind kind, QWidget* parent = nullptr);

  /// The value last shown or accepted, in SI.
  [[nodiscard]] std::optional<double> value() const { return value_; }
  /// Shows a value; text that is being typed and complaints go.
  void set_value(std::optional<double> value);
  void set_kind(QuantityKind kind);
  /// Has complaints in the tool tip and not below the field, for places without room to grow.
  void set_compact(const QString& tool_tip);
  /// Complains; empty text takes the complaint away.
  void set_error(const QString& text);
  [[nodiscard]] QString error() const;
  /// Name for tests and for assistive technology.
  void set_names(const QString& object_name, const QString& accessible_name);
  [[nodiscard]] QLineEdit* line() const { return line_; }

signals:
  void complained(const QString& why); ///< about what was typed
  void edited();                       ///< the user has given another value: see value()

protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

private:
  void accept();
  void nudge(int steps);
  [[nodiscard]] std::string unit() const;
  [[nodiscard]] Result<double> read_typed(const QString& typed) const;
  [[nodiscard]] QString text_of(std::optional<double> value) const;

  QuantityKind kind_;
  QLineEdit* line_;
  WrappedLabel* error_;
  std::optional<double> value_;
  QString shown_;
  bool compact_ = false;
  QString tool_tip_; ///< of a compact field without a complaint
};

/// The count in a field that accepts whole numbers only; beyond +-1e9 it is held there, far outside what any
/// build allows.
[[nodiscard]] int whole_number(double value);

/// One complaint about typed text, in a line: where in the text, what was found, what is accepted.
[[nodiscard]] QString complaint(const Error& error);

} // namespace bellmouth::ui
