// SPDX-License-Identifier: GPL-3.0-or-later
// The state at any place of a piece: the march is walked once more with the element there cut at the place.
#include "report.hpp"
#include "varied.hpp"

#include <algorithm>
#include <cassert>

namespace bellmouth::flow {
namespace {

/// A place within a row: the element it lies in, and how much of that lies before it.
struct Cut {
  std::size_t element = none;
  double share = 0;
  double bore_m = 0; ///< at the place
};

/// Bores change evenly along an element that is no duct.
Cut cut_at(const Path::Impl& path, const RowPlan& row, std::size_t index, double distance_m) {
  Cut result;
  double bore_m = row.bore_in_m;
  for (std::size_t i = row.first; i < row.last; ++i) {
    const Element& element = path.elements[i];
    if (element.row != index || element.length_m <= 0)
      continue;
    double leaves_m = row.bore_out_m;
    if (const auto* duct = std::get_if<DuctElement>(&element.law))
      bore_m = leaves_m = duct->bore.bore_m;
    else
      for (std::size_t k = i + 1; k < row.last; ++k)
        if (const auto* next = std::get_if<DuctElement>(&path.elements[k].law)) {
          leaves_m = next->bore.bore_m;
          break;
        }
    result.element = i;
    result.share = std::min(distance_m / element.length_m, 1.0);
    result.bore_m = bore_m + (leaves_m - bore_m) * result.share;
    if (distance_m <= element.length_m)
      return result;
    distance_m -= element.length_m;
    bore_m = leaves_m;
  }
  return result;
}

double length_of(const Path::Impl& path, const RowPlan& row, std::size_t index) {
  double length_m = 0;
  for (std::size_t i = row.first; i < row.last; ++i)
    if (path.elements[i].row == index)
      length_m += path.elements[i].length_m;
  return length_m;
}

/// The part of a friction or a loss that a place has behind it.
void shorten(Element& element, double share) {
  if (auto* duct = std::get_if<DuctElement>(&element.law))
    duct->friction_length_per_f *= share;
  else
    element.scale *= share;
}

} // namespace

Section Path::tapping(const OperatingPoint& point, std::size_t run, std::size_t row,
                      double distance_m) const {
  assert(point.usable());
  std::size_t step = 0;
  for (std::size_t seen = 0; !impl_->steps[step].is_run || seen++ != run; ++step)
    assert(step + 1 < impl_->steps.size());
  const RowPlan& plan = impl_->steps[step].rows.at(row);
  assert(!plan.host);
  Variation variation = as_it_is(*impl_);
  const Solution solution = settle(*impl_, variation, point.engine_speed_rev_s, &point);
  const double whole_m = length_of(*impl_, plan, row);
  Cut cut = cut_at(*impl_, plan, row, std::clamp(distance_m, 0.0, whole_m));
  std::vector<Element> elements = impl_->elements;
  if (cut.element != none)
    shorten(elements[cut.element], cut.share);
  else { // nothing in this row has a length: what it is, it is at one place
    cut.element = plan.first;
    cut.bore_m = plan.bore_in_m;
  }
  variation.elements = &elements;
  const Trace trace = flow::trace(*impl_, variation, solution);
  const Recorder::Passage& passage = trace.passages.at(cut.element);
  double pressure_Pa = passage.pressure_behind_Pa, temperature_K = passage.temperature_behind_K;
  // Heat is taken up at the end of a row; on the way it is taken up evenly.
  for (std::size_t i = cut.element + 1; i < plan.last && whole_m > 0; ++i)
    if (std::holds_alternative<HeatElement>(elements[i].law)) {
      const Recorder::Passage& heat = trace.passages.at(i);
      const double share = std::clamp(distance_m / whole_m, 0.0, 1.0);
      temperature_K += share * (heat.temperature_behind_K - heat.temperature_before_K);
      pressure_Pa += share * (heat.pressure_behind_Pa - heat.pressure_before_Pa);
    }
  Section result;
  result.bore_m = cut.bore_m;
  const auto state =
      air::station(impl_->air, pressure_Pa, temperature_K, passage.flow_behind_kg_s, disc_m2(cut.bore_m));
  assert(state.has_value()); // the march has passed here
  if (state)
    result.station = *state;
  result.reynolds = passage.flow_behind_kg_s > 0 ? air::reynolds(impl_->air, result.station, cut.bore_m) : 0;
  return result;
}

} // namespace bellmouth::flow
