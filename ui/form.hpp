// SPDX-License-Identifier: GPL-3.0-or-later
// Forms out of tables: each row names a part of a value, and how it is shown and changed.
#pragma once

#include "point_table.hpp"
#include "quantity_edit.hpp"
#include "wrapped_label.hpp"

#include <QCheckBox>
#include <QComboBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QVBoxLayout>

#include <functional>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

namespace bellmouth::ui {

/// A combo box that leaves the wheel to the form unless it has the focus.
class ComboBox : public QComboBox {
public:
  explicit ComboBox(QWidget* parent = nullptr);

protected:
  void wheelEvent(QWheelEvent* event) override;
};

/// Of a text longer than its line, shows the beginning unless it is being edited.
void show_beginning(QLineEdit& line);

/// One row of a form over a value of type T.
template <class T> struct FormRow {
  using Change = std::function<void(T&)>;
  using Give = std::function<void(const Change&)>;
  /// What stands in the row: shows a value, and complains when a change is refused.
  struct Control {
    QWidget* widget;
    std::function<void(const T&)> show;
    std::function<void(const QString&)> complain;
  };
  QString key;   ///< names the part; stable
  QString label; ///< "Outside diameter"
  QString tip;
  /// Makes the control; `give` takes what the user changes.
  std::function<Control(const QString& object_name, const QString& label, Give give)> make;
};

/// \name Rows
///@{
/// A quantity; `set` gets no value only where the kind is optional.
template <class T>
FormRow<T> quantity_row(QString key, QString label, QString tip, QuantityKind kind,
                        std::function<std::optional<double>(const T&)> get,
                        std::function<void(T&, std::optional<double>)> set) {
  return {std::move(key), std::move(label), std::move(tip),
          [kind = std::move(kind), get, set](const QString& name, const QString& text,
                                             typename FormRow<T>::Give give) {
            auto* edit = new QuantityEdit(kind);
            edit->set_names(name, text);
            QObject::connect(edit, &QuantityEdit::edited, edit,
                             [edit, set, give] { give([&](T& value) { set(value, edit->value()); }); });
            return typename FormRow<T>::Control{edit,
                                                [edit, get](const T& value) { edit->set_value(get(value)); },
                                                [edit](const QString& why) { edit->set_error(why); }};
          }};
}

/// A yes or no.
template <class T>
FormRow<T> check_row(QString key, QString label, QString tip, std::function<bool(const T&)> get,
                     std::function<void(T&, bool)> set) {
  return {std::move(key), std::move(label), std::move(tip),
          [get, set](const QString& name, const QString& text, typename FormRow<T>::Give give) {
            auto* box = new QCheckBox;
            box->setObjectName(name);
            box->setAccessibleName(text);
            QObject::connect(box, &QCheckBox::clicked, box,
                             [set, give](bool on) { give([&](T& value) { set(value, on); }); });
            return
                typename FormRow<T>::Control{box, [box, get](const T& value) { box->setChecked(get(value)); },
                                             [box](const QString& why) { box->setToolTip(why); }};
          }};
}

/// One of a few words.
template <class T>
FormRow<T> choice_row(QString key, QString label, QString tip, QStringList words,
                      std::function<int(const T&)> get, std::function<void(T&, int)> set) {
  return {std::move(key), std::move(label), std::move(tip),
          [words = std::move(words), get, set](const QString& name, const QString& text,
                                               typename FormRow<T>::Give give) {
            auto* box = new ComboBox;
            box->addItems(words);
            box->setObjectName(name);
            box->setAccessibleName(text);
            box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
            QObject::connect(box, &QComboBox::activated, box,
                             [set, give](int index) { give([&](T& value) { set(value, index); }); });
            return typename FormRow<T>::Control{
                box, [box, get](const T& value) { box->setCurrentIndex(get(value)); },
                [box](const QString& why) { box->setToolTip(why); }};
          }};
}

/// A line of text. `set` may refuse with a complaint.
template <class T>
FormRow<T> text_row(QString key, QString label, QString tip, std::function<QString(const T&)> get,
                    std::function<std::optional<QString>(T&, const QString&)> set) {
  return {std::move(key), std::move(label), std::move(tip),
          [get, set](const QString& name, const QString& text, typename FormRow<T>::Give give) {
            auto* holder = new QWidget;
            auto* column = new QVBoxLayout(holder);
            column->setContentsMargins(0, 0, 0, 0);
            column->setSpacing(2);
            auto* line = new QLineEdit(holder);
            auto* error = new WrappedLabel(holder);
            error->setObjectName(name + "_error");
            error->hide();
            column->addWidget(line);
            column->addWidget(error);
            line->setObjectName(name + "_line");
            line->setAccessibleName(text);
            holder->setObjectName(name);
            holder->setFocusProxy(line);
            const auto complain = [error](const QString& why) { show_complaint(*error, why); };
            QObject::connect(line, &QLineEdit::editingFinished, line, [line, set, give, complain] {
              show_beginning(*line);
              if (!line->isModified())
                return;
              line->setModified(false);
              std::optional<QString> refused;
              give([&](T& value) { refused = set(value, line->text()); });
              if (refused)
                complain(*refused);
            });
            return typename FormRow<T>::Control{holder,
                                                [line, get, complain](const T& value) {
                                                  line->setText(get(value));
                                                  show_beginning(*line);
                                                  complain({});
                                                },
                                                complain};
          }};
}

/// The points of a curve.
template <class T>
FormRow<T> points_row(QString key, QString label, QString tip, PointTable::Column first,
                      PointTable::Column second, std::function<std::vector<PointTable::Point>(const T&)> get,
                      std::function<void(T&, const std::vector<PointTable::Point>&)> set) {
  return {std::move(key), std::move(label), std::move(tip),
          [first = std::move(first), second = std::move(second), get,
           set](const QString& name, const QString& text, typename FormRow<T>::Give give) {
            auto* table = new PointTable(first, second);
            table->set_names(name, text);
            QObject::connect(table, &PointTable::edited, table,
                             [table, set, give] { give([&](T& value) { set(value, table->points()); }); });
            return typename FormRow<T>::Control{
                table, [table, get](const T& value) { table->set_points(get(value)); },
                [table](const QString& why) { table->set_error(why); }};
          }};
}
///@}

/// A form over a value of type T. Edited copies of the value go to `apply`, whose complaint is shown at the
/// row.
template <class T> class Form {
public:
  /// Takes the edited value, the key of the row and its label; an error means that nothing has changed.
  using Apply = std::function<std::optional<Error>(T next, const QString& key, const QString& label)>;

  /// Object names are `name`_KEY.
  Form(const QString& name, const std::vector<FormRow<T>>& rows, Apply apply)
      : widget_(new QWidget), state_(std::make_shared<State>()) {
    state_->apply = std::move(apply);
    widget_->setObjectName(name);
    auto* layout = new QFormLayout(widget_);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    layout->setRowWrapPolicy(QFormLayout::WrapLongRows);
    layout->setLabelAlignment(Qt::AlignLeft);
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const FormRow<T>& row = rows[i];
      // The form may be thrown away by what the change does; the state lives on until then.
      auto give = [state = state_, i, key = row.key,
                   label = row.label](const typename FormRow<T>::Change& change) {
        if (!state->apply)
          return;
        T next = *state->shown;
        change(next);
        if (next == *state->shown)
          return;
        if (const auto error = state->apply(std::move(next), key, label))
          state->controls[i].complain(
              QString::fromStdString(error->found + "; accepted: " + error->accepted));
      };
      auto control = row.make(name + "_" + row.key, row.label, give);
      auto* label = new QLabel(row.label);
      label->setBuddy(control.widget);
      label->setToolTip(row.tip);
      control.widget->setToolTip(row.tip);
      layout->addRow(label, control.widget);
      state_->controls.push_back(std::move(control));
    }
  }

  [[nodiscard]] QWidget* widget() const { return widget_; }
  void show(const T& value) {
    state_->shown = value;
    for (const auto& control : state_->controls)
      control.show(value);
  }

  /// Takes the form off the screen. It may be the one whose change is being made, so it goes a little later;
  /// what is typed in it from here on, if only by losing the focus, is nobody's business.
  void retire() {
    state_->apply = nullptr;
    widget_->hide();
    widget_->setParent(nullptr);
    widget_->deleteLater();
  }

private:
  struct State {
    std::optional<T> shown;
    std::vector<typename FormRow<T>::Control> controls;
    Apply apply;
  };
  QWidget* widget_;
  std::shared_ptr<State> state_;
};

} // namespace bellmouth::ui
