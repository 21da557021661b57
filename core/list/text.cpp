// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/joint/threads.hpp>
#include <bellmouth/list/text.hpp>

#include <spdlog/fmt/fmt.h>

#include <array>
#include <iterator>

namespace bellmouth::list {
namespace {

/// Writes the size of each shape at the end of a text.
class SizeWriter {
public:
  explicit SizeWriter(std::string& out) : out_(out) {}

  void operator()(const build::Tube& s) { put("{} x {}", in_mm(s.outer_diameter_m), in_mm(s.wall_m)); }
  void operator()(const build::TubeBend& s) {
    put("{} x {}, {} deg, R {}", in_mm(s.outer_diameter_m), in_mm(s.wall_m), in_deg(s.angle_rad),
        in_mm(s.radius_m));
  }
  void operator()(const build::MitredBend& s) {
    put("{} x {}, {} deg, R {}, {}", in_mm(s.outer_diameter_m), in_mm(s.wall_m), in_deg(s.angle_rad),
        in_mm(s.radius_m), s.joints);
    out_ += s.joints == 1 ? " mitre" : " mitres";
  }
  void operator()(const build::Cone& s) {
    put("{} to {} x {}", in_mm(s.outer_diameter_in_m), in_mm(s.outer_diameter_out_m), in_mm(s.wall_m));
  }
  void operator()(const build::Adapter& s) {
    put("{} to {}, bore {} to {}", in_mm(s.outer_diameter_in_m), in_mm(s.outer_diameter_out_m),
        in_mm(s.bore_in_m), in_mm(s.bore_out_m));
  }
  void operator()(const build::Hose& s) { hose(s.bore_m, s.bore_m, s.wall_m); }
  void operator()(const build::HumpHose& s) { hose(s.bore_m, s.bore_m, s.wall_m); }
  void operator()(const build::HoseElbow& s) {
    hose(s.bore_in_m, s.bore_out_m, s.wall_m);
    put(", {} deg", in_deg(s.angle_rad));
  }
  void operator()(const build::HoseReducer& s) { hose(s.bore_in_m, s.bore_out_m, s.wall_m); }
  void operator()(const build::SensorBoss& s) {
    put("{}", s.thread);
    const joint::Thread* const thread = joint::find_thread(s.thread);
    if (thread == nullptr)
      put(", tap drill not known");
    else if (thread->tap_drill_m)
      put(", tap drill {}", in_mm(*thread->tap_drill_m));
    else
      put(", tap drill as the reamer asks");
  }
  void operator()(const build::ValveFlange& s) { put("bore {}", in_mm(s.bore_m)); }

private:
  template <class... Ts> void put(fmt::format_string<Ts...> format, Ts&&... values) {
    fmt::format_to(std::back_inserter(out_), format, std::forward<Ts>(values)...);
  }
  void hose(double bore_in_m, double bore_out_m, double wall_m) {
    put("bore {}", in_mm(bore_in_m));
    if (bore_out_m != bore_in_m)
      put(" to {}", in_mm(bore_out_m));
    put(", wall {}", in_mm(wall_m));
  }

  std::string& out_;
};

} // namespace

std::string size_text(const build::Shape& shape) {
  std::string out;
  std::visit(SizeWriter(out), shape);
  return out;
}

std::string description(const build::Piece& piece) {
  std::string out;
  fmt::format_to(std::back_inserter(out), "{} {} ", build::material_name(piece.material),
                 build::kind_name(piece.shape));
  std::visit(SizeWriter(out), piece.shape);
  if (!build::is_fitting(piece.shape))
    fmt::format_to(std::back_inserter(out), ", {} long", in_tenths(build::full_length_m(piece.shape)));
  return out;
}

std::string place(const build::PieceRef& ref) {
  return fmt::format("{} {}", ref.run.text, ref.row + 1);
}
std::string places(const std::vector<build::PieceRef>& refs) {
  std::string text;
  for (std::size_t i = 0; i < refs.size();) {
    std::size_t behind = i + 1;
    while (behind < refs.size() && refs[behind] == refs[i])
      ++behind;
    text.append(text.empty() ? "" : ", ").append(place(refs[i]));
    if (behind - i > 1)
      text += fmt::format(" ({} x)", behind - i);
    i = behind;
  }
  return text;
}

} // namespace bellmouth::list
