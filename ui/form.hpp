// SPDX-License-Identifier: GPL-3.0-or-later
// Forms out of tables: each row names a part of a value, and how it is shown and changed.
#pragma once

#include "point_table.hpp"
#include "quantity_edit.hpp"
#include "theme.hpp"
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
#include <type_traits>
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

/// A control with room for a complaint below it.
struct Held {
  QWidget* widget; ///< both together; it hands the focus to the control
  WrappedLabel* error;
};
/// The complaint is called `object_name`_error.
[[nodiscard]] Held held(QWidget* control, const QString& object_name);

/// One row of a form over a value of type T.
template <class T> struct FormRow {
  using Change = std::function<void(T&)>;
  using Give = std::function<void(const Change&)>;
  using Applies = std::function<bool(const T&)>;
  /// What stands in the row: shows a value, and complains when a change is refused.
  struct Control {
    QWidget* widget;
    std::function<void(const T&)> show;
    std::function<void(const QString&)> complain;
    /// Whether what was refused stays, to be mended: typed text does, a choice goes back.
    bool keeps_refused = true;
  };
  QString key;   ///< names the part; stable
  QString label; ///< "Outside diameter"
  QString tip;
  /// Makes the control; `give` takes what the user changes.
  std::function<Control(const QString& object_name, const QString& label, Give give)> make;
  Applies applies{};     ///< whether a value has such a part; unset: every one has
  bool nested = false;   ///< belongs to the row above, and is set in
  bool wide = false;     ///< takes the whole width; its label is not shown
  bool own_step = false; ///< each change is a step of its own in the history
};

/// The row only where `applies`, besides its own condition.
template <class T> FormRow<T> shown_if(typename FormRow<T>::Applies applies, FormRow<T> row) {
  if (row.applies)
    row.applies = [outer = std::move(applies), own = std::move(row.applies)](const T& value) {
      return outer(value) && own(value);
    };
  else
    row.applies = std::move(applies);
  return row;
}
/// The same, set in under the row that reveals it.
template <class T> FormRow<T> only_if(typename FormRow<T>::Applies applies, FormRow<T> row) {
  row.nested = true;
  return shown_if(std::move(applies), std::move(row));
}
/// Adds `more` to `rows`.
template <class T> void append(std::vector<FormRow<T>>& rows, std::vector<FormRow<T>> more) {
  for (FormRow<T>& row : more)
    rows.push_back(std::move(row));
}

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

/// A yes or no; each change is a step.
template <class T>
FormRow<T> check_row(QString key, QString label, QString tip, std::function<bool(const T&)> get,
                     std::function<void(T&, bool)> set) {
  FormRow<T> row{std::move(key), std::move(label), std::move(tip),
                 [get, set](const QString& name, const QString& text, typename FormRow<T>::Give give) {
                   auto* box = new QCheckBox;
                   box->setObjectName(name);
                   box->setAccessibleName(text);
                   const Held both = held(box, name);
                   QObject::connect(box, &QCheckBox::clicked, box,
                                    [set, give](bool on) { give([&](T& value) { set(value, on); }); });
                   return typename FormRow<T>::Control{
                       both.widget,
                       [box, error = both.error, get](const T& value) {
                         box->setChecked(get(value));
                         show_complaint(*error, {});
                       },
                       [error = both.error](const QString& why) { show_complaint(*error, why); }, false};
                 }};
  row.own_step = true;
  return row;
}

/// A part that may be there or not. What is taken away is kept aside, for as long as the form lives, and
/// comes back when it is put on again; the first time `first` makes one. `part` gives the std::optional of a
/// value, const or not.
template <class T, class Part, class First>
FormRow<T> part_row(QString key, QString label, QString tip, Part part, First first) {
  using Kept = std::remove_cvref_t<decltype(part(std::declval<T&>()))>;
  auto aside = std::make_shared<Kept>();
  return check_row<T>(
      std::move(key), std::move(label), std::move(tip),
      [part](const T& value) { return part(value).has_value(); },
      [part, first, aside](T& value, bool on) {
        auto& there = part(value);
        if (on == there.has_value())
          return;
        if (!on)
          aside->swap(there);
        there = !on ? Kept{} : aside->has_value() ? *aside : Kept(first(value));
      });
}

