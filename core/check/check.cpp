// SPDX-License-Identifier: GPL-3.0-or-later
#include "context.hpp"

#include <bellmouth/check.hpp>

namespace bellmouth::check {

std::string_view text(Severity severity) {
  switch (severity) {
  case Severity::note:
    return "note";
  case Severity::caution:
    return "caution";
  case Severity::stop:
    break;
  }
  return "stop";
}

std::vector<Finding> check(const Facts& facts, const Limits& limits) {
  Context context(facts, limits);
  check_joints(context);
  check_clamps(context);
  check_hoses(context);
  check_thrust(context);
  check_making(context);
  check_stream(context);
  check_machines(context);
  check_shapes(context);
  check_heat(context);
  check_placing(context);
  check_layout(context);
  check_trust(context);
  check_clearance(context);
  check_movement(context);
  context.waive();
  return context.take();
}

} // namespace bellmouth::check
