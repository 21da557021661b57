// SPDX-License-Identifier: GPL-3.0-or-later
// Measured tables of machines as CSV: maps, restriction curves, efficiencies. One header row with the names
// below in any order, no other columns; decimal point; lines that begin with '#' are comments. Rows may stand
// in any order. Writing gives what reading takes; what was read comes back to the digit.
#pragma once

#include <bellmouth/machine.hpp>
#include <bellmouth/quantity/result.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::machine {

/// \name Reading
/// `file` is for messages. Errors tell file, line, row and column, what was found and what is accepted: what
/// is no CSV (quantity::read_csv), a column that lacks or that nobody knows, a cell that is no number or
/// outside its range, no rows, and points that do not make a table (map_fault, a flow or speed that stands
/// there twice).
///@{
/// speed_rpm (of the blower), pressure_ratio, volumetric_efficiency, adiabatic_efficiency.
[[nodiscard]] Result<std::vector<BlowerMapPoint>> read_blower_map_csv(std::string_view text,
                                                                      std::string file = {});
/// corrected_speed_rpm, corrected_flow_kg_s, pressure_ratio, adiabatic_efficiency.
[[nodiscard]] Result<std::vector<CompressorMapPoint>> read_compressor_map_csv(std::string_view text,
                                                                              std::string file = {});
/// volume_flow_m3_s, drop_Pa; of a filter or a cooler. Two points at one flow are two measurements.
[[nodiscard]] Result<std::vector<RatedPoint>> read_restriction_csv(std::string_view text,
                                                                   std::string file = {});
/// speed_rpm (of the engine), volumetric_efficiency.
[[nodiscard]] Result<std::vector<EfficiencyPoint>> read_efficiency_csv(std::string_view text,
                                                                       std::string file = {});
/// charge_flow_kg_s, effectiveness.
[[nodiscard]] Result<std::vector<EffectivenessPoint>> read_effectiveness_csv(std::string_view text,
                                                                             std::string file = {});
///@}

/// \name Writing
///@{
[[nodiscard]] std::string write_csv(const std::vector<BlowerMapPoint>& map);
[[nodiscard]] std::string write_csv(const std::vector<CompressorMapPoint>& map);
[[nodiscard]] std::string write_csv(const std::vector<RatedPoint>& points);
[[nodiscard]] std::string write_csv(const std::vector<EfficiencyPoint>& points);
[[nodiscard]] std::string write_csv(const std::vector<EffectivenessPoint>& points);
///@}

} // namespace bellmouth::machine
