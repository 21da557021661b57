// SPDX-License-Identifier: GPL-3.0-or-later
// What the lines of the lists say in words.
#include <bellmouth/list.hpp>
#include <bellmouth/list/text.hpp>

#include <spdlog/fmt/fmt.h>

#include <iterator>
#include <variant>

namespace bellmouth::list {
namespace {

std::string counted(int count, std::string_view one) {
  return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

std::string count_text(int joints) {
  std::string words = counted(joints, "joint") + ", " + counted(joints + 1, "piece") + ": ";
  if (joints > 1)
    words += counted(joints - 1, "full wedge") + " and ";
  return words + "2 ends cut on one side";
}

/// What the maker has to know besides the length.
class NoteWriter {
public:
  NoteWriter(const CutLine& line, std::string& out) : line_(line), out_(out) {}

  void operator()(const build::TubeBend& s) { turn(s.angle_rad, s.radius_m, s.clocking_rad); }
  void operator()(const build::HoseElbow& s) {
    turn(s.angle_rad, s.radius_m, s.clocking_rad);
    trims("leg in cut down by {}", line_.trim_in_m);
    trims("leg out cut down by {}", line_.trim_out_m);
  }
  void operator()(const build::MitredBend& s) {
    turn(s.angle_rad, s.radius_m, s.clocking_rad);
    out_ += ", " + count_text(s.joints);
  }
  void operator()(const build::Hose&) { trims("cut down by {}", line_.trim_out_m); }
  void operator()(const build::HumpHose&) { trims("cut down by {}", line_.trim_out_m); }
  void operator()(const build::HoseReducer&) { trims("cut down by {}", line_.trim_out_m); }
  template <class S> void operator()(const S&) {} // straight: nothing besides the length

private:
  void turn(double angle_rad, double radius_m, double clocking_rad) {
    fmt::format_to(std::back_inserter(out_), "{} deg, centre-line radius {}, clocking {} deg",
                   in_deg(angle_rad), in_tenths(radius_m), in_deg(clocking_rad));
  }
  void trims(fmt::format_string<double> words, const std::optional<double>& trim_m) {
    constexpr double nothing_m = 0.05e-3;
    if (!trim_m || *trim_m < nothing_m)
      return;
    out_ += out_.empty() ? "" : ", ";
    out_ += fmt::format(words, in_tenths(*trim_m));
  }

  const CutLine& line_;
  std::string& out_;
};

} // namespace

std::string_view text(EndWork work) {
  switch (work) {
  case EndWork::plain:
    return "plain";
  case EndWork::bead:
    return "bead";
  case EndWork::weld:
    return "weld";
  case EndWork::bead_weld:
    return "bead, weld";
  case EndWork::hose:
    return "hose";
  case EndWork::flange:
    return "flange";
  case EndWork::thread:
    break;
  }
  return "thread";
}

std::string_view text(WeldLine::Kind kind) {
  switch (kind) {
  case WeldLine::Kind::butt:
    return "butt";
  case WeldLine::Kind::mitre:
    return "mitre";
  case WeldLine::Kind::boss:
    return "boss foot";
  case WeldLine::Kind::flange:
    break;
  }
  return "flange foot";
}

std::string between_text(const WeldLine& line) {
  const auto side = [&](std::size_t piece) { return place(line.pieces.at(piece)); };
  switch (line.kind) {
  case WeldLine::Kind::mitre:
    return "within " + side(0);
  case WeldLine::Kind::boss:
  case WeldLine::Kind::flange:
    return side(0) + " on " + side(1);
  case WeldLine::Kind::butt:
    break;
  }
  if (!line.port)
    return line.pieces.size() == 2 ? side(0) + " and " + side(1) : "port to port";
  const std::string port = "port " + line.port->text;
  if (line.pieces.empty())
    return port + " and the other port";
  return line.port_first ? port + " and " + side(0) : side(0) + " and " + port;
}

std::string ends_text(const CutLine& line) {
  return std::string(text(line.in)).append(" / ").append(text(line.out));
}

std::string note_text(const CutLine& line) {
  std::string out;
  std::visit(NoteWriter(line, out), line.shape);
  return out;
}

std::string count_text(const WedgeLine& line) {
  return count_text(line.joints);
}

std::string text(const Reference& reference) {
  switch (reference.kind) {
  case Reference::Kind::port_up:
    return "the top of the pipe at the port";
  case Reference::Kind::port_forward:
    return "the front of the pipe at the port";
  case Reference::Kind::port_unknown:
    return "the top of the pipe at the port; its front where the port points up or down";
  case Reference::Kind::bend:
    break;
  }
  return "the inside of " + place(*reference.bend);
}

} // namespace bellmouth::list
