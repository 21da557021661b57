// SPDX-License-Identifier: GPL-3.0-or-later
#include "assembly.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::flow {
namespace {

/// Two bores nearer than this are one: no step is worth speaking of.
constexpr double same_bore_m = 1e-5;

loss::Entry entry_of(const build::OpenInlet& inlet, double bore_m) {
  loss::Entry entry{};
  switch (inlet.kind) {
  case build::OpenInlet::Kind::flush:
    entry.kind = loss::EntryKind::flush;
    break;
  case build::OpenInlet::Kind::projecting:
    entry.kind = loss::EntryKind::projecting;
    break;
  case build::OpenInlet::Kind::bellmouth:
    entry.kind = loss::EntryKind::bellmouth;
    entry.radius_ratio = inlet.lip_radius_m / bore_m;
    break;
  }
  return entry;
}

} // namespace

Assembly::Assembly(Path::Impl& the_path, const build::Build& build)
    : path(the_path), inlet_(build.inlet), measured_ducts_(build.find(build::Coefficient::duct_losses)) {}

void Assembly::in_run(bool run) {
  in_run_ = run;
}

void Assembly::push(const Law& law, std::size_t row, double length_m, std::size_t doubt, double scale) {
  const bool loses = std::holds_alternative<LossElement>(law) || std::holds_alternative<DuctElement>(law);
  if (in_run_ && measured_ducts_ != nullptr && loses) {
    scale *= measured_ducts_->factor;
    doubt = doubt_of("duct losses", "measured", measured_ducts_->band, measured_ducts_->band);
  }
  path.elements.push_back({law, step, row, length_m, scale, doubt});
}

Bore Assembly::bore_of(double bore, double roughness_m) {
  const auto same = [&](const Stretch& s) { return s.bore_m == bore && s.roughness_m == roughness_m; };
  auto found = std::ranges::find_if(stretches_, same);
  if (found == stretches_.end())
    found = stretches_.insert(stretches_.end(), {bore, roughness_m});
  const auto slot = static_cast<std::size_t>(found - stretches_.begin());
  return {bore, disc_m2(bore), roughness_m / bore, std::min(slot, no_slot)};
}

std::size_t Assembly::doubt_of(std::string_view name, std::string_view source, double low, double high) {
  const auto found = std::ranges::find_if(
      path.doubts, [&](const DoubtPlan& doubt) { return doubt.name == name && doubt.source == source; });
  if (found != path.doubts.end())
    return static_cast<std::size_t>(found - path.doubts.begin());
  path.doubts.push_back({std::string(name), std::string(source), low, high});
  return path.doubts.size() - 1;
}

std::size_t Assembly::own_doubt_of(std::string_view name, std::string_view source) {
  const std::size_t doubt = doubt_of(name, source, 0, 0);
  path.doubts[doubt].own = true;
  return doubt;
}

void Assembly::push_loss(const loss::Law& law, double in_bore_m, std::size_t row, double roughness_m,
                         double length_m) {
  if (law.constant == 0 && law.per_friction == 0 && law.per_inverse_reynolds == 0)
    return;
  const bool doubtful = law.band_low > 0 || law.band_high > 0 || law.band_absolute > 0;
  push(LossElement{law, bore_of(in_bore_m, roughness_m)}, row, length_m,
       doubtful ? own_doubt_of("loss of fittings", law.source) : none);
}

void Assembly::push_straight(double length_m, double in_bore_m, double roughness_m, std::size_t row) {
  if (length_m > 0)
    push(DuctElement{length_m / in_bore_m, bore_of(in_bore_m, roughness_m)}, row, length_m,
         own_doubt_of("friction", "Colebrook & White"));
}

void Assembly::push_step(double to_bore_m, std::size_t row) {
  if (bore_m > 0 && std::abs(to_bore_m - bore_m) > same_bore_m)
    push_loss(loss::law(loss::Step{bore_m, to_bore_m}), std::min(bore_m, to_bore_m), row);
  bore_m = to_bore_m;
}

void Assembly::enter(double into_bore_m, std::size_t row) {
  push_loss(loss::law(entry_of(inlet_, into_bore_m)), into_bore_m, row);
}

} // namespace bellmouth::flow