/// One of a few words; each change is a step.
template <class T>
FormRow<T> choice_row(QString key, QString label, QString tip, QStringList words,
                      std::function<int(const T&)> get, std::function<void(T&, int)> set) {
  FormRow<T> row{std::move(key), std::move(label), std::move(tip),
                 [words = std::move(words), get, set](const QString& name, const QString& text,
                                                      typename FormRow<T>::Give give) {
                   auto* box = new ComboBox;
                   box->addItems(words);
                   box->setObjectName(name);
                   box->setAccessibleName(text);
                   box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
                   const Held both = held(box, name);
                   QObject::connect(box, &QComboBox::activated, box,
                                    [set, give](int index) { give([&](T& value) { set(value, index); }); });
                   return typename FormRow<T>::Control{
                       both.widget,
                       [box, error = both.error, get](const T& value) {
                         box->setCurrentIndex(get(value));
                         show_complaint(*error, {});
                       },
                       [error = both.error](const QString& why) { show_complaint(*error, why); }, false};
                 }};
  row.own_step = true;
  return row;
}

/// A line of text. `set` may refuse with a complaint.
template <class T>
FormRow<T> text_row(QString key, QString label, QString tip, std::function<QString(const T&)> get,
                    std::function<std::optional<QString>(T&, const QString&)> set) {
  return {std::move(key), std::move(label), std::move(tip),
          [get, set](const QString& name, const QString& text, typename FormRow<T>::Give give) {
            auto* line = new QLineEdit;
            line->setObjectName(name + "_line");
            line->setAccessibleName(text);
            const Held both = held(line, name);
            both.widget->setObjectName(name);
            const auto complain = [error = both.error](const QString& why) { show_complaint(*error, why); };
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
            return typename FormRow<T>::Control{both.widget,
                                                [line, get, complain](const T& value) {
                                                  line->setText(get(value));
                                                  show_beginning(*line);
                                                  complain({});
                                                },
                                                complain};
          }};
}

/// The points of a curve; with `csv` they can be read from a file and written to one.
template <class T>
FormRow<T> points_row(QString key, QString label, QString tip, PointTable::Column first,
                      PointTable::Column second, std::function<std::vector<PointTable::Point>(const T&)> get,
                      std::function<void(T&, const std::vector<PointTable::Point>&)> set,
                      std::optional<PointTable::Csv> csv = std::nullopt) {
  return {std::move(key), std::move(label), std::move(tip),
          [first = std::move(first), second = std::move(second), get, set,
           csv = std::move(csv)](const QString& name, const QString& text, typename FormRow<T>::Give give) {
            auto* table = new PointTable(first, second);
            if (csv)
              table->use_files(*csv);
            table->set_names(name, text);
            QObject::connect(table, &PointTable::edited, table,
                             [table, set, give] { give([&](T& value) { set(value, table->points()); }); });
            return typename FormRow<T>::Control{
                table, [table, get](const T& value) { table->set_points(get(value)); },
                [table](const QString& why) { table->set_error(why); }};
          }};
}

/// A sentence, over the whole width.
template <class T> FormRow<T> note_row(QString key, QString words) {
  FormRow<T> row{
      std::move(key), words, {}, [words](const QString& name, const QString&, typename FormRow<T>::Give) {
        auto* label = new WrappedLabel;
        label->setObjectName(name);
        label->setForegroundRole(QPalette::PlaceholderText);
        label->set_text(words);
        return typename FormRow<T>::Control{label, [](const T&) {}, [](const QString&) {}};
      }};
  row.wide = true;
  return row;
}
///@}

