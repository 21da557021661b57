// SPDX-License-Identifier: GPL-3.0-or-later
// The threads that sensors and pressure taps come with: the one table of them.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace bellmouth::joint {

enum class ThreadForm {
  metric,           ///< ISO 68-1, 60 degrees
  pipe_parallel,    ///< ISO 228-1, 55 degrees (G, "BSPP")
  pipe_taper,       ///< ISO 7-1, 55 degrees, taper 1:16 (R outside, Rc inside, "BSPT")
  pipe_taper_60_deg ///< ASME B1.20.1, 60 degrees, taper 1:16 (NPT)
};
[[nodiscard]] std::string_view text(ThreadForm form);

/// One thread. Basic diameters; of taper threads those at the hand-tight (gauge) plane, except that the major
/// diameter of an NPT thread is the outside diameter of its pipe.
struct Thread {
  std::string_view designation; ///< "M12x1.5", "1/8 NPT", "G 1/8", "R/Rc 1/8"
  ThreadForm form;
  double major_diameter_m, pitch_m, pitch_diameter_m, minor_diameter_m;
  std::optional<double> tap_drill_m; ///< unset where it depends on whether the hole is reamed to the taper
  std::string_view source;           ///< of the diameters
};

/// All threads, by form and size. Diameters of metric and 55-degree threads follow from their profile; those
/// of NPT are the standard's table. Tap drills are trade practice, good to 0.1 mm, not part of any of the
/// standards.
[[nodiscard]] std::span<const Thread> threads();
/// The thread that a person means: "M12x1.5", "m12 x 1,5", "M10x1.0", "1/8 NPT", "1/8-27 NPT", "G1/8", "1/8
/// BSPP", "Rc 1/8", "1/8 BSPT"; nullptr if it is not in the table.
[[nodiscard]] const Thread* find_thread(std::string_view name);
/// All designations, for messages: "M10x1, M12x1.5, ...".
[[nodiscard]] std::string thread_names();

} // namespace bellmouth::joint
