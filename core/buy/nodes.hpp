// SPDX-License-Identifier: GPL-3.0-or-later
// What is still to be searched.
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <map>
#include <optional>
#include <utility>
#include <vector>

namespace bellmouth::buy {

/// Part of the plans: those within limits of the packs of some offers.
struct Node {
  struct Limits {
    int lower = 0, upper = 0;
  };
  double bound = -std::numeric_limits<double>::infinity(); ///< no plan in it has less
  std::map<std::size_t, Limits> packs;                     ///< by offer
};

/// Nodes that are open. First the one next to a split is followed, so that a good plan is soon found; then
/// the one with the lowest bound, so that the bound rises.
class Nodes {
public:
  Nodes() { open_.emplace_back(); }

  [[nodiscard]] std::optional<Node> take() {
    if (next_)
      return std::exchange(next_, std::nullopt);
    if (open_.empty())
      return std::nullopt;
    std::ranges::pop_heap(open_, later);
    Node node = std::move(open_.back());
    open_.pop_back();
    return node;
  }

  void put(Node node) {
    open_.push_back(std::move(node));
    std::ranges::push_heap(open_, later);
  }

  /// Splits a node at a number of packs that is not whole, where an offer has `most` packs.
  void split(const Node& node, std::size_t offer, double packs, int most) {
    const auto known = node.packs.find(offer);
    const Node::Limits limits = known != node.packs.end() ? known->second : Node::Limits{0, most};
    const int below = static_cast<int>(packs);
    Node fewer = node;
    fewer.packs[offer] = {limits.lower, below};
    Node more = node;
    more.packs[offer] = {below + 1, limits.upper};
    if (packs - below < 0.5)
      std::swap(fewer, more);
    if (diving_)
      next_ = std::move(more);
    else
      put(std::move(more));
    put(std::move(fewer));
  }

  /// A good plan has been found.
  void stop_diving() { diving_ = false; }

  /// No open node has less; infinity if there is none.
  [[nodiscard]] double bound() const {
    double bound = next_ ? next_->bound : std::numeric_limits<double>::infinity();
    for (const Node& node : open_)
      bound = std::min(bound, node.bound);
    return bound;
  }

private:
  static bool later(const Node& a, const Node& b) { return a.bound > b.bound; }

  std::vector<Node> open_; ///< a heap
  std::optional<Node> next_;
  bool diving_ = true;
};

} // namespace bellmouth::buy
