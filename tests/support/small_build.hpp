// SPDX-License-Identifier: GPL-3.0-or-later
// The smallest build that has something to buy. Names and prices are invented.
#pragma once

#include "support/sample_parts.hpp"

#include <bellmouth/build.hpp>

#include <utility>
#include <vector>

namespace bellmouth::test {

/// Two hoses, two tubes, a bend and a mitred bend, all of 63.5 mm, between two ports.
[[nodiscard]] inline build::Build small_build() {
  using namespace build;
  constexpr Material aluminium = Material::aluminium, silicone = Material::silicone;
  Build b;
  b.demand = FixedFlow{0.1, 101325.0, 293.15};
  b.ports = {test::sample_port("a", {}, Mounting::body, 60.2, 63.5, 40),
             test::sample_port("b", {}, Mounting::engine, 60.2, 63.5, 30)};
  b.path = {RunId{"run"}};
  b.stock = test::sample_stock();
  b.budget = {test::euro(), euros(100, 0)};
  const Piece hose{Hose{mm(63.5), mm(4.5), mm(80), {mm(32), mm(32)}}, silicone, {"hose-63"}, ""};
  b.options = {{{"only"},
                "",
                {Run{{"run"},
                     {"a"},
                     {"b"},
                     {hose,
                      {Tube{mm(63.5), mm(1.65), mm(310), {true, false}}, aluminium, {"tube-63"}, ""},
                      {TubeBend{mm(63.5), mm(1.65), deg(90), mm(95), mm(60), mm(60), 0, {}},
                       aluminium,
                       {"bend-63-90"},
                       ""},
                      {MitredBend{mm(63.5), mm(1.65), deg(45), mm(100), 2, mm(40), mm(40), 0, {}},
                       aluminium,
                       {"tube-63"},
                       ""},
                      {Tube{mm(63.5), mm(1.65), mm(125.5), {false, true}}, aluminium, {"tube-63"}, ""},
                      hose}}}}};
  return b;
}

/// The same with other pieces.
[[nodiscard]] inline build::Build with_pieces(std::vector<build::Piece> pieces) {
  build::Build b = small_build();
  build::Run run = *b.options.front().runs.front();
  run.pieces = std::move(pieces);
  b.options.front().runs = {run};
  return b;
}
[[nodiscard]] inline const std::vector<build::Piece>& pieces_of(const build::Build& b) {
  return b.options.front().runs.front()->pieces;
}

} // namespace bellmouth::test
