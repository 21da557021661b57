// SPDX-License-Identifier: GPL-3.0-or-later
#include "piece_fields.hpp"

#include "units.hpp"

#include <bellmouth/check.hpp>

#include <QCoreApplication>

namespace bellmouth::ui {

namespace {

using namespace build;
using quantity::Dimension;
using Row = FormRow<Piece>;
using Rows = std::vector<Row>;

QString tr(const char* text) {
  return QCoreApplication::translate("PieceFields", text);
}

// To start from (trade practice).
constexpr Tip ordinary_tip{5e-3, 12e-3};
constexpr Lagging ordinary_lagging{6e-3, 0.05};

/// A number of the kind S, in SI.
template <class S>
Row number(const char* key, const char* label, const char* tip, double S::*member, Dimension dimension) {
  return quantity_row<Piece>(
      key, tr(label), tr(tip), QuantityKind{.dimension = dimension},
      [member](const Piece& piece) { return std::optional(std::get<S>(piece.shape).*member); },
      [member](Piece& piece, std::optional<double> value) { std::get<S>(piece.shape).*member = *value; });
}
template <class S> Row length(const char* key, const char* label, const char* tip, double S::*member) {
  return number<S>(key, label, tip, member, Dimension::length);
}
template <class S> Row angle(const char* key, const char* label, const char* tip, double S::*member) {
  return number<S>(key, label, tip, member, Dimension::angle);
}

template <class S> Rows bead_rows() {
  const auto row = [](const char* key, const char* label, bool Beads::*end) {
    return check_row<Piece>(
        key, tr(label), tr("A raised ring that keeps a hose from sliding off"),
        [end](const Piece& piece) { return std::get<S>(piece.shape).beads.*end; },
        [end](Piece& piece, bool on) { std::get<S>(piece.shape).beads.*end = on; });
  };
  return {row("bead_in", "Bead at the inlet", &Beads::in),
          row("bead_out", "Bead at the outlet", &Beads::out)};
}

template <class S> Rows engagement_rows() {
  const auto row = [](const char* key, const char* label, double Engagement::*end) {
    return quantity_row<Piece>(
        key, tr(label), tr("How far the spigot goes into the hose"), QuantityKind{},
        [end](const Piece& piece) { return std::optional(std::get<S>(piece.shape).engagement.*end); },
        [end](Piece& piece, std::optional<double> value) {
          std::get<S>(piece.shape).engagement.*end = *value;
        });
  };
  return {row("engagement_in", "Engagement at the inlet", &Engagement::in_m),
          row("engagement_out", "Engagement at the outlet", &Engagement::out_m)};
}

/// The bore of a tube, with which the outside diameter goes.
Row tube_bore() {
  return quantity_row<Piece>(
      "bore", tr("Bore"), tr("Inside diameter; the wall stays when it changes"), QuantityKind{.above = 0.0},
      [](const Piece& piece) { return std::optional(bore_in_m(piece.shape)); },
      [](Piece& piece, std::optional<double> value) { piece = with_bore(piece, *value); });
}

template <class S> Rows tube_size_rows() {
  return {length("outer_diameter", "Outside diameter", "Over the metal", &S::outer_diameter_m),
          length("wall", "Wall", "Thickness of the metal", &S::wall_m), tube_bore()};
}
template <class S> Rows bend_rows() {
  return {angle("angle", "Angle", "How far the stream is turned", &S::angle_rad),
          length("radius", "Centreline radius", "Of the bend, to the middle of the bore", &S::radius_m),
          length("leg_in", "Leg at the inlet", "Straight before the bend", &S::leg_in_m),
          length("leg_out", "Leg at the outlet", "Straight behind the bend", &S::leg_out_m),
          angle("clocking", "Clocking", "Turn of the bend about the centreline, clockwise looking downstream",
                &S::clocking_rad)};
}

Rows rows_of(const Tube&) {
  Rows rows = tube_size_rows<Tube>();
  rows.push_back(length("length", "Length", "Cut length, end to end", &Tube::length_m));
  append(rows, bead_rows<Tube>());
  return rows;
}
Rows rows_of(const TubeBend&) {
  Rows rows = tube_size_rows<TubeBend>();
  append(rows, bend_rows<TubeBend>());
  append(rows, bead_rows<TubeBend>());
  return rows;
}
Rows rows_of(const MitredBend&) {
  Rows rows = tube_size_rows<MitredBend>();
  append(rows, bend_rows<MitredBend>());
  rows.push_back(quantity_row<Piece>(
      "joints", tr("Mitre joints"), tr("Welds on the arc; one is a single mitre"),
      QuantityKind{.dimension = Dimension::ratio, .whole = true},
      [](const Piece& piece) { return std::optional<double>(std::get<MitredBend>(piece.shape).joints); },
      [](Piece& piece, std::optional<double> value) {
        std::get<MitredBend>(piece.shape).joints = whole_number(*value);
      }));
  append(rows, bead_rows<MitredBend>());
  return rows;
}
Rows rows_of(const Cone&) {
  Rows rows{
      length("outer_diameter_in", "Outside diameter, inlet", "Over the metal", &Cone::outer_diameter_in_m),
      length("outer_diameter_out", "Outside diameter, outlet", "Over the metal", &Cone::outer_diameter_out_m),
      length("wall", "Wall", "Thickness of the metal", &Cone::wall_m),
      length("length", "Length", "End to end", &Cone::length_m)};
  append(rows, bead_rows<Cone>());
  return rows;
}
Rows rows_of(const Adapter&) {
  Rows rows{length("outer_diameter_in", "Outside diameter, inlet", "Over the spigot",
                   &Adapter::outer_diameter_in_m),
            length("bore_in", "Bore, inlet", "Inside diameter", &Adapter::bore_in_m),
            length("outer_diameter_out", "Outside diameter, outlet", "Over the spigot",
                   &Adapter::outer_diameter_out_m),
            length("bore_out", "Bore, outlet", "Inside diameter", &Adapter::bore_out_m),
            length("length", "Length", "End to end", &Adapter::length_m)};
  append(rows, bead_rows<Adapter>());
  return rows;
}
Rows rows_of(const Hose&) {
  Rows rows{length("bore", "Bore", "Inside diameter; the spigots' outside diameter", &Hose::bore_m),
            length("wall", "Wall", "Thickness of the hose", &Hose::wall_m),
            length("length", "Length", "Cut length, the covered ends included", &Hose::length_m)};
  append(rows, engagement_rows<Hose>());
  rows.push_back(choice_row<Piece>(
      "lining", tr("Lining"), tr("The inside of the hose: smooth, with its wire showing, or corrugated"),
      {tr("smooth"), tr("wire shows"), tr("corrugated")},
      [](const Piece& piece) { return static_cast<int>(std::get<Hose>(piece.shape).lining); },
      [](Piece& piece, int index) { std::get<Hose>(piece.shape).lining = static_cast<Lining>(index); }));
  return rows;
}
Rows rows_of(const HumpHose&) {
  Rows rows{length("bore", "Bore", "Inside diameter; the spigots' outside diameter", &HumpHose::bore_m),
            length("wall", "Wall", "Thickness of the hose", &HumpHose::wall_m),
            length("length", "Length", "Cut length, the covered ends included", &HumpHose::length_m),
            length("hump_length", "Hump length", "The spigots must not enter it", &HumpHose::hump_length_m),
            length("hump_bore", "Hump bore", "Inside diameter at the hump's crest", &HumpHose::hump_bore_m)};
  append(rows, engagement_rows<HumpHose>());
  return rows;
}
Rows rows_of(const HoseElbow&) {
  Rows rows{length("bore_in", "Bore, inlet", "Inside diameter", &HoseElbow::bore_in_m),
            length("bore_out", "Bore, outlet", "Inside diameter", &HoseElbow::bore_out_m),
            length("wall", "Wall", "Thickness of the hose", &HoseElbow::wall_m)};
  append(rows, bend_rows<HoseElbow>());
  rows.push_back(check_row<Piece>(
      "pleated", tr("Pleated"), tr("The bore is corrugated so that the elbow can flex"),
      [](const Piece& piece) { return std::get<HoseElbow>(piece.shape).pleated; },
      [](Piece& piece, bool on) { std::get<HoseElbow>(piece.shape).pleated = on; }));
  append(rows, engagement_rows<HoseElbow>());
  return rows;
}
Rows rows_of(const HoseReducer&) {
  Rows rows{length("bore_in", "Bore, inlet", "Inside diameter", &HoseReducer::bore_in_m),
            length("bore_out", "Bore, outlet", "Inside diameter", &HoseReducer::bore_out_m),
            length("wall", "Wall", "Thickness of the hose", &HoseReducer::wall_m),
            length("length", "Length", "Cut length, the covered ends included", &HoseReducer::length_m)};
  append(rows, engagement_rows<HoseReducer>());
  return rows;
}
/// The part of the sensor that stands into the stream.
Rows tip_rows() {
  const auto tip = [](auto& piece) -> auto& {
    return std::get<SensorBoss>(piece.shape).tip;
  };
  const auto row = [&](const char* key, const char* label, const char* words, double Tip::*member) {
    return only_if<Piece>(
        [tip](const Piece& piece) { return tip(piece).has_value(); },
        quantity_row<Piece>(
            key, tr(label), tr(words), QuantityKind{},
            [tip, member](const Piece& piece) { return std::optional((*tip(piece)).*member); },
            [tip, member](Piece& piece, std::optional<double> value) { (*tip(piece)).*member = *value; }));
  };
  return {part_row<Piece>("tip", tr("Tip"), tr("Whether the sensor stands into the air; else it is flush"),
                          tip, [](const Piece&) { return ordinary_tip; }),
          row("tip_diameter", "Tip diameter", "Of the part that stands into the air", &Tip::diameter_m),
          row("tip_depth", "Tip depth", "How far it stands into the air, from the wall", &Tip::depth_m)};
}
Rows rows_of(const SensorBoss&) {
  Rows rows{
      length("position", "Position", "Along the centreline from the inlet end of the piece it sits on",
             &SensorBoss::position_m),
      angle("clocking", "Clocking", "Where round the piece, clockwise looking downstream",
            &SensorBoss::clocking_rad),
      text_row<Piece>(
          "thread", tr("Thread"), tr("Designation, as in M12x1.5 or 1/8 NPT"),
          [](const Piece& piece) { return QString::fromStdString(std::get<SensorBoss>(piece.shape).thread); },
          [](Piece& piece, const QString& text) -> std::optional<QString> {
            std::get<SensorBoss>(piece.shape).thread = text.trimmed().toStdString();
            return std::nullopt;
          })};
  append(rows, tip_rows());
  return rows;
}

/// How much a flexible piece gives, where the user knows better than what is usual.
Rows give_rows() {
  const auto said = [](const Piece& piece) { return piece.give.has_value(); };
  const auto row = [&](const char* key, const char* label, const char* words, double Give::*member,
                       Dimension dimension) {
    return only_if<Piece>(
        said, quantity_row<Piece>(
                  key, tr(label), tr(words), quantity_of(dimension),
                  [member](const Piece& piece) { return std::optional((*piece.give).*member); },
                  [member](Piece& piece, std::optional<double> value) { (*piece.give).*member = *value; }));
  };
  const trade::Limits limits = trade::defaults();
  const auto usual = [limits](const Piece& piece) {
    return std::holds_alternative<HumpHose>(piece.shape)
               ? Give{limits.hump_axial_m, limits.hump_offset_m, limits.hump_angle_rad}
               : Give{limits.hose_axial_m, limits.hose_offset_m, limits.hose_angle_rad};
  };
  const auto hint = [&](const char* key, const char* words, const Give& give, bool hump) {
    return shown_if<Piece>(
        [hump](const Piece& piece) {
          return !piece.give && std::holds_alternative<HumpHose>(piece.shape) == hump;
        },
        note_row<Piece>(key, tr(words).arg(show_length(give.axial_m), show_length(give.offset_m),
                                           show_angle(give.angle_rad))));
  };
  return {part_row<Piece>(
              "give", tr("Own give"),
              tr("How much movement it takes up between its ends; else what is usual for its kind"),
              [](auto& piece) -> auto& { return piece.give; }, usual),
          row("give_axial", "In line", "Longer and shorter, each way", &Give::axial_m, Dimension::length),
          row("give_offset", "Sideways", "One end against the other, each way", &Give::offset_m,
              Dimension::length),
          row("give_angle", "In angle", "One end against the other, each way", &Give::angle_rad,
              Dimension::angle),
          hint("give_hump", "A hump usually gives %1 in line, %2 sideways and %3.",
               {limits.hump_axial_m, limits.hump_offset_m, limits.hump_angle_rad}, true),
          hint("give_hose",
               "A short plain hose usually gives %1 in line, %2 sideways and %3; a long one more.",
               {limits.hose_axial_m, limits.hose_offset_m, limits.hose_angle_rad}, false)};
}

Rows lagging_rows() {
  const auto row = [](const char* key, const char* label, const char* words, double Lagging::*member,
                      QuantityKind kind) {
    return only_if<Piece>(
        [](const Piece& piece) { return piece.lagging.has_value(); },
        quantity_row<Piece>(
            key, tr(label), tr(words), std::move(kind),
            [member](const Piece& piece) { return std::optional((*piece.lagging).*member); },
            [member](Piece& piece, std::optional<double> value) { (*piece.lagging).*member = *value; }));
  };
  return {
      part_row<Piece>(
          "lagging", tr("Lagging"),
          tr("Wrapped against the heat of the bay; it counts where the build has air of the bay"),
          [](auto& piece) -> auto& { return piece.lagging; }, [](const Piece&) { return ordinary_lagging; }),
      row("lagging_thickness", "Lagging thickness", "Of the lagging", &Lagging::thickness_m, QuantityKind{}),
      row("lagging_conductivity", "Lagging conductivity",
          "Of the lagging: 0.04 W/(m K) for foam and fibre, about 0.1 for woven wrap",
          &Lagging::conductivity_W_mK, in_own_unit({.symbol = "W/(m K)", .step = 0.005}))};
}
Rows rows_of(const ValveFlange&) {
  return {length("position", "Position", "Along the centreline from the inlet end of the piece it sits on",
                 &ValveFlange::position_m),
          angle("clocking", "Clocking", "Where round the piece, clockwise looking downstream",
                &ValveFlange::clocking_rad),
          length("bore", "Bore", "Of the hole in the piece it sits on", &ValveFlange::bore_m)};
}

} // namespace

std::vector<FormRow<build::Piece>> piece_fields(const build::Piece& piece) {
  Rows rows = std::visit([](const auto& shape) { return rows_of(shape); }, piece.shape);
  rows.push_back(choice_row<Piece>(
      "material", tr("Material"), tr("Sets the roughness and what the piece can stand"),
      {tr("aluminium"), tr("mild steel"), tr("stainless steel"), tr("silicone"), tr("rubber"), tr("plastic")},
      [](const Piece& shown) { return static_cast<int>(shown.material); },
      [](Piece& changed, int index) { changed.material = static_cast<Material>(index); }));
  if (is_flexible(piece.shape))
    append(rows, give_rows());
  if (!is_fitting(piece.shape))
    append(rows, lagging_rows());
  rows.push_back(text_row<Piece>(
      "label", tr("Name"), tr("What you call it; empty: the name of its kind"),
      [](const Piece& shown) { return QString::fromStdString(shown.label); },
      [](Piece& changed, const QString& text) -> std::optional<QString> {
        changed.label = text.trimmed().toStdString();
        return std::nullopt;
      }));
  return rows;
}

} // namespace bellmouth::ui
