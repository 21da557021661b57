// SPDX-License-Identifier: GPL-3.0-or-later
// Where a stream splits or two join. A leg's coefficient depends on how the flow is shared and may be
// negative: the faster stream drags the slower one along. All coefficients are on the velocity in the
// combined leg: total-pressure loss of that stream = K rho V_combined^2 / 2. Formulas and sources in tee.cpp.
#pragma once

#include <string_view>

namespace bellmouth::loss {

/// A coefficient at one state, with the ends of its band.
struct Coefficient {
  double value = 0, low = 0, high = 0;
  bool outside_range = false; ///< outside the correlation's stated range; the band is wider
  std::string_view range, source;
};

/// A straight run with a branch. angle: between the axes of branch and run, 90 degrees for a square tee; in a
/// combining tee the branch leans with the flow. `rounded`: the corner has a radius of a tenth of the
/// branch's bore or more.
struct Tee {
  double angle_rad;
  double bore_combined_m, bore_branch_m, bore_run_m;
  bool rounded = false;
};
/// \name Loss of the stream that goes by the branch, or stays in the run.
/// flow_share_of_branch = flow in the branch over flow in the combined leg, 0 to 1.
///@{
[[nodiscard]] Coefficient combining_branch(const Tee&, double flow_share_of_branch);
[[nodiscard]] Coefficient combining_run(const Tee&, double flow_share_of_branch);
[[nodiscard]] Coefficient dividing_branch(const Tee&, double flow_share_of_branch);
[[nodiscard]] Coefficient dividing_run(const Tee&, double flow_share_of_branch);
///@}

/// Two equal legs, each at angle_rad to the axis of the combined leg: a Y, or at 90 degrees a square tee fed
/// by its stem. `rounded`: with a rounded crotch.
struct Wye {
  double angle_rad;
  double bore_combined_m, bore_leg_m;
  bool rounded = false;
};
/// Loss of the stream in the leg that carries `flow_share_of_leg` of the flow, 0 to 1.
[[nodiscard]] Coefficient combining_leg(const Wye&, double flow_share_of_leg);
[[nodiscard]] Coefficient dividing_leg(const Wye&, double flow_share_of_leg);

} // namespace bellmouth::loss
