// SPDX-License-Identifier: GPL-3.0-or-later
// From a march to what people look at.
#pragma once

#include "solve.hpp"

namespace bellmouth::flow {

/// Keeps what a march passes.
class Trace final : public Recorder {
public:
  explicit Trace(std::size_t elements) { passages.reserve(elements); }
  void passed(const Passage& passage) override { passages.push_back(passage); }
  void blew(std::size_t, const Blown& what) override { blown.push_back(what); }

  std::vector<Passage> passages; ///< of each element
  std::vector<Blown> blown;      ///< of each blower
};

/// Marches a variation once more at its solution, which must be usable (an assertion).
[[nodiscard]] Trace trace(const Path::Impl& path, const Variation& variation, const Solution& solution);

/// The state along the path.
[[nodiscard]] PathFlow report(const Path::Impl& path, const Trace& trace, const Solution& solution);

/// Total pressure lost in each run, in path order.
[[nodiscard]] std::vector<double> run_drops_Pa(const Path::Impl& path, const Trace& trace);

} // namespace bellmouth::flow
