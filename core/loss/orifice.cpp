// SPDX-License-Identifier: GPL-3.0-or-later
// Plates, nozzles and Venturi tubes. b = d / D; Re on the bore D. Formulas as in python3-fluids, flow_meter;
// ranges and uncertainties of the standards, where not named there, from memory.
//
// Orifice plate, ISO 5167-2:2003, 5.3.2 (Reader-Harris & Gallagher):
//   C = 0.5961 + 0.0261 b^2 - 0.216 b^8 + 0.000521 (1e6 b / Re)^0.7 + (0.0188 + 0.0063 A) b^3.5 (1e6 /
//   Re)^0.3
//       + (0.043 + 0.080 exp(-10 L1) - 0.123 exp(-7 L1)) (1 - 0.11 A) b^4 / (1 - b^4)
//       - 0.031 (M - 0.8 M^1.1) b^1.3 + 0.011 (0.75 - b) (2.8 - D / 25.4 mm) for D < 71.12 mm
//   A = (19000 b / Re)^0.8, M = 2 L2 / (1 - b); L1 = L2 = 0 corner taps, 25.4 mm / D flange taps; 1 and 0.47
//   D and D/2
// and below Re 3700 two terms of M. Reader-Harris, Orifice Plates and Venturi Tubes (2015).
//   Range: d >= 12.5 mm, D 50 to 1000 mm, b 0.1 to 0.75, Re >= 5000 and >= 16000 b^2, p2 / p1 >= 0.75.
//   Band of C: (0.7 - b) % below b = 0.2, 0.5 % to 0.6, (1.667 b - 0.5) % above; D < 71.12 mm adds
//   0.9 (0.75 - b) (2.8 - D / 25.4 mm) %.
//   e = 1 - (0.351 + 0.256 b^4 + 0.93 b^8) (1 - (p2/p1)^(1/k));  band 3.5 (p1 - p2) / (k p1) %.
// Eccentric and quarter-circle plates, ISO/TR 15377:1998: polynomials in b; the plate's e. Eccentric: b 0.46
// to 0.84, D 100 to 1000 mm, 1 % (2 % above 0.75). Quarter circle: b 0.245 to 0.6, d >= 15 mm, D <= 500 mm,
// Re up to 1e5; 2 %. Nozzles, ISO 5167-3:2003: long radius C = 0.9965 - 0.00653 sqrt(1e6 b / Re), b 0.2 to
// 0.8, Re 1e4 to 1e7, 2 %;
//   ISA 1932 C = 0.9900 - 0.2262 b^4.1 - (0.00175 b^2 - 0.0033 b^4.15) (1e6 / Re)^1.15, b 0.3 to 0.8, D 50 to
//   500 mm, Re from 2e4 (7e4 below b = 0.44) to 1e7, 0.8 %, (2 b - 0.4) % above b = 0.6. e^2 = k r^(2/k) /
//   (k-1) (1 - b^4) / (1 - b^4 r^(2/k)) (1 - r^((k-1)/k)) / (1 - r), r = p2 / p1.
// Venturi tube, machined, ISO 5167-4:2003: C = 0.995, the nozzle's e; D 50 to 250 mm, b 0.4 to 0.75, Re 2e5
// to 1e6,
//   1 %; at lower Re, which is usual in ducts of this trade, C falls to 0.97 at 5e4: outside the range.
// Outside its range: three times the band and at least 3 %. Far below the least Reynolds number the formulas
// run away: plates hold C from a tenth of it downwards, nozzles from itself.
//
// Not recovered: plates and nozzles (s - C b^2) / (s + C b^2), s = sqrt(1 - b^4 (1 - C^2)) (ISO 5167-2, 5.4);
// K = (s / (C b^2) - 1)^2. Venturi tube: 0.05 to 0.20 of the difference (ISO 5167-4), here by its figure for
// a bore of 65 mm as digitised in python3-fluids, 0.165 at b = 0.3 to 0.088 at 0.75; band 50 %.
#include "interpolate.hpp"

#include <bellmouth/loss.hpp>
#include <bellmouth/loss/orifice.hpp>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

