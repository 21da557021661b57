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

std::string_view text(Source source) {
  switch (source) {
  case Source::standard:
    return "published";
  case Source::reported:
    return "trade literature";
  case Source::derived:
    return "derived";
  case Source::practice:
    return "common practice, no source found";
  case Source::memory:
    break;
  }
  return "from memory";
}

const Limits& default_limits() {
  static constexpr Limits limits;
  return limits;
}

std::vector<Finding> check(const Facts& facts, const Limits& limits) {
  Context context(facts, limits);
  check_joints(context);
  check_stream(context);
  check_machines(context);
  check_shapes(context);
  check_heat(context);
  check_placing(context);
  check_layout(context);
  check_money(context);
  check_trust(context);
  check_clearance(context);
  check_movement(context);
  return context.take();
}

} // namespace bellmouth::check
