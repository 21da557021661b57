// SPDX-License-Identifier: GPL-3.0-or-later
#include "scene/look.hpp"

namespace bellmouth::ui::scene {

namespace {

struct Coat {
  QRgb colour;
  Finish finish;
};

Coat coat_of(build::Material material, bool dark) {
  switch (material) {
  case build::Material::aluminium:
    return {dark ? 0xffb9c1c9 : 0xffc8ced5, Finish::metal};
  case build::Material::mild_steel:
    return {dark ? 0xff87909a : 0xff8b939c, Finish::metal};
  case build::Material::stainless_steel:
    return {dark ? 0xffaeb0b0 : 0xffb9bab8, Finish::metal};
  case build::Material::silicone:
    return {dark ? 0xff2a63b8 : 0xff1f4f9e, Finish::rubber};
  case build::Material::rubber:
    return {dark ? 0xff3d4249 : 0xff2e3238, Finish::rubber};
  case build::Material::plastic:
    return {dark ? 0xff4a4f55 : 0xff42474d, Finish::rubber};
  }
  return {0xff808080, Finish::matt};
}

QRgb class_coat(build::KeepOutClass keep_out_class, bool dark) {
  switch (keep_out_class) {
  case build::KeepOutClass::moving:
    return dark ? 0xfff0b440 : 0xffd98f00;
  case build::KeepOutClass::hot:
    return dark ? 0xfff0764a : 0xffd1491b;
  case build::KeepOutClass::fixed:
    break;
  }
  return dark ? 0xff93a1b0 : 0xff6f7f90;
}

} // namespace

Scene dressed(const std::vector<Solid>& solids, bool dark) {
  Scene scene;
  scene.items.reserve(solids.size());
  for (const Solid& solid : solids) {
    Item item;
    item.mesh = solid.mesh;
    item.coarse = solid.coarse;
    item.placement = solid.placement;
    item.id = static_cast<std::uint32_t>(scene.items.size() + 1);
    const auto coat = [&](const Coat& wanted) {
      item.colour = wanted.colour;
      item.finish = wanted.finish;
    };
    switch (solid.part.kind) {
    case Part::Kind::piece:
    case Part::Kind::clamp:
      coat(coat_of(solid.material, dark));
      break;
    case Part::Kind::port:
      coat({dark ? 0xff8d8473 : 0xffb5aa94, Finish::metal});
      break;
    case Part::Kind::arrow:
      coat({dark ? 0xff56c2a0 : 0xff0b8a66, Finish::glow});
      break;
    case Part::Kind::keep_out:
      coat({class_coat(solid.keep_out_class, dark), Finish::matt});
      item.opacity = solid.bounded ? 0.30 : 0.09;
      break;
    case Part::Kind::scan:
      coat({class_coat(solid.keep_out_class, dark), Finish::matt});
      item.opacity = 0.55;
      break;
    }
    scene.items.push_back(std::move(item));
  }
  return scene;
}

} // namespace bellmouth::ui::scene
