// SPDX-License-Identifier: GPL-3.0-or-later
#include "setting.hpp"

#include <bellmouth/bay/vectors.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellmouth::find {
namespace {

using bay::cross, bay::dot, bay::length, bay::minus, bay::plus, bay::times, bay::unit;

constexpr double boundless_m = std::numeric_limits<double>::infinity();

std::string words(std::string id) {
  std::ranges::replace(id, '_', ' ');
  return id;
}
std::string millimetres(double length_m) {
  return quantity::write(quantity::Dimension::length, length_m, "mm");
}

tl::unexpected<Error> complaint(const Ask& ask, std::string found, std::string accepted) {
  Error error;
  error.place.path = fmt::format("run {}", words(ask.run.text));
  error.found = std::move(found);
  error.accepted = std::move(accepted);
  return fail(std::move(error));
}

/// A rigid motion: a turn about an axis through a point, then a shift.
class Placed {
public:
  /// Takes `from` to `to` with the least turn.
  Placed(const bay::Frame& from, const build::Pose& to) : from_(from.position_m), to_(to.position_m) {
    const build::Vector wanted = unit(to.direction);
    const build::Vector across = cross(from.direction, wanted);
    const double sine = length(across), cosine = dot(from.direction, wanted);
    axis_ = sine > 1e-12 ? times(1 / sine, across) : from.reference;
    angle_rad_ = std::atan2(sine, cosine);
  }
  [[nodiscard]] build::Vector turned(const build::Vector& v) const {
    const double c = std::cos(angle_rad_), s = std::sin(angle_rad_);
    return plus(plus(times(c, v), s, cross(axis_, v)), (1 - c) * dot(axis_, v), axis_);
  }
  [[nodiscard]] bay::Frame operator()(const bay::Frame& frame) const {
    return {plus(to_, 1, turned(minus(frame.position_m, from_))), turned(frame.direction),
            turned(frame.reference)};
  }

private:
  build::Vector from_, to_, axis_{};
  double angle_rad_ = 0;
};

/// Rows of a run with a tube of the way's size beyond them, so that a hose at their end covers what it will.
struct Stretched {
  build::Run run;
  std::vector<bay::Track> tracks;
};
Stretched stretched(const build::Build& build, const build::Run& run, std::vector<build::Piece> pieces) {
  Stretched result{{run.id, run.from, run.to, std::move(pieces)}, {}};
  result.tracks = joint::tracks(result.run, joint::fit(build, result.run));
  return result;
}
build::Piece stub(const stock::TubeSize& size) {
  constexpr double long_m = 0.2;
  return {.shape = build::Tube{size.outer_diameter_m, size.wall_m, long_m, {}},
          .material = size.material,
          .stock = {},
          .label = {}};
}

class Setter {
public:
  Setter(const build::Build& build, const Ask& ask) : build_(build), ask_(ask) {}

  Result<Setting> set() && {
    if (auto error = look_up())
      return fail(*std::move(error));
    set_.evaluation = evaluate(build_, ask_.option);
    set_.air = air_in(set_.evaluation, ask_);
    keep_rows();
    if (auto error = join())
      return fail(*std::move(error));
    return std::move(set_);
  }

private:
  using Verdict = std::optional<Error>;
  Verdict refuse(std::string found, std::string accepted) const {
    return complaint(ask_, std::move(found), std::move(accepted)).value();
  }

  Verdict look_up() {
    set_.option = build_.find(ask_.option);
    if (set_.option == nullptr)
      return refuse(fmt::format("option {}", ask_.option.text), "an option of the build");
    set_.run = set_.option->find(ask_.run);
    if (set_.run == nullptr)
      return refuse(fmt::format("no such run in option {}", ask_.option.text), "a run of the option");
    set_.from = *build_.find(set_.run->from);
    set_.to = *build_.find(set_.run->to);
    for (const build::Port* port : {&set_.from, &set_.to})
      if (!port->pose)
        return refuse(fmt::format("port {} without a place", words(port->id.text)),
                      "two ports whose position and direction are measured");
    const std::size_t rows = set_.run->pieces.size();
    if (ask_.keep_first + ask_.keep_last > rows)
      return refuse(
          fmt::format("{} rows kept at the start and {} at the end", ask_.keep_first, ask_.keep_last),
          fmt::format("no more than the run's {} rows together", rows));
    for (const std::size_t row : {ask_.keep_first, rows - ask_.keep_last})
      if (row > 0 && row < rows && build::is_fitting(set_.run->pieces[row].shape))
        return refuse(fmt::format("rows parted before row {}, which sits on the row before it", row + 1),
                      "fittings kept, or replaced, together with the piece they sit on");
    if (auto tube = find::tube(build_, ask_.tube))
      set_.tube = *tube;
    else
      return refuse(fmt::format("a tube of {} with a wall of {} in {}",
                                millimetres(ask_.tube.outer_diameter_m), millimetres(ask_.tube.wall_m),
                                build::material_name(ask_.tube.material)),
                    "a tube size that is in stock");
    return std::nullopt;
  }

