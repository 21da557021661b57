// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/joint.hpp>

#include <cassert>
#include <cmath>
#include <numbers>
#include <utility>

namespace bellmouth::joint {
namespace {

End end_of(const build::Port& port) {
  return {.row = std::nullopt,
          .flexible = false,
          .bore_m = port.bore_m,
          .outer_diameter_m = port.outer_diameter_m,
          .land_m = port.land_m,
          .beaded = port.beaded,
          .material = build::Material::aluminium,
          .connection = port.connection};
}

const build::Beads& beads(const build::Shape& shape) {
  static constexpr build::Beads none;
  return std::visit(
      [](const auto& s) -> const build::Beads& {
        if constexpr (requires { s.beads; })
          return s.beads;
        else
          return none;
      },
      shape);
}

const build::Engagement& engagement(const build::Shape& shape) {
  static constexpr build::Engagement none{};
  return std::visit(
      [](const auto& s) -> const build::Engagement& {
        if constexpr (requires { s.engagement; })
          return s.engagement;
        else
          return none;
      },
      shape);
}

build::Connection connection_in(const build::Shape& shape) {
  const auto* adapter = std::get_if<build::Adapter>(&shape);
  return adapter != nullptr ? adapter->connection_in : build::Connection{};
}
build::Connection connection_out(const build::Shape& shape) {
  const auto* adapter = std::get_if<build::Adapter>(&shape);
  return adapter != nullptr ? adapter->connection_out : build::Connection{};
}

End inlet_of(const build::Piece& piece, std::size_t row) {
  const build::Shape& shape = piece.shape;
  return {.row = row,
          .flexible = build::is_flexible(shape),
          .bore_m = build::bore_in_m(shape),
          .outer_diameter_m = build::outer_diameter_in_m(shape),
          .land_m = build::land_in_m(shape),
          .beaded = beads(shape).in,
          .material = piece.material,
          .connection = connection_in(shape)};
}

End outlet_of(const build::Piece& piece, std::size_t row) {
  const build::Shape& shape = piece.shape;
  return {.row = row,
          .flexible = build::is_flexible(shape),
          .bore_m = build::bore_out_m(shape),
          .outer_diameter_m = build::outer_diameter_out_m(shape),
          .land_m = build::land_out_m(shape),
          .beaded = beads(shape).out,
          .material = piece.material,
          .connection = connection_out(shape)};
}

Kind kind_of(const End& upstream, const End& downstream) {
  using Form = build::Connection::Kind;
  if (upstream.connection != downstream.connection || (upstream.flexible && downstream.flexible))
    return Kind::wrong;
  switch (upstream.connection.kind) {
  case Form::flange:
    return Kind::flange;
  case Form::thread:
    return Kind::thread;
  case Form::spigot:
    break;
  }
  if (upstream.flexible || downstream.flexible)
    return Kind::hose;
  const bool one_size = std::abs(upstream.outer_diameter_m - downstream.outer_diameter_m) <= weld_mismatch_m;
  return one_size ? Kind::weld : Kind::wrong;
}

/// Gathers the joints of one run from its start to its end.
class Fitter {
public:
  Fitter(const build::Build& build, const build::Run& run) : build_(build), run_(run) {
    fit_.joints.reserve(run.pieces.size() + 1);
    fit_.rows.resize(run.pieces.size());
  }

  RunFit fit() && {
    const build::Port* const from = build_.find(run_.from);
    const build::Port* const to = build_.find(run_.to);
    assert(from != nullptr && to != nullptr);
    End last = end_of(*from);
    std::optional<std::size_t> host;
    for (std::size_t row = 0; row < run_.pieces.size(); ++row) {
      const build::Piece& piece = run_.pieces[row];
      if (build::is_fitting(piece.shape)) {
        fit_.rows[row].host = host;
        continue;
      }
      join(last, inlet_of(piece, row));
      last = outlet_of(piece, row);
      host = row;
    }
    join(last, end_of(*to));
    for (std::size_t row = 0; row < run_.pieces.size(); ++row)
      if (const build::Shape& shape = run_.pieces[row].shape; !build::is_fitting(shape))
        fit_.rows[row].centreline_length_m =
            build::full_length_m(shape) - fit_.rows[row].cover_in_m - fit_.rows[row].cover_out_m;
    return std::move(fit_);
  }

private:
  void join(const End& upstream, const End& downstream) {
    Joint& joint = fit_.joints.emplace_back();
    joint.upstream = upstream;
    joint.downstream = downstream;
    joint.kind = kind_of(upstream, downstream);
    if (joint.kind == Kind::hose)
      slip_on(joint);
  }

