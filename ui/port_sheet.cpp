// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_sheets.hpp"
#include "bay_text.hpp"
#include "quantity_edit.hpp"
#include "units.hpp"

#include <QCoreApplication>

namespace bellmouth::ui {

namespace {

using build::Port;
using Complaint = std::optional<QString>;

QString tr(const char* text) {
  return QCoreApplication::translate("PortSheet", text);
}

/// Makes columns that read and change the ports of a session.
class Columns {
public:
  explicit Columns(Session& session) : session_(&session) {}

  [[nodiscard]] const Port& port(int row) const {
    return session_->build().ports.at(static_cast<std::size_t>(row));
  }
  Complaint apply(Port next, const QString& what) const {
    const QString text = tr("Change %1 of %2").arg(what.toLower(), port_title(next.id));
    const auto error = session_->apply(build::with_port(session_->build(), std::move(next)), text);
    return error ? Complaint(complaint(*error)) : std::nullopt;
  }
  [[nodiscard]] const build::Build& build() const { return session_->build(); }

  [[nodiscard]] SheetColumn length(const QString& title, const QString& tip, double Port::*member) const {
    return {.title = title,
            .tip = tip,
            .text = [self = *this, member](int row) { return plain_length(self.port(row).*member); },
            .set = [self = *this, member, title](int row, const QString& typed) -> Complaint {
              const auto length = typed_length(typed);
              if (!length)
                return complaint(length.error());
              Port next = self.port(row);
              next.*member = *length;
              return self.apply(std::move(next), title);
            },
            .number = true};
  }

  [[nodiscard]] SheetColumn coordinate(const QString& title, std::size_t axis) const {
    return {.title = title,
            .tip =
                tr("From the origin of the bay. A length, or a whole place in words: 120 mm below and 40 mm "
                   "left of another port"),
            .text =
                [self = *this, axis](int row) {
                  const auto& pose = self.port(row).pose;
                  return pose ? plain_length(pose->position_m[axis]) : QString();
                },
            .set = [self = *this, axis](int row, const QString& typed) -> Complaint {
              Port next = self.port(row);
              const auto here = next.pose ? std::optional(next.pose->position_m) : std::nullopt;
              const auto place =
                  bay::place_with_coordinate(self.build(), typed.toStdString(), axis, wording(here));
              if (!place)
                return complaint(place.error());
              if (!next.pose)
                next.pose.emplace();
              next.pose->position_m = *place;
              return self.apply(std::move(next), tr("place"));
            },
            .number = true};
  }

  [[nodiscard]] SheetColumn direction() const {
    return {
        .title = tr("Points to"),
        .tip =
            tr("Out of the machine: forward; up and back; 30 deg up from forward; against another port; or "
               "three numbers"),
        .text =
            [self = *this](int row) {
              const auto& pose = self.port(row).pose;
              return pose ? direction_text(pose->direction) : QString();
            },
        .set = [self = *this](int row, const QString& typed) -> Complaint {
          Port next = self.port(row);
          if (!next.pose)
            return tr("found a direction without a place; accepted: the place first, in the cells before");
          const auto direction = bay::direction_of(self.build(), typed.toStdString(), wording());
          if (!direction)
            return complaint(direction.error());
          next.pose->direction = *direction;
          return self.apply(std::move(next), tr("direction"));
        }};
  }

  [[nodiscard]] SheetColumn mounting() const {
    return {.title = tr("Mounted on"),
            .tip = tr("What it moves with: the engine on its mounts, or the body"),
            .text = [self = *this](
                        int row) { return mounting_words()[static_cast<int>(self.port(row).mounting)]; },
            .set =
                [self = *this](int row, const QString& typed) {
                  Port next = self.port(row);
                  next.mounting = static_cast<build::Mounting>(mounting_words().indexOf(typed));
                  return self.apply(std::move(next), tr("mounting"));
                },
            .choices = [](int) { return mounting_words(); }};
  }

  [[nodiscard]] SheetColumn known() const {
    return {.title = tr("Known"),
            .tip = tr("Whether the place was measured or is assumed"),
            .text = [self = *this](int row) { return knowledge_words()[knowledge(self.port(row).survey)]; },
            .set =
                [self = *this](int row, const QString& typed) {
                  Port next = self.port(row);
                  set_knowledge(next.survey, static_cast<int>(knowledge_words().indexOf(typed)));
                  return self.apply(std::move(next), tr("how it is known"));
                },
            .choices = [](int) { return knowledge_words(); },
            .muted = [self = *this](int row) { return !self.port(row).survey; }};
  }

  [[nodiscard]] SheetColumn tolerance() const {
    return {.title = tr("±"),
            .tip = tr("How far the place may be off, any way"),
            .text =
                [self = *this](int row) {
                  const auto& survey = self.port(row).survey;
                  return survey ? plain_length(survey->tolerance_m) : QString();
                },
            .set = [self = *this](int row, const QString& typed) -> Complaint {
              const auto length = typed_length(typed);
              if (!length)
                return complaint(length.error());
              Port next = self.port(row);
              if (!next.survey)
                next.survey = build::Survey{.measured = true, .tolerance_m = 0, .note = {}};
              next.survey->tolerance_m = *length;
              return self.apply(std::move(next), tr("tolerance"));
            },
            .number = true};
  }

private:
  Session* session_;
};

} // namespace

Result<double> typed_length(const QString& typed) {
  return quantity::read(
      quantity::Dimension::length, typed.toStdString(),
      {.default_unit = shown_unit(quantity::Dimension::length), .decimal = decimal_sign(), .ambient_Pa = {}});
}

std::vector<SheetColumn> port_columns(Session& session) {
  const Columns columns(session);
  return {{.title = tr("Port"),
           .tip = tr("By this name other places can be measured from it"),
           .text = [columns](int row) { return port_title(columns.port(row).id); }},
          {.title = tr("Machine"),
           .tip = tr("Whose spigot it is"),
           .text =
               [columns](int row) {
                 const auto& machine = columns.port(row).machine;
                 return machine ? owner_word(columns.build(), machine) : tr("engine or open");
               }},
          columns.mounting(),
          columns.coordinate(tr("Forward"), 0),
          columns.coordinate(tr("Left"), 1),
          columns.coordinate(tr("Up"), 2),
          columns.direction(),
          columns.length(tr("Bore"), tr("Inside diameter"), &Port::bore_m),
          columns.length(tr("Outside"), tr("Diameter over the spigot"), &Port::outer_diameter_m),
          columns.length(tr("Straight"), tr("Straight length in front of it that must stay without a bend"),
                         &Port::free_straight_m),
          columns.known(),
          columns.tolerance()};
}

QStringList port_keys(const Session& session) {
  QStringList keys;
  for (const Port& port : session.build().ports)
    keys << QString("%1/%2").arg(session.document_number()).arg(QString::fromStdString(port.id.text));
  return keys;
}

} // namespace bellmouth::ui
