// SPDX-License-Identifier: GPL-3.0-or-later
#include "suppliers.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <numeric>
#include <set>
#include <utility>

namespace bellmouth::buy {
namespace {

/// What is decided about a supplier.
enum class Order : char {
  open,    ///< may be ordered from, as if without postage
  none,    ///< not ordered from
  paid,    ///< ordered from, with postage
  reached, ///< ordered from for as much as has free postage
};

/// Smallest number of suppliers among which each need finds one.
class Cover {
public:
  explicit Cover(std::vector<std::vector<std::size_t>> needs) : needs_(std::move(needs)) {
    std::ranges::sort(needs_, {}, [](const auto& suppliers) { return suppliers.size(); });
  }

  std::set<std::size_t> least() {
    for (const auto& suppliers : needs_)
      best_.insert(suppliers.begin(), suppliers.end());
    std::set<std::size_t> chosen;
    extend(chosen);
    return best_;
  }

private:
  void extend(std::set<std::size_t>& chosen) {
    const auto left = std::ranges::find_if(needs_, [&](const auto& suppliers) {
      return std::ranges::none_of(suppliers, [&](std::size_t supplier) { return chosen.contains(supplier); });
    });
    if (left == needs_.end()) {
      if (chosen.size() < best_.size())
        best_ = chosen;
      return;
    }
    if (chosen.size() + 1 >= best_.size())
      return;
    for (const std::size_t supplier : *left) {
      chosen.insert(supplier);
      extend(chosen);
      chosen.erase(supplier);
    }
  }

  std::vector<std::vector<std::size_t>> needs_; ///< suppliers of each
  std::set<std::size_t> best_;
};

class Decision {
public:
  Decision(const Question& question, Clock::time_point until)
      : question_(question), until_(until), orders_(question.postage.size(), Order::open) {
    fitting_.resize(question.needs.size());
    for (std::size_t i = 0; i < question.needs.size(); ++i)
      for (const std::size_t offer : question.needs[i].offers)
        if (fits(question, question.needs[i], question.offers[offer]))
          fitting_[i].push_back(offer);
    find_groups();
  }

  Decided run() {
    if (question_.aim == Aim::suppliers) {
      const std::set<std::size_t> fewest = Cover(needs_of_suppliers()).least();
      for (std::size_t s = 0; s < orders_.size(); ++s)
        orders_[s] = fewest.contains(s) ? Order::open : Order::none;
      (void)look(); // its choice is a good one to begin with
      std::ranges::fill(orders_, Order::open);
    }
    search(Worth{});
    Worth least = best_.worth;
    if (unresolved_ && unresolved_->main_less(least))
      least = *unresolved_;
    best_.least = least;
    return std::move(best_);
  }

private:
  struct Group {
    std::vector<std::size_t> needs, offers;
  };

  /// What the orders decided so far allow.
  struct Look {
    bool possible = true;
    bool proven = true;
    Worth least;
    std::optional<std::size_t> due; ///< supplier whose cost is not in `least`, though its goods are used
  };

  void find_groups() {
    std::vector<std::size_t> parent(question_.needs.size());
    std::iota(parent.begin(), parent.end(), std::size_t{0});
    const auto root = [&](std::size_t i) {
      while (parent[i] != i)
        i = parent[i] = parent[parent[i]];
      return i;
    };
    std::map<std::size_t, std::size_t> first_need; // of an offer
    for (std::size_t i = 0; i < fitting_.size(); ++i)
      for (const std::size_t offer : fitting_[i])
        if (const auto [known, added] = first_need.emplace(offer, i); !added)
          parent[root(i)] = root(known->second);
    std::map<std::size_t, std::size_t> number;
    for (std::size_t i = 0; i < fitting_.size(); ++i) {
      const auto [known, added] = number.emplace(root(i), groups_.size());
      if (added)
        groups_.emplace_back();
      groups_[known->second].needs.push_back(i);
    }
    for (const auto& [offer, need] : first_need)
      groups_[number.at(root(need))].offers.push_back(offer);
  }

  bool allowed(std::size_t offer) const {
    const std::optional<std::size_t>& supplier = question_.offers[offer].supplier;
    return !supplier || orders_[*supplier] != Order::none;
  }

