// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <bellmouth/mesh.hpp>

namespace bellmouth::mesh {

/// 64-bit FNV-1a hash (Fowler, Noll, Vo; IETF draft-eastlake-fnv) of the points' and the triangles' bytes,
/// least byte first, in 16 hexadecimal digits. The same on every machine.
[[nodiscard]] std::string digest(const Surface& surface);

} // namespace bellmouth::mesh
