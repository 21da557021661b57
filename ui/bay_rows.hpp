// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of forms that things of the bay share: a place, a direction, how well it is known.
#pragma once

#include "bay_text.hpp"
#include "form.hpp"

#include <QCoreApplication>

namespace bellmouth::ui {

/// The build as it is now, to measure from its ports.
using BuildNow = std::function<const build::Build&()>;

/// A place, typed as three lengths or in words; see bay::place_of().
template <class T>
FormRow<T> place_row(QString key, QString label, QString tip, std::function<build::Vector(const T&)> get,
                     std::function<void(T&, const build::Vector&)> set, const BuildNow& build) {
  return text_row<T>(
      std::move(key), std::move(label), std::move(tip),
      [get](const T& value) { return place_text(get(value)); },
      [get, set, build](T& value, const QString& typed) -> std::optional<QString> {
        const build::Vector here = get(value);
        if (typed == place_text(here))
          return std::nullopt;
        const auto place = bay::place_of(build(), typed.toStdString(), wording(here));
        if (!place)
          return complaint(place.error());
        set(value, *place);
        return std::nullopt;
      });
}

/// A direction of unit length, typed in words or as three numbers; see bay::direction_of().
template <class T>
FormRow<T> direction_row(QString key, QString label, QString tip, std::function<build::Vector(const T&)> get,
                         std::function<void(T&, const build::Vector&)> set, const BuildNow& build) {
  return text_row<T>(
      std::move(key), std::move(label), std::move(tip),
      [get](const T& value) { return direction_text(get(value)); },
      [get, set, build](T& value, const QString& typed) -> std::optional<QString> {
        if (typed == direction_text(get(value)))
          return std::nullopt;
        const auto direction = bay::direction_of(build(), typed.toStdString(), wording());
        if (!direction)
          return complaint(direction.error());
        set(value, *direction);
        return std::nullopt;
      });
}

/// How the place is known, how far it may be off, and how it was found. T has a `survey`.
template <class T> std::vector<FormRow<T>> survey_rows() {
  const auto tr = [](const char* text) { return QCoreApplication::translate("BayRows", text); };
  const auto said = [](const T& value) { return value.survey.has_value(); };
  return {
      choice_row<T>(
          "known", tr("Known"), tr("Whether the place was measured or is assumed"), knowledge_words(),
          [](const T& value) { return knowledge(value.survey); },
          [](T& value, int index) { set_knowledge(value.survey, index); }),
      only_if<T>(said, quantity_row<T>(
                           "tolerance", tr("Tolerance"), tr("How far it may be off, any way"), QuantityKind{},
                           [](const T& value) { return std::optional(value.survey->tolerance_m); },
                           [](T& value, std::optional<double> tolerance_m) {
                             value.survey->tolerance_m = *tolerance_m;
                           })),
      only_if<T>(said, text_row<T>(
                           "survey_note", tr("How found"), tr("In your words: tape, twice; from the drawing"),
                           [](const T& value) { return QString::fromStdString(value.survey->note); },
                           [](T& value, const QString& text) -> std::optional<QString> {
                             value.survey->note = text.trimmed().toStdString();
                             return std::nullopt;
                           }))};
}

} // namespace bellmouth::ui