  /// Suppliers of each need that only an order can serve; not of those that an order may not be able to
  /// serve.
  std::vector<std::vector<std::size_t>> needs_of_suppliers() const {
    std::vector<std::vector<std::size_t>> needs;
    for (const std::vector<std::size_t>& offers : fitting_) {
      std::set<std::size_t> suppliers;
      bool needless = true; // until it is seen to be served for sure, and from a supplier
      bool free = false;
      for (const std::size_t number : offers) {
        if (!allowed(number))
          continue;
        const Offer& offer = question_.offers[number];
        needless = needless && offer.available.has_value();
        if (offer.supplier)
          suppliers.insert(*offer.supplier);
        free = free || !offer.supplier || orders_[*offer.supplier] != Order::open;
      }
      if (!needless && !free)
        needs.emplace_back(suppliers.begin(), suppliers.end());
    }
    return needs;
  }

  /// Suppliers of a group's offers about whom this is decided.
  std::set<std::size_t> suppliers_of(std::size_t g, Order order) const {
    std::set<std::size_t> suppliers;
    for (const std::size_t offer : groups_[g].offers)
      if (const auto& supplier = question_.offers[offer].supplier; supplier && orders_[*supplier] == order)
        suppliers.insert(*supplier);
    return suppliers;
  }

  /// Groups that must be solved together: those that share a supplier whose goods must reach an amount.
  std::vector<std::vector<std::size_t>> clusters() const {
    std::vector<std::vector<std::size_t>> clusters;
    std::vector<std::set<std::size_t>> reaching;
    for (std::size_t g = 0; g < groups_.size(); ++g) {
      std::set<std::size_t> mine = suppliers_of(g, Order::reached);
      std::vector<std::size_t> together{g};
      for (std::size_t c = clusters.size(); c-- > 0;) {
        if (std::ranges::none_of(reaching[c], [&](std::size_t supplier) { return mine.contains(supplier); }))
          continue;
        together.insert(together.end(), clusters[c].begin(), clusters[c].end());
        mine.insert(reaching[c].begin(), reaching[c].end());
        clusters.erase(clusters.begin() + static_cast<std::ptrdiff_t>(c));
        reaching.erase(reaching.begin() + static_cast<std::ptrdiff_t>(c));
      }
      std::ranges::sort(together);
      clusters.push_back(std::move(together));
      reaching.push_back(std::move(mine));
    }
    // Those of one group first: they are quicker, and say what is left for the others.
    std::ranges::stable_sort(clusters, {}, [](const auto& cluster) { return cluster.size(); });
    return clusters;
  }

  Job job_of(const std::vector<std::size_t>& groups) const {
    Job job{question_, {}, std::vector<bool>(question_.offers.size(), false), {}, {}};
    for (const std::size_t g : groups) {
      job.needs.insert(job.needs.end(), groups_[g].needs.begin(), groups_[g].needs.end());
      for (const std::size_t offer : groups_[g].offers)
        job.allowed[offer] = allowed(offer);
    }
    std::ranges::sort(job.needs);
    return job;
  }

  /// Solves a group whatever its goods may have to reach.
  const Solved& solved_alone(std::size_t g) {
    Job job = job_of({g});
    auto key = std::pair{g, job.allowed};
    const auto known = solved_.find(key);
    if (known != solved_.end())
      return known->second;
    return solved_.emplace(std::move(key), solve(job, std::nullopt, until_)).first->second;
  }

  /// Solves groups whose goods must reach amounts, where all else costs `others` at least. It is worth its
  /// time only where it betters the best choice so far.
  Solved solved_together(const std::vector<std::size_t>& cluster, const Worth& others) {
    Job job = job_of(cluster);
    for (std::size_t s = 0; s < orders_.size(); ++s)
      if (orders_[s] == Order::reached && ordered_by(cluster, s))
        job.at_least.push_back({s, *question_.postage[s].free_from_minor});
    for (const std::size_t g : cluster) {
      if (question_.aim == Aim::offcuts) // fewer offcuts than must be are dearer
        break;
      Floor floor{std::vector<bool>(question_.offers.size(), false), solved_alone(g).least.money_minor};
      for (const std::size_t offer : groups_[g].offers)
        floor.offers[offer] = true;
      job.floors.push_back(std::move(floor));
    }
    const Worth& best = best_.worth;
    constexpr std::int64_t any_money = std::numeric_limits<std::int64_t>::max() / 4;
    const bool fewer_suppliers = question_.aim == Aim::suppliers && others.aim < best.aim;
    return solve(job,
                 Worth{best.unserved - others.unserved, best.aim - others.aim,
                       fewer_suppliers ? any_money : best.money_minor - others.money_minor},
                 until_);
  }

  bool ordered_by(const std::vector<std::size_t>& cluster, std::size_t supplier) const {
    return std::ranges::any_of(cluster, [&](std::size_t g) {
      return std::ranges::any_of(
          groups_[g].offers, [&](std::size_t offer) { return question_.offers[offer].supplier == supplier; });
    });
  }