  void keep_rows() {
    const auto& pieces = set_.run->pieces;
    const auto first = static_cast<std::ptrdiff_t>(ask_.keep_first),
               last = static_cast<std::ptrdiff_t>(ask_.keep_last);
    set_.head.pieces.assign(pieces.begin(), pieces.begin() + first);
    set_.tail.pieces.assign(pieces.end() - last, pieces.end());

    std::vector<build::Piece> head = set_.head.pieces;
    head.push_back(stub(ask_.tube));
    const Stretched begun = stretched(build_, *set_.run, std::move(head));
    const auto frames = bay::place(set_.from.pose, begun.tracks);
    set_.head.rooms = bay::room(build_, begun.run, begun.tracks, frames).rows;
    set_.head.rooms.pop_back();
    set_.start = frames[ask_.keep_first];

    // The tail lies where the present run has it; where that misses the port, it is moved onto it.
    std::vector<build::Piece> tail{stub(ask_.tube)};
    tail.insert(tail.end(), set_.tail.pieces.begin(), set_.tail.pieces.end());
    const Stretched ends = stretched(build_, *set_.run, std::move(tail));
    const Stretched whole = stretched(build_, *set_.run, pieces);
    std::vector<bay::Frame> tail_frames{
        bay::place(set_.from.pose, whole.tracks)[pieces.size() - ask_.keep_last]};
    for (std::size_t row = 1; row < ends.tracks.size(); ++row)
      tail_frames.push_back(bay::followed(tail_frames.back(), ends.tracks[row]));
    const Placed placed(tail_frames.back(), {set_.to.pose->position_m, times(-1, set_.to.pose->direction)});
    for (bay::Frame& frame : tail_frames)
      frame = placed(frame);
    set_.end = tail_frames.front();
    tail_frames.insert(tail_frames.begin(), tail_frames.front()); // of the stub, which is not looked at
    set_.tail.rooms = bay::room(build_, ends.run, ends.tracks, tail_frames).rows;
    set_.tail.rooms.erase(set_.tail.rooms.begin());
    for (Kept* kept : {&set_.head, &set_.tail})
      for (const bay::Room& room : kept->rooms)
        kept->length_m += room.track.length_m();
    set_.before = joined(set_.head.pieces, set_.from, false);
    set_.behind = joined(set_.tail.pieces, set_.to, true);
  }

  /// What the way meets: the port, or the end of the rows that stay.
  static Joined joined(const std::vector<build::Piece>& pieces, const build::Port& port, bool inlet) {
    const auto is_piece = [](const build::Piece& piece) { return !build::is_fitting(piece.shape); };
    const build::Piece* at = nullptr;
    for (const build::Piece& piece : pieces)
      if (is_piece(piece) && (!inlet || at == nullptr))
        at = &piece;
    if (at == nullptr)
      return {false, port.outer_diameter_m, port.land_m};
    const build::Shape& shape = at->shape;
    if (!build::is_flexible(shape))
      return {false, inlet ? build::outer_diameter_in_m(shape) : build::outer_diameter_out_m(shape),
              inlet ? build::land_in_m(shape) : build::land_out_m(shape)};
    const double engagement_m = std::visit(
        [&](const auto& s) {
          if constexpr (requires { s.engagement; })
            return inlet ? s.engagement.in_m : s.engagement.out_m;
          else
            return 0.0;
        },
        shape);
    return {true, inlet ? build::bore_in_m(shape) : build::bore_out_m(shape), engagement_m};
  }

