// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the pieces can be made as they are drawn, and what to mind when making them.
#include "context.hpp"
#include "repeated.hpp"
#include "words.hpp"

#include <bellmouth/joint/threads.hpp>

#include <spdlog/fmt/fmt.h>

namespace bellmouth::check {

namespace {

using enum Severity;

/// A single mitre has no wedge between its two ends.
void check_wedges(Context& c, const RunView& run, std::size_t row) {
  const auto* bend = std::get_if<build::MitredBend>(&run.shape(row));
  if (bend == nullptr || bend->joints < 2)
    return;
  const joint::Wedge wedge =
      joint::wedge(bend->outer_diameter_m, bend->radius_m, bend->angle_rad, bend->joints);
  if (below(wedge.short_side_m, c.limits.wedge_short_side_m))
    c.add_at_row(
        Id::narrow_wedge, caution, run, row,
        fmt::format("Its wedges are {} wide on the inside and {} on the outside.",
                    quantity::write_fixed(quantity::Dimension::length, wedge.short_side_m, "mm", 1),
                    quantity::write_fixed(quantity::Dimension::length, wedge.long_side_m, "mm", 1)),
        fmt::format("Two welds so near each other burn through; {} are wanted. Take fewer cuts or an "
                    "easier radius.",
                    millimetres(c.limits.wedge_short_side_m)));
}

void check_thread(Context& c, const RunView& run, std::size_t row) {
  const auto* boss = std::get_if<build::SensorBoss>(&run.shape(row));
  if (boss != nullptr && joint::find_thread(boss->thread) == nullptr)
    c.add_at_row(Id::unknown_thread, note, run, row,
                 fmt::format("\"{}\" is none of the threads that sensors and taps come with.", boss->thread),
                 "The lists cannot say its hole and its drill. Usual ones are " + joint::thread_names() +
                     '.');
}

} // namespace

void check_making(Context& c) {
  Repeated rusting;
  for (const auto& run : c.runs)
    for (std::size_t row = 0; row < run.rows(); ++row) {
      check_wedges(c, run, row);
      check_thread(c, run, row);
      const auto& piece = run.run->pieces[row];
      if (piece.material == build::Material::mild_steel && build::is_rigid(piece.shape))
        rusting.at(run, row);
    }
  rusting.tell(c, Id::rust_inside, note, "Mild steel{}.",
               "It rusts inside, and the flakes go through blower or engine. Paint or plate it inside after "
               "the last weld, and clean it to bare metal before.",
               "pieces");
}

} // namespace bellmouth::check
