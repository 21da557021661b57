// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "elements.hpp"

#include <memory>

namespace bellmouth::flow {

/// Makes an option's path ready to march; see Path.
[[nodiscard]] std::unique_ptr<Path::Impl> compile(const build::Build& build, const build::Option& option,
                                                  const std::vector<joint::RunFit>& fits);

} // namespace bellmouth::flow
