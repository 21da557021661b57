// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_sheets.hpp"
#include "bay_text.hpp"
#include "quantity_edit.hpp"
#include "units.hpp"

#include <QCoreApplication>

namespace bellmouth::ui {

namespace {

using build::KeepOut;
using Complaint = std::optional<QString>;

QString tr(const char* text) {
  return QCoreApplication::translate("KeepOutSheet", text);
}

/// Makes columns that read and change the keep-outs of a session.
class Columns {
public:
  explicit Columns(Session& session) : session_(&session) {}

  [[nodiscard]] const build::Build& build() const { return session_->build(); }
  [[nodiscard]] const KeepOut& keep_out(int row) const {
    return build().keep_outs.at(static_cast<std::size_t>(row));
  }
  Complaint apply(int row, KeepOut next, const QString& what) const {
    const auto index = static_cast<std::size_t>(row);
    const QString text = tr("Change %1 of %2").arg(what, keep_out_title(build(), index));
    const auto error = session_->apply(build::with_keep_out_replaced(build(), index, std::move(next)), text);
    return error ? Complaint(complaint(*error)) : std::nullopt;
  }

  /// A column of words to choose from.
  [[nodiscard]] SheetColumn choice(const QString& title, const QString& tip, const QString& what,
                                   const std::function<QStringList()>& words,
                                   const std::function<int(const KeepOut&)>& get,
                                   const std::function<void(KeepOut&, int)>& set) const {
    return {.title = title,
            .tip = tip,
            .text = [self = *this, words, get](int row) { return words().value(get(self.keep_out(row))); },
            .set =
                [self = *this, words, set, what](int row, const QString& typed) {
                  KeepOut next = self.keep_out(row);
                  set(next, static_cast<int>(words().indexOf(typed)));
                  return self.apply(row, std::move(next), what);
                },
            .choices = [words](int) { return words(); }};
  }

  [[nodiscard]] SheetColumn name() const {
    return {.title = tr("Keep-out"),
            .tip = tr("What you call it"),
            .text = [self = *this](
                        int row) { return keep_out_title(self.build(), static_cast<std::size_t>(row)); },
            .set =
                [self = *this](int row, const QString& typed) {
                  KeepOut next = self.keep_out(row);
                  next.name = typed.toStdString();
                  return self.apply(row, std::move(next), tr("name"));
                },
            .muted = [self = *this](int row) { return self.keep_out(row).name.empty(); }};
  }

  [[nodiscard]] SheetColumn clearance() const {
    return {.title = tr("Clearance"),
            .tip = tr("How far ducting stays off it; empty: what its class asks for"),
            .text = [self = *this](
                        int row) { return plain_length(self.build().clearance_m(self.keep_out(row))); },
            .set = [self = *this](int row, const QString& typed) -> Complaint {
              KeepOut next = self.keep_out(row);
              next.clearance_m.reset();
              if (!typed.isEmpty()) {
                const auto length = typed_length(typed);
                if (!length)
                  return complaint(length.error());
                next.clearance_m = *length;
              }
              return self.apply(row, std::move(next), tr("clearance"));
            },
            .muted = [self = *this](int row) { return !self.keep_out(row).clearance_m; },
            .number = true};
  }

  [[nodiscard]] SheetColumn states() const {
    return {.title = tr("There"),
            .tip = tr("Always, or in these states of the bay only"),
            .text = [self = *this](int row) { return states_text(self.keep_out(row)); },
            .set = [self = *this](int row, const QString& typed) -> Complaint {
              const auto states = states_of(self.build(), typed);
              if (!states)
                return complaint(states.error());
              KeepOut next = self.keep_out(row);
              next.states = *states;
              return self.apply(row, std::move(next), tr("states"));
            },
            .muted = [self = *this](int row) { return self.keep_out(row).states.empty(); }};
  }

  [[nodiscard]] SheetColumn coordinate(const QString& title, std::size_t axis) const {
    return {
        .title = title,
        .tip = tr(
            "Centre of a box or sphere, first end of a cylinder, a point of a half-space's face, origin of "
            "a scan. A length, or a whole place in words: 120 mm below and 40 mm left of a port"),
        .text = [self = *this,
                 axis](int row) { return plain_length(place_of_shape(self.keep_out(row))[axis]); },
        .set = [self = *this, axis](int row, const QString& typed) -> Complaint {
          const KeepOut& now = self.keep_out(row);
          const auto place = bay::place_with_coordinate(self.build(), typed.toStdString(), axis,
                                                        wording(place_of_shape(now)));
          if (!place)
            return complaint(place.error());
          return self.apply(row, with_place(now, *place), tr("place"));
        },
        .number = true};
  }

