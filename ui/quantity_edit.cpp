// SPDX-License-Identifier: GPL-3.0-or-later
#include "quantity_edit.hpp"

#include "theme.hpp"
#include "units.hpp"
#include "wrapped_label.hpp"

#include <QKeyEvent>
#include <QLineEdit>
#include <QVBoxLayout>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bellmouth::ui {

using quantity::Dimension;

namespace {

/// The step of an arrow key, in SI.
double step_of(Dimension dimension, const std::string& unit) {
  switch (dimension) {
  case Dimension::length:
    return unit == "in" ? 0.0254 / 16 : unit == "ft" ? 100 * 0.3048 : unit == "m" ? 10.0 : 1e-3;
  case Dimension::angle:
    return std::numbers::pi / 180;
  case Dimension::pressure:
    return unit == "psi" ? 0.1 * 6894.757293168 : 1e3;
  case Dimension::temperature:
  case Dimension::temperature_difference:
    return unit == "°F" ? 5.0 / 9.0 : 1.0;
  case Dimension::rotational_speed:
    return 50.0 / 60.0;
  case Dimension::ratio:
    return 0.01;
  case Dimension::area:
    return 1e-6;
  case Dimension::volume:
    return 1e-5;
  case Dimension::mass_flow:
  case Dimension::volume_flow:
    return 1e-3;
  default:
    return 1.0;
  }
}

/// Written with this many digits a value comes back unchanged for every practical purpose.
constexpr int shown_digits = 6;

} // namespace

int whole_number(double value) {
  return static_cast<int>(std::lround(std::clamp(value, -1e9, 1e9)));
}

QString complaint(const Error& error) {
  const QString found = QString::fromStdString(error.found),
                accepted = QString::fromStdString(error.accepted);
  QString text = error.place.column > 0 ? QString("At character %1: ").arg(error.place.column) : QString();
  text += "found " + found;
  if (!accepted.isEmpty())
    text += "; accepted: " + accepted;
  return text;
}

QuantityEdit::QuantityEdit(QuantityKind kind, QWidget* parent)
    : QWidget(parent), kind_(std::move(kind)), line_(new QLineEdit(this)), error_(new WrappedLabel(this)) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(2);
  column->addWidget(line_);
  column->addWidget(error_);
  line_->setMinimumWidth(80);
  line_->setPlaceholderText(!kind_.optional            ? QString()
                            : kind_.when_empty.empty() ? tr("none")
                                                       : QString::fromStdString(kind_.when_empty));
  line_->installEventFilter(this);
  error_->hide();
  setFocusProxy(line_);
  connect(line_, &QLineEdit::returnPressed, this, &QuantityEdit::accept);
}

void QuantityEdit::set_names(const QString& object_name, const QString& accessible_name) {
  setObjectName(object_name);
  line_->setObjectName(object_name + "_line");
  line_->setAccessibleName(accessible_name);
  error_->setObjectName(object_name + "_error");
}

std::string QuantityEdit::unit() const {
  return kind_.unit.empty() ? std::string(shown_unit(kind_.dimension)) : kind_.unit;
}

QString QuantityEdit::text_of(std::optional<double> value) const {
  if (!value)
    return {};
  if (kind_.own_unit)
    return QString::fromStdString(quantity::write(Dimension::ratio, *value / kind_.own_unit->factor, unit(),
                                                  shown_digits, decimal_sign()) +
                                  " " + kind_.own_unit->symbol);
  std::string text = quantity::write(kind_.dimension, *value, unit(), shown_digits, decimal_sign());
  if (kind_.dimension == Dimension::pressure && kind_.reference != quantity::Reference::difference)
    text += kind_.reference == quantity::Reference::gauge ? " gauge" : " abs";
  return QString::fromStdString(text);
}

void QuantityEdit::set_value(std::optional<double> value) {
  value_ = value;
  shown_ = text_of(value);
  if (line_->text() != shown_)
    line_->setText(shown_);
  set_error({});
}

void QuantityEdit::set_kind(QuantityKind kind) {
  kind_ = std::move(kind);
}

void QuantityEdit::set_error(const QString& text) {
  if (compact_) {
    error_->set_text(text);
    line_->setToolTip(text.isEmpty() ? tool_tip_ : text);
  } else {
    show_complaint(*error_, text);
  }
  line_->setAccessibleDescription(text);
  line_->setProperty(wrong_property, !text.isEmpty());
  line_->update();
  if (!text.isEmpty())
    emit complained(text);
}

