// SPDX-License-Identifier: GPL-3.0-or-later
// What finds routes, as functions: the core's, or a test's in their place.
#pragma once

#include <bellmouth/find.hpp>

#include <functional>

namespace bellmouth::ui {

/// Each as its namesake in bellmouth::find and bellmouth::way. `search`, `proposal` and `reasons` are called
/// from other threads.
struct RouteSource {
  std::function<find::Ask(const build::Build&, const build::OptionId&, const build::RunId&)> usual;
  std::function<Result<find::Question>(const build::Build&, const find::Ask&)> question;
  std::function<way::Weights(const build::Build&, const find::Ask&)> weights;
  std::function<way::Found(const way::Problem&, const way::Effort&, const way::Watch&)> search;
  std::function<way::Found(const way::Problem&, const way::Found&, std::size_t best)> ranked;
  std::function<find::Proposal(const build::Build&, const find::Question&, const way::Answer&)> proposal;
  std::function<void(const build::Build&, const find::Question&, std::vector<find::Proposal>&)> tell_apart;
  std::function<build::Build(const build::Build&, const find::Question&, const find::Proposal&,
                             const build::OptionId&)>
      with_proposal;
  std::function<std::vector<find::Reason>(const build::Build&, const find::Question&, const way::Found&)>
      reasons;
};
[[nodiscard]] RouteSource core_routes();

} // namespace bellmouth::ui