  Verdict join() {
    const double tube_m = ask_.tube.outer_diameter_m;
    if (auto between = coupler(build_, tube_m, boundless_m, tube_m, boundless_m, set_.air.hottest_K))
      set_.coupler = *between;
    else
      return refuse(fmt::format("no hose for a tube of {} in stock", millimetres(tube_m)),
                    "a stock with a straight hose of that bore");
    if (auto error = join_end(set_.before, true, set_.coupler_in))
      return error;
    if (auto error = join_end(set_.behind, false, set_.coupler_out))
      return error;
    set_.turnings = turnings(build_, ask_, set_.coupler.engagement_in_m, set_.air.reynolds);
    if (set_.turnings.empty())
      return refuse(fmt::format("no bend for a tube of {} in {} in stock", millimetres(tube_m),
                                build::material_name(ask_.tube.material)),
                    "a stock with tube bends or hose elbows of that size");
    take_lagging();
    set_.stands_out_m = set_.coupler.stands_out_m(tube_m);
    for (const Turning& turning : set_.turnings)
      if (turning.bend.kind == way::BendKind::silicone)
        set_.stands_out_m =
            std::max(set_.stands_out_m,
                     (std::max(*turning.item->bore_m, turning.item->bore_out_m.value_or(0)) - tube_m) / 2 +
                         *turning.item->wall_m);
    if (set_.lagging)
      set_.stands_out_m += set_.lagging->thickness_m;
    return std::nullopt;
  }

  Verdict join_end(const Joined& joined, bool inlet, std::optional<Coupler>& coupler_there) {
    const double tube_m = ask_.tube.outer_diameter_m;
    if (joined.flexible) {
      if (goes_on(joined.diameter_m, tube_m))
        return std::nullopt;
      return refuse(fmt::format("a tube of {} behind a hose of {}", millimetres(tube_m),
                                millimetres(joined.diameter_m)),
                    "a tube size that goes into the hose that stays");
    }
    // One hump hose takes what the engine moves; it goes where it can, at the start rather than at the end.
    const bool moves = set_.from.mounting != set_.to.mounting && build_.movement;
    const bool has_hump = std::ranges::any_of(set_.head.pieces, is_hump) ||
                          std::ranges::any_of(set_.tail.pieces, is_hump) ||
                          (set_.coupler_in && is_hump(set_.coupler_in->piece()));
    const Wanted wanted = moves && !has_hump ? Wanted::hump : Wanted::plain;
    coupler_there = inlet ? coupler(build_, joined.diameter_m, joined.engagement_m, tube_m, boundless_m,
                                    set_.air.hottest_K, wanted)
                          : coupler(build_, tube_m, boundless_m, joined.diameter_m, joined.engagement_m,
                                    set_.air.hottest_K, wanted);
    if (coupler_there)
      return std::nullopt;
    return refuse(fmt::format("no hose or reducer in stock between a tube of {} and an end of {}",
                              millimetres(tube_m), millimetres(joined.diameter_m)),
                  "a tube size that a hose or a reducer joins to both ends");
  }
  static bool is_hump(const build::Piece& piece) {
    return std::holds_alternative<build::HumpHose>(piece.shape);
  }

  void take_lagging() {
    const auto& pieces = set_.run->pieces;
    bool first = true;
    for (std::size_t row = ask_.keep_first; row + ask_.keep_last < pieces.size(); ++row) {
      if (build::is_fitting(pieces[row].shape))
        continue;
      if (first)
        set_.lagging = pieces[row].lagging;
      else if (set_.lagging != pieces[row].lagging)
        set_.lagging.reset();
      first = false;
    }
  }

  const build::Build& build_;
  const Ask& ask_;
  Setting set_;
};

} // namespace

double Setting::least_at_start_m() const {
  return coupler_in ? coupler_in->gap_m + coupler_in->engagement_out_m : before.engagement_m;
}
double Setting::least_at_end_m() const {
  return coupler_out ? coupler_out->gap_m + coupler_out->engagement_in_m : behind.engagement_m;
}
double Setting::least_between_m() const {
  return coupler.length_m();
}

Result<Setting> setting(const build::Build& build, const Ask& ask) {
  return Setter(build, ask).set();
}

} // namespace bellmouth::find