void QuantityEdit::set_compact(const QString& tool_tip) {
  compact_ = true;
  tool_tip_ = tool_tip;
  error_->hide();
  set_error(error());
}

QString QuantityEdit::error() const {
  return error_->text();
}

Result<double> QuantityEdit::read_typed(const QString& typed) const {
  const std::string unit_symbol = unit();
  const quantity::Reading reading{.default_unit = unit_symbol,
                                  .decimal = decimal_sign(),
                                  .reference = kind_.reference,
                                  .ambient_Pa = kind_.ambient_Pa};
  if (!kind_.own_unit)
    return quantity::read(kind_.dimension, typed.toStdString(), reading);
  const QString symbol = QString::fromStdString(kind_.own_unit->symbol);
  QString number = typed.trimmed();
  if (number.endsWith(symbol, Qt::CaseInsensitive))
    number.chop(symbol.size());
  auto result = quantity::read(Dimension::ratio, number.toStdString(), reading);
  if (!result || number.contains('%')) {
    Error error;
    error.found = typed.trimmed().isEmpty() ? "nothing" : typed.trimmed().toStdString();
    error.accepted = "a number in " + kind_.own_unit->symbol;
    return fail(std::move(error));
  }
  return *result * kind_.own_unit->factor;
}

void QuantityEdit::accept() {
  const QString typed = line_->text();
  if (typed == shown_) {
    set_error({});
    return;
  }
  std::optional<double> read;
  if (!(kind_.optional && typed.trimmed().isEmpty())) {
    const auto result = read_typed(typed);
    if (!result) {
      set_error(complaint(result.error()));
      if (result.error().place.column > 0) {
        // The column counts bytes of UTF-8, the line edit counts UTF-16.
        const auto before = typed.toUtf8().left(result.error().place.column - 1);
        line_->setCursorPosition(static_cast<int>(QString::fromUtf8(before).size()));
      }
      return;
    }
    if (kind_.whole && *result != std::round(*result)) {
      set_error(tr("found %1; accepted: a whole number").arg(typed.trimmed()));
      return;
    }
    if (kind_.above && *result <= *kind_.above) {
      set_error(tr("found %1; accepted: more than %2").arg(text_of(*result), text_of(*kind_.above)));
      return;
    }
    read = *result;
  }
  const std::optional<double> before = value_;
  set_value(read);
  if (read != before)
    emit edited();
}

void QuantityEdit::nudge(int steps) {
  accept();
  if (!value_ || !error().isEmpty())
    return;
  const double step = kind_.whole      ? 1.0
                      : kind_.own_unit ? kind_.own_unit->step
                                       : step_of(kind_.dimension, unit());
  // To a whole number of steps, so that nudging 57.15 mm goes to 58 mm and on to 59 mm.
  const double offset = kind_.dimension == Dimension::temperature ? 273.15 : 0.0;
  const double whole = (*value_ - offset) / step;
  constexpr double nearly = 1e-9;
  const double next = steps > 0 ? std::floor(whole + nearly) + steps : std::ceil(whole - nearly) + steps;
  if (kind_.above && next * step + offset <= *kind_.above)
    return;
  set_value(next * step + offset);
  emit edited();
}

bool QuantityEdit::eventFilter(QObject* watched, QEvent* event) {
  if (event->type() == QEvent::FocusOut) {
    accept();
  } else if (event->type() == QEvent::ShortcutOverride) {
    // With nothing typed, undo and redo mean the build.
    const auto* key = static_cast<QKeyEvent*>(event);
    if ((key->matches(QKeySequence::Undo) || key->matches(QKeySequence::Redo)) && line_->text() == shown_) {
      event->ignore();
      return true;
    }
  } else if (event->type() == QEvent::KeyPress) {
    switch (static_cast<QKeyEvent*>(event)->key()) {
    case Qt::Key_Escape:
      set_value(value_);
      line_->selectAll();
      return true;
    case Qt::Key_Up:
      nudge(1);
      return true;
    case Qt::Key_Down:
      nudge(-1);
      return true;
    case Qt::Key_PageUp:
      nudge(10);
      return true;
    case Qt::Key_PageDown:
      nudge(-10);
      return true;
    default:
      break;
    }
  }
  return QWidget::eventFilter(watched, event);
}

} // namespace bellmouth::ui