namespace bellmouth::loss {
namespace {

constexpr double inch_m = 0.0254;
constexpr double small_bore_m = 2.8 * inch_m;
constexpr double typical_reynolds = 1e5;

double power4(double x) {
  return x * x * x * x;
}

double diameter_ratio(const Meter& meter) {
  assert(meter.bore_m > 0 && meter.throat_m > 0 && meter.throat_m < meter.bore_m);
  return meter.throat_m / meter.bore_m;
}

double reader_harris_gallagher(double b, double bore_m, double reynolds, Taps taps) {
  double l1 = 0, l2 = 0;
  if (taps == Taps::flange)
    l1 = l2 = inch_m / bore_m;
  else if (taps == Taps::d_and_half_d) {
    l1 = 1;
    l2 = 0.47;
  }
  const double b2 = b * b, b4 = b2 * b2;
  const double a = std::pow(19000 * b / reynolds, 0.8);
  const double m2 = 2 * l2 / (1 - b);
  const double slope = std::max(std::pow(1e6 / reynolds, 0.3), 22.7 - 0.0047 * reynolds);
  const double low = 1 + 8 * std::max(0.0, std::log10(3700 / reynolds));
  double c = 0.5961 + 0.0261 * b2 - 0.216 * b4 * b4 + 0.000521 * std::pow(1e6 * b / reynolds, 0.7) +
             (0.0188 + 0.0063 * a) * std::pow(b, 3.5) * slope;
  c += (0.043 + 0.080 * std::exp(-10 * l1) - 0.123 * std::exp(-7 * l1)) * (1 - 0.11 * a) * b4 / (1 - b4);
  c -= 0.031 * (m2 - 0.8 * std::pow(m2, 1.1)) * std::pow(b, 1.3) * low;
  if (bore_m < small_bore_m)
    c += 0.011 * (0.75 - b) * (2.8 - bore_m / inch_m);
  return c;
}

bool is_plate(MeterKind kind) {
  return kind == MeterKind::orifice_plate || kind == MeterKind::eccentric_plate ||
         kind == MeterKind::quarter_circle_plate;
}

/// What the standard says of one kind.
struct Standard {
  double least_bore_m, most_bore_m, least_ratio, most_ratio, least_reynolds, most_reynolds, band;
  double least_throat_m;
  std::string_view range, source;
};

Standard standard(const Meter& meter) {
  const double b = diameter_ratio(meter);
  switch (meter.kind) {
  case MeterKind::orifice_plate: {
    double band = b < 0.2 ? 0.007 - 0.01 * b : b <= 0.6 ? 0.005 : 0.01667 * b - 0.005;
    if (meter.bore_m < small_bore_m)
      band += 0.009 * std::max(0.0, 0.75 - b) * (2.8 - meter.bore_m / inch_m);
    return {
        0.05,
        1,
        0.1,
        0.75,
        std::max(5000.0, 16000 * b * b),
        HUGE_VAL,
        band,
        0.0125,
        "bore 50 to 1000 mm, hole 12.5 mm or more, diameter ratio 0.1 to 0.75, Reynolds number above 5000",
        "ISO 5167-2:2003, Reader-Harris & Gallagher"};
  }
  case MeterKind::eccentric_plate:
    return {0.1,
            1,
            0.46,
            0.84,
            2e5 * b * b,
            1e6 * b,
            b < 0.75 ? 0.01 : 0.02,
            0.05,
            "bore 100 to 1000 mm, diameter ratio 0.46 to 0.84",
            "ISO/TR 15377:1998"};
  case MeterKind::quarter_circle_plate:
    return {0,
            0.5,
            0.245,
            0.6,
            0,
            1e5,
            0.02,
            0.015,
            "bore up to 500 mm, diameter ratio 0.245 to 0.6, Reynolds number up to 1e5",
            "ISO/TR 15377:1998"};
  case MeterKind::long_radius_nozzle:
    return {0.05,
            0.63,
            0.2,
            0.8,
            1e4,
            1e7,
            0.02,
            0,
            "bore 50 to 630 mm, diameter ratio 0.2 to 0.8, Reynolds number 1e4 to 1e7",
            "ISO 5167-3:2003"};
  case MeterKind::isa_nozzle:
    return {0.05,
            0.5,
            0.3,
            0.8,
            b < 0.44 ? 7e4 : 2e4,
            1e7,
            b <= 0.6 ? 0.008 : 0.02 * b - 0.004,
            0,
            "bore 50 to 500 mm, diameter ratio 0.3 to 0.8, Reynolds number 2e4 to 1e7",
            "ISO 5167-3:2003"};
  case MeterKind::venturi_tube:
    break;
  }
  return {0.05,
          0.25,
          0.4,
          0.75,
          2e5,
          1e6,
          0.01,
          0,
          "bore 50 to 250 mm, diameter ratio 0.4 to 0.75, Reynolds number 2e5 to 1e6",
          "ISO 5167-4:2003"};
}

double reynolds_of(const Meter& meter, const Upstream& gas, double mass_flow_kg_s) {
  return 4 * mass_flow_kg_s / (std::numbers::pi * meter.bore_m * gas.viscosity_Pa_s);
}

double flow_with(const Meter& meter, const Upstream& gas, double coefficient, double differential_Pa) {
  return metered_flow_kg_s(
      meter.bore_m, meter.throat_m, coefficient,
      expansibility(meter, 1 - differential_Pa / gas.pressure_Pa, gas.isentropic_exponent), gas.density_kg_m3,
      differential_Pa);
}

Metered report(const Meter& meter, const Upstream& gas, double mass_flow_kg_s, double differential_Pa) {
  const double b = diameter_ratio(meter);
  Metered metered{};
  metered.mass_flow_kg_s = mass_flow_kg_s;
  metered.differential_Pa = differential_Pa;
  metered.reynolds = reynolds_of(meter, gas, mass_flow_kg_s);
  metered.discharge_coefficient = discharge_coefficient(meter, metered.reynolds);
  const double pressure_ratio = 1 - differential_Pa / gas.pressure_Pa;
  metered.expansibility = expansibility(meter, pressure_ratio, gas.isentropic_exponent);
  metered.permanent_loss_Pa = permanent_loss_share(meter, metered.discharge_coefficient) * differential_Pa;
  metered.loss_coefficient = loss_coefficient(meter, metered.discharge_coefficient);
  const Standard limits = standard(meter);
  const auto outside = [](double value, double least, double most) {
    return value < least * (1 - 1e-9) || value > most * (1 + 1e-9);
  };
  metered.outside_range = outside(meter.bore_m, limits.least_bore_m, limits.most_bore_m) ||
                          outside(b, limits.least_ratio, limits.most_ratio) ||
                          outside(metered.reynolds, limits.least_reynolds, limits.most_reynolds) ||
                          meter.throat_m < limits.least_throat_m * (1 - 1e-9) || pressure_ratio < 0.75;
  const double of_gas = 0.035 * differential_Pa / (gas.isentropic_exponent * gas.pressure_Pa);
  metered.band = std::hypot(limits.band, of_gas);
  if (metered.outside_range)
    metered.band = std::max(3 * metered.band, 0.03);
  metered.range = limits.range;
  metered.source = limits.source;
  return metered;
}

} // namespace

double discharge_coefficient(const Meter& meter, double reynolds) {
  assert(reynolds > 0);
  const double b = diameter_ratio(meter);
  const double re = std::max(reynolds, (is_plate(meter.kind) ? 0.1 : 1.0) * standard(meter).least_reynolds);
  switch (meter.kind) {
  case MeterKind::orifice_plate:
    return reader_harris_gallagher(b, meter.bore_m, re, meter.taps);
  case MeterKind::eccentric_plate:
    return 0.9355 - 1.6889 * b + 3.0428 * b * b - 1.7989 * b * b * b;
  case MeterKind::quarter_circle_plate:
    return 0.73823 + 0.3309 * b - 1.16158 * b * b + 1.5084 * b * b * b;
  case MeterKind::long_radius_nozzle:
    return 0.9965 - 0.00653 * std::sqrt(1e6 * b / re);
  case MeterKind::isa_nozzle:
    return 0.9900 - 0.2262 * std::pow(b, 4.1) -
           (0.00175 * b * b - 0.0033 * std::pow(b, 4.15)) * std::pow(1e6 / re, 1.15);
  case MeterKind::venturi_tube:
    break;
  }
  return 0.995;
}

double plate_expansibility(double b, double pressure_ratio, double k) {
  assert(b >= 0 && b < 1 && pressure_ratio > 0 && pressure_ratio <= 1 && k > 1);
  const double b4 = power4(b);
  return 1 - (0.351 + 0.256 * b4 + 0.93 * b4 * b4) * (1 - std::pow(pressure_ratio, 1 / k));
}

double nozzle_expansibility(double b, double pressure_ratio, double k) {
  assert(b >= 0 && b < 1 && pressure_ratio > 0 && pressure_ratio <= 1 && k > 1);
  if (pressure_ratio == 1)
    return 1;
  const double b4 = power4(b), r = pressure_ratio, r2k = std::pow(r, 2 / k);
  const double drop = -std::expm1((k - 1) / k * std::log(r)) / (1 - r);
  return std::sqrt(k * r2k / (k - 1) * (1 - b4) / (1 - b4 * r2k) * drop);
}

double expansibility(const Meter& meter, double pressure_ratio, double k) {
  const double b = diameter_ratio(meter);
  return is_plate(meter.kind) ? plate_expansibility(b, pressure_ratio, k)
                              : nozzle_expansibility(b, pressure_ratio, k);
}

double metered_flow_kg_s(double bore_m, double throat_m, double coefficient, double expansibility_factor,
                         double density_kg_m3, double differential_Pa) {
  assert(throat_m > 0 && throat_m < bore_m && density_kg_m3 > 0 && differential_Pa >= 0);
  return coefficient * expansibility_factor / std::sqrt(1 - power4(throat_m / bore_m)) * std::numbers::pi /
         4 * throat_m * throat_m * std::sqrt(2 * density_kg_m3 * differential_Pa);
}

double permanent_loss_share(const Meter& meter, double c) {
  const double b = diameter_ratio(meter);
  if (meter.kind == MeterKind::venturi_tube) {
    static constexpr std::array<TablePoint, 7> of_difference{{{0.3, 0.1645},
                                                              {0.4, 0.1579},
                                                              {0.5, 0.1429},
                                                              {0.6, 0.1243},
                                                              {0.65, 0.1135},
                                                              {0.7, 0.1010},
                                                              {0.75, 0.0876}}};
    return interpolate(of_difference, b);
  }
  const double s = std::sqrt(1 - power4(b) * (1 - c * c));
  return (s - c * b * b) / (s + c * b * b);
}

double loss_coefficient(const Meter& meter, double c) {
  const double b = diameter_ratio(meter);
  if (meter.kind == MeterKind::venturi_tube)
    return permanent_loss_share(meter, c) * (1 - power4(b)) / (c * c * power4(b));
  const double left = std::sqrt(1 - power4(b) * (1 - c * c)) / (c * b * b) - 1;
  return left * left;
}

Metered flow_at(const Meter& meter, const Upstream& gas, double differential_Pa) {
  assert(differential_Pa > 0 && differential_Pa < gas.pressure_Pa);
  double flow = flow_with(meter, gas, 0.6, differential_Pa);
  // C changes slower than the flow, so the geometric mean of two guesses closes in by half each time or
  // better.
  for (int i = 0; i < 100; ++i) {
    const double next =
        flow_with(meter, gas, discharge_coefficient(meter, reynolds_of(meter, gas, flow)), differential_Pa);
    assert(next > 0);
    const double before = flow;
    flow = std::sqrt(flow * next);
    if (std::abs(flow / before - 1) < 1e-14)
      break;
  }
  return report(meter, gas, flow, differential_Pa);
}

std::optional<Metered> differential_at(const Meter& meter, const Upstream& gas, double mass_flow_kg_s) {
  assert(mass_flow_kg_s > 0);
  const double c = discharge_coefficient(meter, reynolds_of(meter, gas, mass_flow_kg_s));
  double low = 0, high = 0.5 * gas.pressure_Pa;
  if (flow_with(meter, gas, c, high) < mass_flow_kg_s)
    return std::nullopt;
  for (int i = 0; i < 200 && high - low > 1e-15 * high; ++i) {
    const double middle = 0.5 * (low + high);
    (flow_with(meter, gas, c, middle) < mass_flow_kg_s ? low : high) = middle;
  }
  return report(meter, gas, mass_flow_kg_s, high);
}

std::optional<double> throat_for(const Meter& meter, const Upstream& gas, double mass_flow_kg_s,
                                 double differential_Pa) {
  assert(mass_flow_kg_s > 0 && differential_Pa > 0 && differential_Pa < gas.pressure_Pa);
  const auto passes = [&](double throat_m) {
    Meter with = meter;
    with.throat_m = throat_m;
    const double c = discharge_coefficient(with, reynolds_of(with, gas, mass_flow_kg_s));
    return flow_with(with, gas, c, differential_Pa) >= mass_flow_kg_s;
  };
  double low = 0.05 * meter.bore_m, high = 0.9 * meter.bore_m;
  if (passes(low) || !passes(high))
    return std::nullopt;
  for (int i = 0; i < 200 && high - low > 1e-15 * high; ++i) {
    const double middle = 0.5 * (low + high);
    (passes(middle) ? high : low) = middle;
  }
  return high;
}

Law law(const Meter& meter) {
  const Standard limits = standard(meter);
  const double b = diameter_ratio(meter);
  Law law;
  law.constant = loss_coefficient(meter, discharge_coefficient(meter, typical_reynolds));
  law.outside_range = b < limits.least_ratio || b > limits.most_ratio || meter.bore_m < limits.least_bore_m ||
                      meter.bore_m > limits.most_bore_m || meter.throat_m < limits.least_throat_m;
  // K goes with the square of C; C moves by some 3 % over the Reynolds numbers of ducts.
  law.band_low = law.band_high = meter.kind == MeterKind::venturi_tube ? 0.50 : 0.10;
  if (law.outside_range)
    law.band_low = law.band_high = 0.50;
  law.least_reynolds = limits.least_reynolds;
  law.source = limits.source;
  law.range = limits.range;
  return law;
}

} // namespace bellmouth::loss