  void slip_on(Joint& joint) {
    const End& hose = joint.hose();
    const End& spigot = joint.spigot();
    const build::Engagement& over = engagement(run_.pieces[*hose.row].shape);
    Row& row = fit_.rows[*hose.row];
    if (joint.upstream.flexible)
      row.cover_out_m = joint.engagement_m = over.out_m;
    else
      row.cover_in_m = joint.engagement_m = over.in_m;
    joint.interference_m = spigot.outer_diameter_m - hose.bore_m;
    joint.installed_diameter_m = spigot.outer_diameter_m + (hose.outer_diameter_m - hose.bore_m);
    joint.clamp = clamp_for(joint.installed_diameter_m);
  }

  /// Most joints of a run are of one size: the clamp found last is remembered.
  const build::StockItem* clamp_for(double installed_diameter_m) {
    if (installed_diameter_m != clamped_m_) {
      clamped_m_ = installed_diameter_m;
      clamp_ = stock::clamp_for(build_, installed_diameter_m);
    }
    return clamp_;
  }

  const build::Build& build_;
  const build::Run& run_;
  RunFit fit_;
  double clamped_m_ = -1;
  const build::StockItem* clamp_ = nullptr;
};

} // namespace

std::string_view text(Kind kind) {
  switch (kind) {
  case Kind::hose:
    return "spigot in hose";
  case Kind::weld:
    return "weld";
  case Kind::flange:
    return "flange";
  case Kind::thread:
    return "thread";
  case Kind::wrong:
    break;
  }
  return "wrong";
}

RunFit fit(const build::Build& build, const build::Run& run) {
  return Fitter(build, run).fit();
}

std::vector<RunFit> fits(const build::Build& build, const build::Option& option) {
  std::vector<RunFit> found;
  for (const auto& step : build.path)
    if (const auto* id = std::get_if<build::RunId>(&step)) {
      const build::Run* run = option.find(*id);
      assert(run != nullptr);
      found.push_back(fit(build, *run));
    }
  return found;
}

std::vector<bay::Track> tracks(const build::Run& run, const RunFit& fit) {
  std::vector<bay::Track> result;
  result.reserve(run.pieces.size());
  for (std::size_t row = 0; row < run.pieces.size(); ++row)
    result.push_back(bay::track(run.pieces[row].shape, fit.rows[row].cover_in_m, fit.rows[row].cover_out_m));
  return result;
}

int clamps_needed(const Joint& joint) {
  return joint.kind == Kind::hose ? 1 : 0;
}

double parting_force_N(double gauge_pressure_Pa, double outer_diameter_m) {
  return gauge_pressure_Pa * std::numbers::pi / 4 * outer_diameter_m * outer_diameter_m;
}

double bend_thrust_N(double gauge_pressure_Pa, double outer_diameter_m, double angle_rad) {
  return 2 * parting_force_N(gauge_pressure_Pa, outer_diameter_m) * std::sin(angle_rad / 2);
}

Wedge wedge(double outer_diameter_m, double radius_m, double angle_rad, int joints) {
  assert(joints >= 1);
  const double cut_rad = angle_rad / (2 * joints);
  const double twice_tan = 2 * std::tan(cut_rad);
  return {.cut_angle_rad = cut_rad,
          .long_side_m = (radius_m + outer_diameter_m / 2) * twice_tan,
          .short_side_m = (radius_m - outer_diameter_m / 2) * twice_tan};
}

} // namespace bellmouth::joint
