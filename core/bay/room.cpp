// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/bay/clearance.hpp>

#include <algorithm>
#include <cassert>
#include <type_traits>

namespace bellmouth::bay {
namespace {

/// The radius over wall and lagging at either end; none for fittings.
struct Radii {
  double in_m = 0, out_m = 0;
};
Radii radii(const build::Piece& piece) {
  if (build::is_fitting(piece.shape))
    return {};
  Radii result{build::outer_diameter_in_m(piece.shape) / 2, build::outer_diameter_out_m(piece.shape) / 2};
  if (const auto* hump = std::get_if<build::HumpHose>(&piece.shape))
    result.in_m = result.out_m = std::max(hump->bore_m, hump->hump_bore_m) / 2 + hump->wall_m;
  else if (std::holds_alternative<build::Adapter>(piece.shape))
    result.in_m = result.out_m = std::max(result.in_m, result.out_m);
  if (piece.lagging) {
    result.in_m += piece.lagging->thickness_m;
    result.out_m += piece.lagging->thickness_m;
  }
  return result;
}

/// How much of a hose the track leaves to the spigots before and behind.
struct Covers {
  double in_m = 0, out_m = 0;
};
Covers covers(const build::Shape& shape, const Track& track) {
  return std::visit(
      [&](const auto& piece) -> Covers {
        if constexpr (!requires { piece.engagement; })
          return {};
        else if constexpr (requires { piece.leg_in_m; })
          return {piece.leg_in_m - track.straight_in_m, piece.leg_out_m - track.straight_out_m};
        else {
          const double both_m = piece.length_m - track.straight_in_m;
          const double in_m = std::min(piece.engagement.in_m, both_m);
          return {in_m, both_m - in_m};
        }
      },
      shape);
}

double share_of(build::Mounting mounting) {
  return mounting == build::Mounting::engine ? 1 : 0;
}

} // namespace

RunRoom room(const build::Build& build, const build::Run& run, const std::vector<Track>& tracks,
             const std::vector<Frame>& frames) {
  const build::Port* const from = build.find(run.from);
  const build::Port* const to = build.find(run.to);
  assert(from != nullptr && to != nullptr && tracks.size() == run.pieces.size());
  RunRoom result{run.id, *from, *to, {}};
  if (frames.empty()) {
    result.rows.resize(run.pieces.size());
    return result;
  }
  const bool yields = std::ranges::any_of(
      run.pieces, [](const build::Piece& piece) { return build::is_flexible(piece.shape); });
  const auto yielding_m = [&](std::size_t row) {
    return !yields || build::is_flexible(run.pieces[row].shape) ? std::max(tracks[row].length_m(), 0.0) : 0.0;
  };
  double whole_m = 0;
  for (std::size_t row = 0; row < tracks.size(); ++row)
    whole_m += yielding_m(row);
  const double first = share_of(from->mounting), last = share_of(to->mounting);
  double so_far_m = 0;
  const auto follows = [&] { return whole_m > 0 ? first + (last - first) * so_far_m / whole_m : first; };
  result.rows.reserve(tracks.size());
  for (std::size_t row = 0; row < tracks.size(); ++row) {
    const build::Piece& piece = run.pieces[row];
    const auto [radius_in_m, radius_out_m] = radii(piece);
    const auto [cover_in_m, cover_out_m] = covers(piece.shape, tracks[row]);
    const double follows_in = follows();
    so_far_m += yielding_m(row);
    const auto* mitred = std::get_if<build::MitredBend>(&piece.shape);
    result.rows.push_back({frames[row], tracks[row], radius_in_m, radius_out_m, cover_in_m, cover_out_m,
                           follows_in, follows(), mitred != nullptr ? mitred->joints : 0});
  }
  return result;
}

const Gap* RunClearance::closest() const {
  const Gap* least = nullptr;
  for (const auto& gap : nearest)
    if (gap && (least == nullptr || gap->distance_m < least->distance_m))
      least = &*gap;
  return least;
}

} // namespace bellmouth::bay
