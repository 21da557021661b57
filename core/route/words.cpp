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

} // namespace bellmouth::route