/// A form over a value of type T. Edited copies of the value go to `apply`, whose complaint is shown at the
/// row.
template <class T> class Form {
public:
  /// Takes the edited value, the key of the row (empty where the change is to be a step of its own) and its
  /// label; an error means that nothing has changed.
  using Apply = std::function<std::optional<Error>(T next, const QString& key, const QString& label)>;

  /// Object names are `name`_KEY.
  Form(const QString& name, std::vector<FormRow<T>> rows, Apply apply)
      : widget_(new QWidget), state_(std::make_shared<State>()) {
    state_->apply = std::move(apply);
    state_->rows = std::move(rows);
    widget_->setObjectName(name);
    auto* layout = new QFormLayout(widget_);
    state_->layout = layout;
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    layout->setRowWrapPolicy(QFormLayout::WrapLongRows);
    layout->setLabelAlignment(Qt::AlignLeft);
    for (std::size_t i = 0; i < state_->rows.size(); ++i) {
      const FormRow<T>& row = state_->rows[i];
      // The form may be thrown away by what the change does; the state lives on until then.
      auto control = row.make(
          name + "_" + row.key, row.label,
          [state = state_, i](const typename FormRow<T>::Change& change) { state->take(i, change); });
      control.widget->setToolTip(row.tip);
      QLabel* label = nullptr;
      if (!row.wide) {
        label = new QLabel(row.label);
        label->setBuddy(control.widget);
        label->setToolTip(row.tip);
        if (row.nested)
          label->setIndent(wide_gap);
      }
      state_->controls.push_back(std::move(control));
      state_->labels.push_back(label);
      state_->there.push_back(true);
      state_->put(i, layout->rowCount());
    }
  }

  [[nodiscard]] QWidget* widget() const { return widget_; }
  void show(const T& value) {
    state_->shown = value;
    state_->arrange(true);
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
    std::vector<FormRow<T>> rows;
    std::optional<T> shown;
    std::vector<typename FormRow<T>::Control> controls;
    std::vector<QLabel*> labels; ///< none for a wide row
    std::vector<bool> there;     ///< whether the row stands on the screen
    QFormLayout* layout;
    Apply apply;

    [[nodiscard]] bool applies(std::size_t i) const { return !rows[i].applies || rows[i].applies(*shown); }

    void put(std::size_t i, int at) {
      if (labels[i] != nullptr)
        layout->insertRow(at, labels[i], controls[i].widget);
      else
        layout->insertRow(at, controls[i].widget);
    }
    /// Takes a row off the screen. QFormLayout::setRowVisible() is no help: in Qt 6.4 a hidden row that would
    /// wrap leaves the row before it without height.
    void remove(std::size_t i) {
      const QFormLayout::TakeRowResult taken = layout->takeRow(controls[i].widget);
      delete taken.labelItem;
      delete taken.fieldItem;
    }

    /// Has the rows on the screen that the value has; `anew`: all of them show it again, else those alone
    /// that come.
    void arrange(bool anew) {
      int at = 0;
      for (std::size_t i = 0; i < rows.size(); ++i) {
        const bool come = applies(i);
        if (come && (anew || !there[i]))
          controls[i].show(*shown);
        if (come != there[i]) {
          if (come)
            put(i, at);
          else
            remove(i);
          there[i] = come;
          controls[i].widget->setVisible(come);
          if (labels[i] != nullptr)
            labels[i]->setVisible(come);
        }
        at += come ? 1 : 0;
      }
    }

    void take(std::size_t i, const typename FormRow<T>::Change& change) {
      // A field that has just left the screen may still give what was typed in it.
      if (!apply || !shown || !applies(i))
        return;
      T next = *shown;
      change(next);
      if (next == *shown) {
        arrange(false); // a choice may show other rows without changing anything yet
        return;
      }
      const Apply now = apply; // the change may retire the form
      const auto error = now(std::move(next), rows[i].own_step ? QString() : rows[i].key, rows[i].label);
      if (!error)
        return;
      if (!controls[i].keeps_refused)
        controls[i].show(*shown);
      controls[i].complain(complaint(*error));
    }
  };
  QWidget* widget_;
  std::shared_ptr<State> state_;
};

} // namespace bellmouth::ui