  Look look() {
    Look look;
    for (std::size_t s = 0; s < orders_.size(); ++s)
      if (orders_[s] == Order::paid)
        look.least.money_minor += question_.postage[s].price_minor;
    if (question_.aim == Aim::suppliers) {
      const auto ordered = std::ranges::count_if(
          orders_, [](Order order) { return order == Order::paid || order == Order::reached; });
      look.least.aim = static_cast<std::int64_t>(ordered) +
                       static_cast<std::int64_t>(Cover(needs_of_suppliers()).least().size());
    }
    for (std::size_t g = 0; g < groups_.size(); ++g)
      look.least = look.least + solved_alone(g).least;
    Choice choice;
    for (const std::vector<std::size_t>& cluster : clusters()) {
      if (any_ && !look.least.main_less(best_.worth))
        return look; // nothing better this way
      const bool reaching = std::ranges::any_of(
          cluster, [&](std::size_t g) { return !suppliers_of(g, Order::reached).empty(); });
      Solved together;
      if (reaching) {
        for (const std::size_t g : cluster)
          look.least = look.least - solved_alone(g).least;
        together = solved_together(cluster, look.least);
        look.least = look.least + together.least;
      }
      const Solved& part = reaching ? together : solved_alone(cluster.front());
      look.proven = look.proven && part.proven;
      if (!part.choice) {
        look.possible = false;
        return look;
      }
      choice.portions.insert(choice.portions.end(), part.choice->portions.begin(),
                             part.choice->portions.end());
      choice.unserved.insert(choice.unserved.end(), part.choice->unserved.begin(),
                             part.choice->unserved.end());
    }
    if (look.possible)
      consider(std::move(choice), look);
    return look;
  }

  /// Keeps a choice if it is the best so far; finds the supplier that is still due.
  void consider(Choice choice, Look& look) {
    std::vector<std::int64_t> goods(question_.postage.size(), 0);
    std::vector<bool> used(question_.postage.size(), false);
    Worth worth = worth_of(question_, choice, &goods);
    for (const Portion& portion : choice.portions)
      if (const auto& supplier = question_.offers[portion.offer].supplier)
        used[*supplier] = true;
    std::int64_t dearest = -1;
    for (std::size_t s = 0; s < used.size(); ++s) {
      if (!used[s])
        continue;
      const std::int64_t postage = postage_of(question_.postage[s], goods[s]);
      worth.money_minor += postage;
      worth.aim += question_.aim == Aim::suppliers ? 1 : 0;
      const bool due = postage > 0 || question_.aim == Aim::suppliers;
      if (due && orders_[s] == Order::open && postage > dearest) {
        dearest = postage;
        look.due = s;
      }
    }
    if (!any_ || worth < best_.worth) {
      any_ = true;
      best_.choice = std::move(choice);
      best_.worth = worth;
    }
  }

  void leave(const Worth& least) {
    if (!unresolved_ || least.main_less(*unresolved_))
      unresolved_ = least;
  }

  void search(const Worth& least_of_parent) {
    if (any_ && Clock::now() >= until_) {
      leave(least_of_parent);
      return;
    }
    const Look seen = look();
    const Worth least = seen.least.main_less(least_of_parent) ? least_of_parent : seen.least;
    if (!seen.possible) {
      if (!seen.proven)
        leave(least);
      return;
    }
    if (!least.main_less(best_.worth))
      return;
    if (!seen.due) {
      if (!seen.proven)
        leave(least);
      return;
    }
    const std::size_t supplier = *seen.due;
    orders_[supplier] = Order::paid;
    search(least);
    if (question_.postage[supplier].price_minor > 0 && question_.postage[supplier].free_from_minor) {
      orders_[supplier] = Order::reached;
      search(least);
    }
    orders_[supplier] = Order::none;
    search(least);
    orders_[supplier] = Order::open;
  }

  const Question& question_;
  Clock::time_point until_;
  std::vector<Order> orders_;                     ///< by supplier
  std::vector<std::vector<std::size_t>> fitting_; ///< offers, by need
  std::vector<Group> groups_;
  std::map<std::pair<std::size_t, std::vector<bool>>, Solved> solved_; ///< by group and allowed offers

  bool any_ = false;
  Decided best_;
  std::optional<Worth> unresolved_;
};

} // namespace

std::int64_t postage_of(const Postage& postage, std::int64_t goods_minor) {
  return postage.free_from_minor && goods_minor >= *postage.free_from_minor ? 0 : postage.price_minor;
}

Decided decide(const Question& question, Clock::time_point until) {
  return Decision(question, until).run();
}

} // namespace bellmouth::buy
