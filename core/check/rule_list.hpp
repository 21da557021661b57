// SPDX-License-Identifier: GPL-3.0-or-later
// The rules by name, for those who find something.
#pragma once

#include <bellmouth/check.hpp>

#include <cstddef>

namespace bellmouth::check {

/// In the order of the table in rules.cpp.
enum class Id : std::size_t {
  no_operating_point,
  no_flexible_joint,
  plain_hose_for_movement,
  wrong_joint,
  bead_at_weld,
  hose_loose,
  hose_tight,
  short_engagement,
  no_straight_end,
  tube_in_hump,
  tube_ends_touch,
  tube_gap_wide,
  tube_without_bead,
  no_clamp,
  clamp_off_middle,
  fitting_under_hose,
  parting_force,
  bend_thrust,
  fast_before_blower,
  fast_behind_blower,
  mach_high,
  restriction,
  hose_may_flatten,
  cooler_drop,
  charge_drop,
  steep_cone,
  tight_bend,
  sharp_mitre,
  compressor_surges,
  compressor_chokes,
  off_map_speeds,
  bypass_open,
  throttle_part_open,
  filter_taken_clean,
  hose_too_hot,
  blower_outlet_hot,
  blower_overspeed,
  blower_driven,
  charge_hot,
  no_cooler,
  plastic_under_pressure,
  oiled_filter_before_meter,
  hot_feed,
  condensate,
  duct_picks_up_heat,
  sensor_before_blower,
  no_charge_sensor,
  sensor_near_cooler,
  no_relief_valve,
  no_bypass_valve,
  no_flexible_near_blower,
  meter_not_straight,
  bend_before_impeller,
  run_does_not_meet,
  port_not_measured,
  smaller_than_port,
  long_unsupported,
  over_budget,
  unpriced,
  outside_correlation,
  outside_table,
  pulsation_left_out,
  scavenging_left_out,
  branch_without_loss,
  measured_far_off,
  tight_blower,
  too_near,
  near_within_doubt,
  bend_in_free_straight,
  movement_beyond_hose,
  scan_not_read,
  scan_changed,
  assumed_place,
  count
};

[[nodiscard]] const Rule& rule(Id id);

} // namespace bellmouth::check
