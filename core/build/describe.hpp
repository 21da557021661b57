// SPDX-License-Identifier: GPL-3.0-or-later
// The one description of each type of a build, from which it is read, written, checked and put into the
// schema. A description visits with
//   field(key, value, field)       a key that must be there
//   optional(key, value, field)    a key that is left out when the value is unset or empty
//   defaulted(key, value, fallback, field)
//                                  a key that is left out when the value is the fallback
//   object(key, value), optional_object(key, value), list(key, values, bounds),
//   optional_list(key, values, bounds)
//                                  values that have a description of their own; the optional ones are left
//                                  out when they are unset or empty
//   variant(value, kinds)          the key "kind" and the keys of that alternative, in the same object
//   either(value, keys, field)     one key of several, which says the alternative
//   rule(key, holds, accepted)     what must hold between values: a flag, or what makes one or says what is
//                                  wrong; asked only where the values before are within bounds
// in the order in which the keys are written.
#pragma once

#include "kinds.hpp"
#include "limits.hpp"

#include <algorithm>
#include <cmath>
#include <concepts>

namespace bellmouth::build {

/// A type, const or not: writing and checking see const values.
template <class T, class U>
concept Like = std::same_as<std::remove_const_t<T>, U>;

/// \name Parts of pieces
///@{
void describe_beads(auto& v, auto& piece) {
  v.field("bead_in", piece.beads.in, FlagField{});
  v.field("bead_out", piece.beads.out, FlagField{});
}

void describe_tube_size(auto& v, auto& piece) {
  v.field("outer_diameter_mm", piece.outer_diameter_m, limits::diameter);
  v.field("wall_mm", piece.wall_m, limits::wall);
  v.rule("wall_mm", piece.wall_m < piece.outer_diameter_m / 2, "a wall below half the outside diameter");
}

/// Angle to clocking of anything bent; `least_radius_m` is that of a bend whose inside has no radius left.
void describe_bend(auto& v, auto& piece, double least_radius_m, auto&& between) {
  v.field("angle_deg", piece.angle_rad, limits::bend_angle);
  v.field("radius_mm", piece.radius_m, limits::length);
  v.rule("radius_mm", piece.radius_m >= least_radius_m * (1 - 1e-12),
         "a centreline radius of at least half the diameter");
  between();
  v.field("leg_in_mm", piece.leg_in_m, limits::length_or_none);
  v.field("leg_out_mm", piece.leg_out_m, limits::length_or_none);
  v.field("clocking_deg", piece.clocking_rad, limits::clocking);
}

void describe_engagement(auto& v, auto& piece) {
  v.field("engagement_in_mm", piece.engagement.in_m, limits::length_or_none);
  v.field("engagement_out_mm", piece.engagement.out_m, limits::length_or_none);
}

/// A spigot goes without saying.
void describe_connection(auto& v, auto& connection, std::string_view key, std::string_view size_key) {
  v.defaulted(key, connection.kind, Connection::Kind::spigot,
              ChoiceField<Connection::Kind>{{connection_keys}});
  v.optional(size_key, connection.size, limits::line);
  v.rule(size_key, (connection.kind == Connection::Kind::spigot) == connection.size.empty(),
         "the size of a flange or a thread, and none of a spigot");
}

/// Lengths are compared with room for rounding.
[[nodiscard]] inline bool fits(double length_m, double room_m) {
  return length_m <= room_m + 1e-9;
}
///@}

/// \name Rigid pieces
///@{
void describe(auto& v, Like<Tube> auto& piece) {
  describe_tube_size(v, piece);
  v.field("length_mm", piece.length_m, limits::length);
  describe_beads(v, piece);
}

void describe(auto& v, Like<TubeBend> auto& piece) {
  describe_tube_size(v, piece);
  describe_bend(v, piece, piece.outer_diameter_m / 2, [] {});
  describe_beads(v, piece);
}

void describe(auto& v, Like<MitredBend> auto& piece) {
  describe_tube_size(v, piece);
  describe_bend(v, piece, piece.outer_diameter_m / 2, [&] {
    v.field("joints", piece.joints, limits::joints);
    v.rule("joints", piece.angle_rad <= limits::mitre_angle_rad * piece.joints * (1 + 1e-12),
           "joints enough for at most 120 deg each");
  });
  describe_beads(v, piece);
}

void describe(auto& v, Like<Cone> auto& piece) {
  v.field("outer_diameter_in_mm", piece.outer_diameter_in_m, limits::diameter);
  v.field("outer_diameter_out_mm", piece.outer_diameter_out_m, limits::diameter);
  v.field("wall_mm", piece.wall_m, limits::wall);
  v.rule("wall_mm", piece.wall_m < std::min(piece.outer_diameter_in_m, piece.outer_diameter_out_m) / 2,
         "a wall below half the smaller outside diameter");
  v.field("length_mm", piece.length_m, limits::length);
  describe_beads(v, piece);
}

void describe(auto& v, Like<Adapter> auto& piece) {
  v.field("outer_diameter_in_mm", piece.outer_diameter_in_m, limits::diameter);
  v.field("outer_diameter_out_mm", piece.outer_diameter_out_m, limits::diameter);
  v.field("bore_in_mm", piece.bore_in_m, limits::diameter);
  v.rule("bore_in_mm", piece.bore_in_m < piece.outer_diameter_in_m, "a bore below the outside diameter");
  v.field("bore_out_mm", piece.bore_out_m, limits::diameter);
  v.rule("bore_out_mm", piece.bore_out_m < piece.outer_diameter_out_m, "a bore below the outside diameter");
  v.field("length_mm", piece.length_m, limits::length);
  describe_beads(v, piece);
  describe_connection(v, piece.connection_in, "connection_in", "connection_in_size");
  describe_connection(v, piece.connection_out, "connection_out", "connection_out_size");
}
///@}

/// \name Flexible pieces
///@{
void describe(auto& v, Like<Hose> auto& piece) {
  v.field("bore_mm", piece.bore_m, limits::diameter);
  v.field("wall_mm", piece.wall_m, limits::wall);
  v.field("length_mm", piece.length_m, limits::length);
  describe_engagement(v, piece);
  v.rule("engagement_out_mm", fits(piece.engagement.in_m + piece.engagement.out_m, piece.length_m),
         "engagements that fit into the length together");
  v.defaulted("lining", piece.lining, Lining::smooth, ChoiceField<Lining>{{lining_keys}});
}

void describe(auto& v, Like<HumpHose> auto& piece) {
  v.field("bore_mm", piece.bore_m, limits::diameter);
  v.field("wall_mm", piece.wall_m, limits::wall);
  v.field("length_mm", piece.length_m, limits::length);
  v.field("hump_length_mm", piece.hump_length_m, limits::length);
  v.rule("hump_length_mm", piece.hump_length_m < piece.length_m, "a hump shorter than the hose");
  v.field("hump_bore_mm", piece.hump_bore_m, limits::diameter);
  v.rule("hump_bore_mm", piece.hump_bore_m >= piece.bore_m, "a bore in the hump not below that of the hose");
  describe_engagement(v, piece);
  const double land_m = (piece.length_m - piece.hump_length_m) / 2;
  v.rule("engagement_in_mm", fits(piece.engagement.in_m, land_m), "an engagement that ends before the hump");
  v.rule("engagement_out_mm", fits(piece.engagement.out_m, land_m),
         "an engagement that ends before the hump");
}

void describe(auto& v, Like<HoseElbow> auto& piece) {
  v.field("bore_in_mm", piece.bore_in_m, limits::diameter);
  v.field("bore_out_mm", piece.bore_out_m, limits::diameter);
  v.field("wall_mm", piece.wall_m, limits::wall);
  describe_bend(v, piece, std::max(piece.bore_in_m, piece.bore_out_m) / 2, [] {});
  v.field("pleated", piece.pleated, FlagField{});
  describe_engagement(v, piece);
  v.rule("engagement_in_mm", fits(piece.engagement.in_m, piece.leg_in_m), "an engagement not above the leg");
  v.rule("engagement_out_mm", fits(piece.engagement.out_m, piece.leg_out_m),
         "an engagement not above the leg");
}

void describe(auto& v, Like<HoseReducer> auto& piece) {
  v.field("bore_in_mm", piece.bore_in_m, limits::diameter);
  v.field("bore_out_mm", piece.bore_out_m, limits::diameter);
  v.field("wall_mm", piece.wall_m, limits::wall);
  v.field("length_mm", piece.length_m, limits::length);
  describe_engagement(v, piece);
  v.rule("engagement_out_mm", fits(piece.engagement.in_m + piece.engagement.out_m, piece.length_m),
         "engagements that fit into the length together");
}
///@}

/// \name Fittings
///@{
void describe(auto& v, Like<Tip> auto& tip) {
  v.field("diameter_mm", tip.diameter_m, limits::diameter);
  v.field("depth_mm", tip.depth_m, limits::length);
}

void describe(auto& v, Like<SensorBoss> auto& piece) {
  v.field("position_mm", piece.position_m, limits::length_or_none);
  v.field("clocking_deg", piece.clocking_rad, limits::clocking);
  v.field("thread", piece.thread, limits::thread);
  v.optional_object("tip", piece.tip);
}

void describe(auto& v, Like<ValveFlange> auto& piece) {
  v.field("position_mm", piece.position_m, limits::length_or_none);
  v.field("clocking_deg", piece.clocking_rad, limits::clocking);
  v.field("bore_mm", piece.bore_m, limits::diameter);
}
///@}

void describe(auto& v, Like<Lagging> auto& lagging) {
  v.field("thickness_mm", lagging.thickness_m, limits::wall);
  v.field("conductivity_W_mK", lagging.conductivity_W_mK, limits::conductivity);
}

void describe(auto& v, Like<Give> auto& give) {
  v.field("axial_mm", give.axial_m, limits::length_or_none);
  v.field("offset_mm", give.offset_m, limits::length_or_none);
  v.field("angle_deg", give.angle_rad, limits::give_angle);
}

void describe(auto& v, Like<Waiver> auto& waiver) {
  v.field("rule", waiver.rule, limits::name);
  v.field("reason", waiver.reason, limits::reason);
}

void describe(auto& v, Like<Piece> auto& piece) {
  v.variant(piece.shape, shape_kinds);
  v.field("material", piece.material, ChoiceField<Material>{{material_keys}});
  v.optional("stock", piece.stock, limits::name);
  v.optional("label", piece.label, limits::line);
  v.optional_object("lagging", piece.lagging);
  v.rule("lagging", !piece.lagging || !is_fitting(piece.shape), "lagging of pieces only, not of fittings");
  v.optional_object("give", piece.give);
  v.rule("give", !piece.give || is_flexible(piece.shape), "movement of flexible pieces only");
  v.optional_list("waivers", piece.waivers, limits::waivers);
}

} // namespace bellmouth::build
