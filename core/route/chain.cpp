// SPDX-License-Identifier: GPL-3.0-or-later
#include "chain.hpp"

#include <algorithm>
#include <cassert>

namespace bellmouth::route {
namespace {

Motion sliding(const Vector& direction) {
  return {{}, direction};
}
Motion turning(const Vector& axis, const Vector& centre) {
  return {axis, cross(centre, axis)};
}

double& size_of(bay::Track& track, What what) {
  switch (what) {
  case What::length:
  case What::leg_in:
    return track.straight_in_m;
  case What::clocking:
    return track.clocking_rad;
  case What::angle:
    return track.angle_rad;
  case What::leg_out:
    break;
  }
  return track.straight_out_m;
}

/// A share of a stretch, from 0 to 1.
double share(double part_m, double whole_m) {
  return whole_m > 0 ? std::clamp(part_m / whole_m, 0.0, 1.0) : 0.0;
}

} // namespace

Chain::Chain(const bay::Frame& start, std::vector<bay::Track> tracks, const std::vector<Freedom>& freedoms)
    : start_(start), tracks_(std::move(tracks)), laid_(tracks_.size()), motions_(freedoms.size()) {
  for (const Freedom& each : freedoms) {
    assert(each.row < tracks_.size() && (sizes_.empty() || sizes_.back().row <= each.row));
    sizes_.push_back({each.row, each.what});
  }
}

const bay::Frame& Chain::end() const {
  return laid_.empty() ? start_ : laid_.back().end;
}

void Chain::lay(std::span<const double> changes) {
  bay::Frame at = start_;
  std::size_t size = 0;
  for (std::size_t row = 0; row < tracks_.size(); ++row) {
    Laid& laid = laid_[row];
    laid.track = tracks_[row];
    const std::size_t first = size;
    for (; size < sizes_.size() && sizes_[size].row == row; ++size)
      size_of(laid.track, sizes_[size].what) += changes[size];
    const bay::Track& track = laid.track;
    laid.start = at;
    laid.bend = bay::advanced(at, track.straight_in_m);
    laid.bent = track.radius_m > 0
                    ? bay::turned(laid.bend, track.angle_rad, track.radius_m, track.clocking_rad)
                    : laid.bend;
    laid.end = at = bay::advanced(laid.bent, track.straight_out_m);
    for (std::size_t i = first; i < size; ++i)
      switch (sizes_[i].what) {
      case What::length:
      case What::leg_in:
        motions_[i] = sliding(laid.start.direction);
        break;
      case What::clocking:
        motions_[i] = turning(laid.bend.direction, laid.bend.position_m);
        break;
      case What::angle:
        // Behind the bend the reference points to the arc's centre, about which all that follows turns.
        motions_[i] = turning(cross(laid.bent.direction, laid.bent.reference),
                              plus(laid.bent.position_m, track.radius_m, laid.bent.reference));
        break;
      case What::leg_out:
        motions_[i] = sliding(laid.bent.direction);
        break;
      }
  }
}

Vector Chain::follows(std::size_t row, double along_m, const Vector& point, std::size_t size) const {
  const Size& which = sizes_[size];
  if (which.row > row)
    return {};
  const Vector whole = motions_[size].at(point);
  if (which.row < row)
    return whole;
  const bay::Track& track = laid_[row].track;
  const double arc_m = track.angle_rad * track.radius_m;
  const double on_arc_m = along_m - track.straight_in_m, behind_m = on_arc_m - arc_m;
  switch (which.what) {
  case What::length:
  case What::leg_in:
    return times(share(along_m, track.straight_in_m), whole);
  case What::clocking:
    return on_arc_m > 0 ? whole : Vector{};
  case What::angle:
    return times(share(on_arc_m, arc_m), whole);
  case What::leg_out:
    break;
  }
  return times(share(behind_m, track.straight_out_m), whole);
}

} // namespace bellmouth::route