  [[nodiscard]] SheetColumn size() const {
    return {
        .title = tr("Size"),
        .tip =
            tr("Box: length × width × height. Cylinder: diameter × length. Sphere: diameter. Half-space: the "
               "side that is kept free lies beyond its face"),
        .text = [self = *this](int row) { return size_text(self.keep_out(row)); },
        .set = [self = *this](int row, const QString& typed) -> Complaint {
          if (std::holds_alternative<build::Scan>(self.keep_out(row).shape))
            return tr("found a size for a scan; accepted: another scan, from the Add menu");
          auto next = with_size(self.build(), self.keep_out(row), typed);
          if (!next)
            return complaint(next.error());
          return self.apply(row, *std::move(next), tr("size"));
        }};
  }

  [[nodiscard]] SheetColumn tolerance() const {
    return {.title = tr("±"),
            .tip = tr("How far the place may be off, any way"),
            .text =
                [self = *this](int row) {
                  const auto& survey = self.keep_out(row).survey;
                  return survey ? plain_length(survey->tolerance_m) : QString();
                },
            .set = [self = *this](int row, const QString& typed) -> Complaint {
              const auto length = typed_length(typed);
              if (!length)
                return complaint(length.error());
              KeepOut next = self.keep_out(row);
              if (!next.survey)
                next.survey = build::Survey{.measured = true, .tolerance_m = 0, .note = {}};
              next.survey->tolerance_m = *length;
              return self.apply(row, std::move(next), tr("tolerance"));
            },
            .number = true};
  }

private:
  Session* session_;
};

} // namespace

std::vector<SheetColumn> keep_out_columns(Session& session) {
  const Columns columns(session);
  const auto owners = [columns] { return owner_words(columns.build()); };
  SheetColumn known = columns.choice(
      tr("Known"), tr("Whether the place was measured or is assumed"), tr("how it is known"), knowledge_words,
      [](const KeepOut& keep_out) { return knowledge(keep_out.survey); },
      [](KeepOut& keep_out, int index) { set_knowledge(keep_out.survey, index); });
  known.muted = [columns](int row) { return !columns.keep_out(row).survey; };
  return {
      columns.name(),
      {.title = tr("Kind"),
       .tip = tr("Its shape"),
       .text = [columns](int row) { return keep_out_kind(columns.keep_out(row)); }},
      columns.choice(
          tr("Class"), tr("Fixed, moving or hot: sets the clearance"), tr("class"), class_words,
          [](const KeepOut& keep_out) { return static_cast<int>(keep_out.keep_out_class); },
          [](KeepOut& keep_out, int index) {
            keep_out.keep_out_class = static_cast<build::KeepOutClass>(index);
          }),
      columns.clearance(),
      columns.coordinate(tr("Forward"), 0),
      columns.coordinate(tr("Left"), 1),
      columns.coordinate(tr("Up"), 2),
      columns.size(),
      columns.choice(
          tr("Mounted on"), tr("What it moves with"), tr("mounting"), mounting_words,
          [](const KeepOut& keep_out) { return static_cast<int>(keep_out.mounting); },
          [](KeepOut& keep_out, int index) { keep_out.mounting = static_cast<build::Mounting>(index); }),
      columns.choice(
          tr("Body of"), tr("The machine whose body it is: ducting begins and ends at it"), tr("machine"),
          owners,
          [columns](const KeepOut& keep_out) { return owner_index(columns.build(), keep_out.machine); },
          [columns](KeepOut& keep_out, int index) { keep_out.machine = owner_at(columns.build(), index); }),
      columns.states(),
      std::move(known),
      columns.tolerance()};
}

QStringList keep_out_keys(const Session& session) {
  QStringList keys;
  const std::size_t count = session.build().keep_outs.size();
  for (std::size_t i = 0; i < count; ++i)
    keys << QString("%1/%2/%3").arg(session.document_number()).arg(count).arg(i);
  return keys;
}

} // namespace bellmouth::ui
