// SPDX-License-Identifier: GPL-3.0-or-later
// The path as others see it.
#include "compile.hpp"
#include "varied.hpp"

#include <spdlog/fmt/fmt.h>

namespace bellmouth::flow {
namespace {

/// Says in words where a flow chokes.
void name_choke(const Path::Impl& path, OperatingPoint& point) {
  if (point.stop != Stop::chokes)
    return;
  if (point.choke_element >= path.elements.size()) {
    point.choke_where = "the entry to the manifold";
    return;
  }
  const Element& element = path.elements[point.choke_element];
  point.choke_step = element.step;
  const StepPlan& plan = path.steps[element.step];
  if (element.row != none) {
    point.choke_row = element.row;
    point.choke_where = fmt::format("{}, row {} ({})", plan.name, element.row + 1, plan.titles[element.row]);
  } else {
    point.choke_where = plan.name;
  }
}

} // namespace

std::string_view text(Stop stop) {
  switch (stop) {
  case Stop::not_run:
    return "not run";
  case Stop::converged:
    return "converged";
  case Stop::fixed_flow:
    return "fixed flow";
  case Stop::chokes:
    return "the flow chokes";
  case Stop::out_of_reach:
    return "the target pressure is out of the compressor's reach";
  case Stop::target_too_low:
    return "the target pressure lies below the pressure at the compressor's inlet";
  case Stop::too_hot:
    return "the air would leave the blower hotter than 1000 K: too much ratio, or too little efficiency";
  case Stop::backwards:
    return "one of the branches side by side cannot hold against the others: its air would flow backwards";
  case Stop::no_agreement:
    break;
  }
  return "engine, blower and ducting agree on no flow";
}

Path::Path(const build::Build& build, const build::Option& option, const std::vector<joint::RunFit>& fits)
    : impl_(compile(build, option, fits)) {}
Path::~Path() = default;
Path::Path(Path&&) noexcept = default;
Path& Path::operator=(Path&&) noexcept = default;

PathFlow Path::solve(double engine_speed_rev_s) const {
  Variation variation = as_it_is(*impl_);
  auto solution = settle(*impl_, variation, engine_speed_rev_s, nullptr);
  name_choke(*impl_, solution.point);
  if (!solution.point.usable()) {
    PathFlow nothing;
    nothing.point = std::move(solution.point);
    return nothing;
  }
  return report(*impl_, trace(*impl_, variation, solution), solution);
}

OperatingPoint Path::operating_point(double engine_speed_rev_s, const OperatingPoint* near) const {
  Variation variation = as_it_is(*impl_);
  auto solution = settle(*impl_, variation, engine_speed_rev_s, near);
  name_choke(*impl_, solution.point);
  return solution.point;
}

OperatingPoint Path::operating_point_without_ducts(double engine_speed_rev_s,
                                                   const OperatingPoint* near) const {
  std::vector<Element> machines = impl_->elements;
  std::erase_if(machines, [&](const Element& element) {
    const bool structure = std::holds_alternative<SplitElement>(element.law) ||
                           std::holds_alternative<BranchElement>(element.law) ||
                           std::holds_alternative<JoinElement>(element.law);
    return impl_->steps[element.step].is_run && !structure;
  });
  Variation variation{&machines, &machines, impl_->tuning, {}};
  return flow::solve(*impl_, variation, engine_speed_rev_s, near).point;
}

Costs Path::costs(const OperatingPoint& point) const {
  return flow::costs(*impl_, point);
}
Bands Path::bands(const OperatingPoint& point) const {
  return flow::bands(*impl_, point);
}
std::size_t Path::doubts() const {
  return impl_->doubts.size() + impl_->tuned_doubts.size();
}
Path::Deviated Path::deviated(const OperatingPoint& point, const std::vector<double>& deviations) const {
  return Varied(*impl_, point).deviated(deviations);
}

} // namespace bellmouth::flow
