// SPDX-License-Identifier: GPL-3.0-or-later
// Joint table.
#include "parts.hpp"

#include <bellmouth/joint/hoses.hpp>
#include <bellmouth/joint/threads.hpp>

#include <algorithm>
#include <variant>

namespace bellmouth::list {
namespace {

/// Tightening torque of air-temperature sensors with an M10x1 thread: 7.1 to 8 N m (reported: a sensor
/// maker's installation note). Of other threads none was found.
constexpr double m10_sensor_torque_Nm = 7.5;

class Joints {
public:
  Joints(const Work& work, std::size_t run, const trade::Limits& limits, const Air& air,
         std::vector<JointLine>& lines)
      : work_(work), index_(run), run_(*work.runs[run]), fit_(work.fits[run]), limits_(limits), air_(air),
        lines_(lines) {}

  void add(std::size_t number) {
    const joint::Joint& joint = fit_.joints[number];
    JointLine& line = lines_.emplace_back();
    line.run = run_.id;
    line.kind = joint.kind;
    line.upstream = side(joint.upstream, run_.from);
    line.downstream = side(joint.downstream, run_.to);
    line.gauge_Pa = air_.gauge_Pa(index_, joint);
    switch (joint.kind) {
    case joint::Kind::hose:
      hose(number, line);
      break;
    case joint::Kind::flange:
      line.parting_force_N = pushed_N(line, std::max(joint.upstream.bore_m, joint.downstream.bore_m));
      [[fallthrough]];
    case joint::Kind::thread:
      line.size = joint.upstream.connection.size;
      break;
    case joint::Kind::weld:
    case joint::Kind::wrong:
      break;
    }
  }

  /// A sensor in a boss, a valve on a flange.
  void add_fitting(std::size_t row) {
    const build::Shape& shape = run_.pieces[row].shape;
    JointLine& line = lines_.emplace_back();
    line.run = run_.id;
    line.upstream.piece = reference(work_, run_, row);
    line.upstream.name = build::title(run_.pieces[row]);
    line.gauge_Pa = air_.gauge_Pa(index_, row);
    if (const auto* const flange = std::get_if<build::ValveFlange>(&shape)) {
      line.kind = joint::Kind::flange;
      line.upstream.bore_m = flange->bore_m;
      line.downstream.name = "valve";
      line.parting_force_N = pushed_N(line, flange->bore_m);
    } else {
      line.kind = joint::Kind::thread;
      line.size = std::get<build::SensorBoss>(shape).thread;
      line.downstream.name = "sensor";
      if (const auto* const thread = joint::find_thread(line.size);
          thread != nullptr && thread->designation == "M10x1")
        line.torque_Nm = m10_sensor_torque_Nm;
    }
  }

private:
  SideOfJoint side(const joint::End& end, const build::PortId& port) const {
    SideOfJoint side;
    if (end.row) {
      side.piece = reference(work_, run_, *end.row);
      side.name = build::title(run_.pieces[*end.row]);
    } else {
      side.name.append("port ").append(port.text);
    }
    side.flexible = end.flexible;
    side.bore_m = end.bore_m;
    side.outer_diameter_m = end.outer_diameter_m;
    return side;
  }

  static std::optional<double> pushed_N(const JointLine& line, double diameter_m) {
    return line.gauge_Pa ? std::optional(joint::parting_force_N(std::max(*line.gauge_Pa, 0.0), diameter_m))
                         : std::nullopt;
  }

  void hose(std::size_t number, JointLine& line) {
    const joint::Joint& joint = fit_.joints[number];
    line.interference_m = joint.interference_m;
    line.engagement_m = joint.engagement_m;
    const std::size_t row = *joint.hose().row;
    const joint::Joint& other = fit_.joints[joint.upstream.flexible ? number - 1 : number + 1];
    if (other.kind == joint::Kind::hose && build::angle_rad(run_.pieces[row].shape) == 0)
      line.gap_m = fit_.rows[row].centreline_length_m;
    if (joint.clamp != nullptr) {
      line.clamp = joint.clamp->id;
      line.torque_Nm = torque_Nm(*joint.clamp);
    }
    if (!line.gauge_Pa)
      return;
    const build::Piece& hose = run_.pieces[row];
    const build::StockItem* const bought = hose.stock.text.empty() ? nullptr : work_.build.find(hose.stock);
    const joint::Load load =
        joint::load(joint, *line.gauge_Pa, limits_, joint::working_gauge_Pa(hose, bought, limits_).value);
    line.parting_force_N = load.parting_force_N;
    if (load.held_known) {
      line.held_low_N = load.held_low_N;
      line.held_high_N = load.held_high_N;
    }
  }

  /// Most joints of a run take one clamp: the torque found last is remembered.
  std::optional<double> torque_Nm(const build::StockItem& clamp) {
    if (&clamp != clamp_) {
      clamp_ = &clamp;
      const auto torque = joint::torque(clamp, limits_);
      torque_Nm_ = torque ? std::optional(torque->torque_Nm) : std::nullopt;
    }
    return torque_Nm_;
  }

  const Work& work_;
  std::size_t index_;
  const build::Run& run_;
  const joint::RunFit& fit_;
  const trade::Limits& limits_;
  const Air& air_;
  std::vector<JointLine>& lines_;
  const build::StockItem* clamp_ = nullptr;
  std::optional<double> torque_Nm_;
};

} // namespace

std::vector<build::PieceRef> JointLine::pieces() const {
  std::vector<build::PieceRef> found;
  for (const SideOfJoint* const side : {&upstream, &downstream})
    if (side->piece)
      found.push_back(*side->piece);
  return found;
}

void list_joints(const Work& work, const trade::Limits& limits, const Air& air, Lists& lists) {
  std::size_t rows = 0;
  for (const build::Run* const run : work.runs)
    rows += run->pieces.size() + 1;
  lists.joints.reserve(rows);
  for (std::size_t i = 0; i < work.runs.size(); ++i) {
    const build::Run& run = *work.runs[i];
    Joints joints(work, i, limits, air, lists.joints);
    for (std::size_t number = 0; number < work.fits[i].joints.size(); ++number) {
      joints.add(number);
      const auto& row = work.fits[i].joints[number].downstream.row;
      if (!row)
        continue;
      for (std::size_t on = *row + 1; on < run.pieces.size() && build::is_fitting(run.pieces[on].shape); ++on)
        joints.add_fitting(on);
    }
  }
}

} // namespace bellmouth::list
