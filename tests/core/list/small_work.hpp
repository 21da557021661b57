// SPDX-License-Identifier: GPL-3.0-or-later
// One option of a build with its joints, ready for the lists.
#pragma once

#include <bellmouth/list.hpp>

#include <utility>
#include <variant>
#include <vector>

namespace bellmouth::test {

/// Holds what list::Work points at. The build must outlive it.
class WorkOf {
public:
  explicit WorkOf(const build::Build& build, std::size_t option = 0)
      : build_(build), option_(build.options.at(option)) {
    for (const build::PathStep& step : build.path)
      if (const auto* const id = std::get_if<build::RunId>(&step)) {
        runs_.push_back(option_.find(*id));
        fits_.push_back(joint::fit(build, *runs_.back()));
      }
  }

  [[nodiscard]] list::Lists lists(const flow::PathFlow* flow = nullptr) const {
    return list::make({build_, option_, runs_, fits_, flow});
  }
  [[nodiscard]] const std::vector<const build::Run*>& runs() const { return runs_; }
  [[nodiscard]] const std::vector<joint::RunFit>& fits() const { return fits_; }

private:
  const build::Build& build_;
  const build::Option& option_;
  std::vector<const build::Run*> runs_;
  std::vector<joint::RunFit> fits_;
};

} // namespace bellmouth::test
