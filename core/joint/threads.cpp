// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/joint/threads.hpp>

#include <algorithm>
#include <array>
#include <cctype>

namespace bellmouth::joint {

namespace {

constexpr double mm = 1e-3;
constexpr double inch_m = 0.0254;

/// ISO 68-1 basic profile: d2 = D - 0.649519 P, D1 = D - 1.082532 P (ISO 724); the tap drill is D - P.
constexpr Thread metric_thread(std::string_view designation, double major_mm, double pitch_mm) {
  return {designation,
          ThreadForm::metric,
          major_mm * mm,
          pitch_mm * mm,
          (major_mm - 0.649519 * pitch_mm) * mm,
          (major_mm - 1.082532 * pitch_mm) * mm,
          (major_mm - pitch_mm) * mm,
          "ISO 68-1 basic profile, ISO 724"};
}

/// The 55-degree profile: d2 = D - 0.640327 P, d1 = D - 1.280654 P.
constexpr Thread pipe_thread(std::string_view designation, ThreadForm form, double major_mm, int per_inch,
                             std::optional<double> tap_drill_m) {
  const double pitch_m = inch_m / per_inch;
  return {designation,
          form,
          major_mm * mm,
          pitch_m,
          major_mm * mm - 0.640327 * pitch_m,
          major_mm * mm - 1.280654 * pitch_m,
          tap_drill_m,
          form == ThreadForm::pipe_parallel ? "ISO 228-1" : "ISO 7-1, at the gauge plane"};
}

/// ASME B1.20.1: pipe outside diameter and pitch diameter E1 from its table, thread height 0.8 P.
constexpr Thread npt_thread(std::string_view designation, double pipe_mm, int per_inch,
                            double pitch_diameter_mm, double tap_drill_mm) {
  const double pitch_m = inch_m / per_inch;
  return {designation,
          ThreadForm::pipe_taper_60_deg,
          pipe_mm * mm,
          pitch_m,
          pitch_diameter_mm * mm,
          pitch_diameter_mm * mm - 0.8 * pitch_m,
          tap_drill_mm * mm,
          "ASME B1.20.1, at the hand-tight plane"};
}

using enum ThreadForm;

// Gauge diameters of the 55-degree pipe threads are common to ISO 228-1 and ISO 7-1. Drills of pipe threads:
// trade practice (7/16 in and 37/64 in for the larger NPT).
constexpr std::array table{
    metric_thread("M10x1", 10, 1),
    metric_thread("M12x1.5", 12, 1.5),
    metric_thread("M14x1.5", 14, 1.5),
    metric_thread("M16x1.5", 16, 1.5),
    metric_thread("M18x1.5", 18, 1.5),
    metric_thread("M20x1.5", 20, 1.5),
    npt_thread("1/8 NPT", 10.287, 27, 9.489, 8.6),
    npt_thread("1/4 NPT", 13.716, 18, 12.487, 11.11),
    npt_thread("3/8 NPT", 17.145, 18, 15.926, 14.68),
    pipe_thread("G 1/8", pipe_parallel, 9.728, 28, 8.75 * mm),
    pipe_thread("G 1/4", pipe_parallel, 13.157, 19, 11.8 * mm),
    pipe_thread("G 3/8", pipe_parallel, 16.662, 19, 15.25 * mm),
    pipe_thread("R/Rc 1/8", pipe_taper, 9.728, 28, std::nullopt),
    pipe_thread("R/Rc 1/4", pipe_taper, 13.157, 19, std::nullopt),
    pipe_thread("R/Rc 3/8", pipe_taper, 16.662, 19, std::nullopt),
};

/// The letters that make a pipe thread what it is, and those which people write for them.
struct Family {
  std::string_view written, folded;
};
constexpr Family families[] = {{"BSPP", "G"}, {"BSPT", "R"}, {"NPTF", ""},
                               {"NPT", "N"},  {"R/RC", "R"}, {"RC", "R"}};

/// One spelling for all: capitals, no spaces or inch signs, the family before the size, no threads per inch,
/// no zeros behind.
std::string folded(std::string_view name) {
  constexpr std::string_view times = "×";
  std::string text;
  for (std::size_t at = 0; at < name.size(); ++at) {
    const char c = name[at];
    if (name.substr(at).starts_with(times)) {
      text += 'X';
      at += times.size() - 1;
    } else if (c == ',') {
      text += '.';
    } else if (c != '"' && std::isspace(static_cast<unsigned char>(c)) == 0) {
      text += static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    }
  }
  if (text.starts_with('M')) {
    if (text.find('.') != std::string::npos) {
      text.erase(text.find_last_not_of('0') + 1);
      if (text.ends_with('.'))
        text.pop_back();
    }
    return text;
  }
  for (const auto& [written, letter] : families)
    if (const std::size_t at = text.find(written); at != std::string::npos) {
      if (letter.empty())
        return {}; // another thread, with a sealing crest
      text.erase(at, written.size());
      return std::string(letter) + text;
    }
  return text;
}

/// Whether `name` says the thread with its threads per inch behind a dash: "1/8-27 NPT".
bool with_count(const std::string& name, const std::string& thread, double pitch_m) {
  const int per_inch = static_cast<int>(inch_m / pitch_m + 0.5);
  return name == thread + "-" + std::to_string(per_inch);
}

} // namespace

std::string_view text(ThreadForm form) {
  switch (form) {
  case metric:
    return "ISO metric fine, 60 deg";
  case pipe_parallel:
    return "parallel pipe thread, 55 deg";
  case pipe_taper:
    return "taper pipe thread 1:16, 55 deg";
  case pipe_taper_60_deg:
    return "taper pipe thread 1:16, 60 deg";
  }
  return {};
}

std::span<const Thread> threads() {
  return table;
}

const Thread* find_thread(std::string_view name) {
  const std::string wanted = folded(name);
  const auto found = std::ranges::find_if(table, [&](const Thread& thread) {
    const std::string own = folded(thread.designation);
    return wanted == own || (thread.form != metric && with_count(wanted, own, thread.pitch_m));
  });
  return found == table.end() ? nullptr : &*found;
}

std::string thread_names() {
  std::string names;
  for (const Thread& thread : table)
    names += (names.empty() ? "" : ", ") + std::string(thread.designation);
  return names;
}

} // namespace bellmouth::joint
