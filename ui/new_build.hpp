// SPDX-License-Identifier: GPL-3.0-or-later
// A build to start from.
#pragma once

#include <bellmouth/build.hpp>

#include <vector>

namespace bellmouth::ui {

/// Which machines stand between the open air and the engine. Filter and throttle always do.
struct Recipe {
  enum class Blower { none, displacement, compressor, geared } blower = Blower::displacement;
  bool charge_cooler = true;
  bool meter_body = false;
  enum class Stock { metric, inch } stock = Stock::metric; ///< the list of parts to choose from
};

/// A build with the machines of the recipe in ordinary sizes, and one option with a plain run (hose, tube,
/// hose) between each two of them, bought from `stock` where it has the size: hump hoses between engine and
/// body, a valve flange behind a blower, a sensor boss ahead of the throttle. The budget is kept in the
/// currency of the stock (euros without stock).
[[nodiscard]] build::Build new_build(const Recipe& recipe, std::vector<build::StockItem> stock);

} // namespace bellmouth::ui
