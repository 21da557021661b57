// SPDX-License-Identifier: GPL-3.0-or-later
// Walking the stream over the elements of a path.
#pragma once

#include "elements.hpp"
#include "sloped.hpp"

namespace bellmouth::flow {

/// Where a march ended, with slopes by the unknowns. N is the room for unknowns; a path may have fewer.
template <std::size_t N> struct Marched {
  Ended ended = Ended::passed;
  std::size_t stop_element = 0;       ///< where it did not pass; elements.size(): the plenum
  Sloped<N> flow;                     ///< [kg/s] that goes into the plenum
  Sloped<N> pressure, temperature;    ///< total, in the plenum (or at the end of a fixed flow's path)
  std::array<Sloped<N>, N> residuals; ///< of blowers and joins, in the order in which they were met
  std::size_t residual_count = 0;
  double blower_ratio = 1;                         ///< of the last blower
  double drive_power_W = 0;                        ///< of blowers that the crank drives
  bool below_target = false, beyond_reach = false; ///< of any compressor that holds a target
};

/// Where a solve stands: the unknowns by their places. The first is ln(mass flow) where the flow is unknown,
/// ratios are ln(pressure ratio), shares see Group.
using Unknowns = std::array<double, most_unknowns>;

/// Walks the stream over the elements of a variation. Total state starts at the inlet of the path.
template <std::size_t N>
[[nodiscard]] Marched<N> march(const Path::Impl& path, const Variation& variation, double engine_speed_rev_s,
                               const Unknowns& at, Recorder* recorder);

extern template Marched<1> march<1>(const Path::Impl&, const Variation&, double, const Unknowns&, Recorder*);
extern template Marched<4> march<4>(const Path::Impl&, const Variation&, double, const Unknowns&, Recorder*);
extern template Marched<2> march<2>(const Path::Impl&, const Variation&, double, const Unknowns&, Recorder*);
extern template Marched<most_unknowns> march<most_unknowns>(const Path::Impl&, const Variation&, double,
                                                            const Unknowns&, Recorder*);

} // namespace bellmouth::flow
