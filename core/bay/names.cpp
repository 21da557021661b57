// SPDX-License-Identifier: GPL-3.0-or-later
#include <bellmouth/bay/names.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cassert>

namespace bellmouth::bay {

namespace {

/// Ids stand in words with spaces.
std::string words(std::string id) {
  std::ranges::replace(id, '_', ' ');
  return id;
}

} // namespace

std::string name_of(const build::Build& build, const build::Option& option, const Neighbour& neighbour) {
  if (const auto* near = std::get_if<NearKeepOut>(&neighbour)) {
    const std::string& name = build.keep_outs[near->index].name;
    return name.empty() ? fmt::format("keep-out {}", near->index + 1) : name;
  }
  if (const auto* near = std::get_if<NearPort>(&neighbour))
    return fmt::format("the spigot of port {}", words(near->port.text));
  const auto& near = std::get<NearPiece>(neighbour);
  const build::Run* const run = option.find(near.run);
  assert(run != nullptr && near.row < run->pieces.size());
  return fmt::format("row {} ({}) of {}", near.row + 1, build::title(run->pieces[near.row]),
                     words(near.run.text));
}

} // namespace bellmouth::bay
