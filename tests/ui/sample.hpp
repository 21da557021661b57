// SPDX-License-Identifier: GPL-3.0-or-later
// A small build for window tests: filter, blower, cooler, throttle; two options; a little invented stock.
#pragma once

#include <bellmouth/build.hpp>

#include <new_build.hpp>

namespace bellmouth::ui::test {

inline std::vector<build::StockItem> sample_stock() {
  using build::StockKind;
  const quantity::Currency euro{{'E', 'U', 'R'}};
  std::vector<build::StockItem> stock;
  const auto add = [&](const char* id, StockKind kind, const char* name, build::Material material,
                       std::int64_t cents, build::Per per) -> build::StockItem& {
    build::StockItem item;
    item.id = {id};
    item.kind = kind;
    item.name = name;
    item.material = material;
    item.price = {cents, euro};
    item.per = per;
    stock.push_back(item);
    return stock.back();
  };
  for (const double size_m : {57.0e-3, 63.5e-3, 76.0e-3}) {
    const std::string mm = std::to_string(static_cast<int>(size_m * 1e3));
    auto& tube = add(("tube-" + mm).c_str(), StockKind::tube, ("Tube " + mm).c_str(),
                     build::Material::aluminium, 2400, build::Per::metre);
    tube.outer_diameter_m = size_m;
    tube.wall_m = 1.6e-3;
    auto& hose = add(("hose-" + mm).c_str(), StockKind::hose, ("Hose " + mm).c_str(),
                     build::Material::silicone, 1250, build::Per::each);
    hose.bore_m = size_m;
    hose.wall_m = 5e-3;
    hose.length_m = 0.100;
  }
  return stock;
}

/// One option named "first", filter to blower to cooler to throttle.
inline build::Build sample_build() {
  return new_build({}, sample_stock());
}
inline build::RunId first_run() {
  return {"filter to blower"};
}

/// The same with a second option, "second", whose first run has a longer tube.
inline build::Build sample_with_two_options() {
  build::Build build = build::with_option_copied(sample_build(), {"first"}, {"second"});
  const build::PieceRef tube{{"second"}, first_run(), 1};
  build::Piece piece = *build::find(build, tube);
  std::get<build::Tube>(piece.shape).length_m = 0.800;
  return build::with_piece_replaced(build, tube, piece);
}

} // namespace bellmouth::ui::test
