// SPDX-License-Identifier: GPL-3.0-or-later
// How rows, sizes, neighbours and ends are spoken of.
#include "sizes.hpp"

#include <bellmouth/quantity.hpp>

#include <spdlog/fmt/fmt.h>

namespace bellmouth::route {
namespace {

struct StopWords {
  std::string_view key, text;
};
constexpr std::array<StopWords, 4> stops{
    {{"met", "the run meets its port"},
     {"not_measured", "a port of the run is not measured"},
     {"out_of_reach", "the run cannot meet its port within these limits"},
     {"not_clear", "the run meets its port, but something stands in the way"}}};

const StopWords& words_of(Stop stop) {
  return stops[static_cast<std::size_t>(stop)];
}

} // namespace

std::string_view key(Stop stop) {
  return words_of(stop).key;
}
std::string_view text(Stop stop) {
  return words_of(stop).text;
}

std::string written(What what, double value) {
  return is_angle(what) ? quantity::write(quantity::Dimension::angle, value, "°", 4)
                        : quantity::write(quantity::Dimension::length, value, "mm", 5);
}

std::string row_words(const build::Run& run, std::size_t row) {
  return fmt::format("row {} ({})", row + 1, build::title(run.pieces[row]));
}

std::string words(const build::Build& build, const build::Option& option, const bay::Neighbour& neighbour) {
  if (const auto* keep_out = std::get_if<bay::NearKeepOut>(&neighbour))
    return build.keep_outs[keep_out->index].name;
  if (const auto* port = std::get_if<bay::NearPort>(&neighbour))
    return fmt::format("port {}", port->port.text);
  const auto& piece = std::get<bay::NearPiece>(neighbour);
  const build::Run* const run = option.find(piece.run);
  return fmt::format("{} of {}", run ? row_words(*run, piece.row) : fmt::format("row {}", piece.row + 1),
                     piece.run.text);
}

} // namespace bellmouth::route
