// SPDX-License-Identifier: GPL-3.0-or-later
// Putting a measured power to standard air. No conformity with a standard is claimed: their texts are not
// openly readable, and where the formula comes from stands with each.
#pragma once

namespace bellmouth::machine {

/// How a power is corrected. p: pressure of the air at the inlet, T its temperature.
enum class PowerCorrection {
  /// Spark ignition, ISO 1585 / UN R85 / 80/1269/EEC: (99 kPa/p)^1.2 (T/298 K)^0.6, p dry. From memory.
  spark_ignition,
  /// Compression ignition, ISO 1585, without a blower or with one driven by the engine: atmospheric factor
  /// fa = (99 kPa/p) (T/298 K)^0.7, p dry. From memory.
  compression_ignition,
  /// Compression ignition, ISO 1585, driven by exhaust: fa = (99 kPa/p)^0.7 (T/298 K)^1.5, p dry. From
  /// memory.
  compression_ignition_exhaust_driven,
  /// Spark ignition, SAE J1349 as of June 1990: 1.18 (99 kPa/p) sqrt((t + 273)/298) - 0.18, p dry, t in C; it
  /// takes a mechanical efficiency of 85 % for granted. From a public quotation of the standard.
  spark_ignition_1990,
  /// DIN 70020: (101.3 kPa/p) sqrt((t + 273)/293), p of the moist air. From memory.
  din_70020
};

/// Factor on the power. For compression ignition it is fa to the power of `engine_factor`, see
/// engine_factor_of_fuel(); elsewhere that is not used. `pressure_Pa` > 0, `temperature_K` > 0 (assertions).
[[nodiscard]] double atmospheric_correction(PowerCorrection correction, double pressure_Pa,
                                            double temperature_K, double engine_factor = 1.0);
/// Whether the standards let a factor be used: 0.93 to 1.07 with spark ignition, 0.9 to 1.1 with compression
/// ignition (from memory; the former also in the notes of the reference table). DIN 70020 gives no limit.
[[nodiscard]] bool is_within_limits(PowerCorrection correction, double factor);

/// The engine factor fm = 0.036 q - 1.14 of ISO 1585 for compression ignition, q being the fuel in mg for
/// each litre of displacement and cycle, over the pressure ratio of the blower; 0.2 below q = 37.2 and 1.2
/// above 65. Formula and limits as quoted on a service-manual page.
[[nodiscard]] double engine_factor_of_fuel(double fuel_mg_L_cycle);

} // namespace bellmouth::machine
