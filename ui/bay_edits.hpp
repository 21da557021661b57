// SPDX-License-Identifier: GPL-3.0-or-later
// Edits that the tables of the bay make; pure, like those of build/edits.hpp.
#pragma once

#include <bellmouth/build.hpp>

#include <QString>

namespace bellmouth::ui {

enum class NewShape { box, cylinder, sphere, half_space };
/// A keep-out of ordinary size, named by its number, that lies clear below every port and all else known,
/// until its place is typed.
[[nodiscard]] build::KeepOut new_keep_out(const build::Build& build, NewShape shape);
/// The mirror image, with left and right changed over in its name, or "mirrored" behind it.
[[nodiscard]] build::KeepOut mirror_copy(const build::KeepOut& keep_out, double plane_y_m);

} // namespace bellmouth::ui
