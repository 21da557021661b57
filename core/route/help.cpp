// SPDX-License-Identifier: GPL-3.0-or-later
// What would help a run that cannot meet its port: each thing is tried before it is said.
#include "attempt.hpp"
#include "sizes.hpp"

#include <bellmouth/stock.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bellmouth::route {
namespace {

constexpr double degree_rad = std::numbers::pi / 180;
/// Angles that bends are commonly bought in (common practice, no source found).
constexpr double nominal_deg[] = {15, 30, 45, 60, 75, 90, 120, 135, 180};
constexpr double same_angle_rad = 0.5 * degree_rad;
/// How far a limit may be asked to give way.
constexpr double most_longer_m = 0.5, most_wider_rad = 90 * degree_rad;
constexpr Trouble trouble{{8, 0}, 1, 8};
/// Of each sort of help.
constexpr std::size_t most_of_a_sort = 4;

class Helper {
public:
  explicit Helper(const Task& task) : task_(task) {}

  std::vector<Help> find(const std::vector<Binding>& binding) {
    std::vector<Help> all = freed();
    for (auto more : {wider(binding), other_bends()})
      std::ranges::move(more, std::back_inserter(all));
    return all;
  }

private:
  const Task& task_;

  /// Tries a run with other freedoms; the words for it are made from what was found.
  template <class Words>
  std::optional<Help> tried(const build::Run& run, std::vector<Freedom> freedoms, Words words) const {
    const Attempt found =
        attempt({task_.build, task_.option, run, std::move(freedoms), task_.wanted}, trouble);
    if (found.stop != Stop::met)
      return std::nullopt;
    Help help;
    help.text = words(found.run);
    help.after = *found.meeting;
    help.build = with_run(task_.build, task_.option, found.run);
    return help;
  }

  /// Sizes that were held and may move unless the user says otherwise.
  std::vector<Help> freed() const {
    std::vector<Help> all;
    for (const Freedom& held : freedoms(task_.build, task_.option, task_.run.id)) {
      if (all.size() == most_of_a_sort)
        break;
      const auto same = [&](const Freedom& each) { return each.row == held.row && each.what == held.what; };
      if (std::ranges::any_of(task_.freedoms, same))
        continue;
      auto help = tried(task_.run, with(held), [&](const build::Run& run) {
        return fmt::format("{}: let its {} move, to {}", row_words(run, held.row), name(held.what),
                           written(held.what, *value(run.pieces[held.row].shape, held.what)));
      });
      if (!help)
        continue;
      help->freedom = held;
      help->row = held.row;
      all.push_back(*std::move(help));
    }
    return all;
  }

  /// Limits that give way, by as little as helps, in whole millimetres or degrees.
  std::vector<Help> wider(const std::vector<Binding>& binding) const {
    std::vector<Help> all;
    for (const Binding& each : binding)
      if (auto help = all.size() < most_of_a_sort ? widened(each) : std::nullopt)
        all.push_back(*std::move(help));
    return all;
  }

  std::optional<Help> widened(const Binding& binding) const {
    const Freedom& old = binding.freedom;
    const double unit = is_angle(old.what) ? degree_rad : 1e-3;
    const Range range = possible(task_.run, old.row, old.what);
    const double room = binding.at_high ? range.high - old.high : old.low - range.low;
    const int most = static_cast<int>(
        std::floor(std::min(room, is_angle(old.what) ? most_wider_rad : most_longer_m) / unit));
    const auto with_units = [&](int units) {
      Freedom wide = old;
      (binding.at_high ? wide.high : wide.low) += (binding.at_high ? units : -units) * unit;
      auto help = tried(task_.run, with(wide), [&](const build::Run& run) {
        return fmt::format("{}: {} {} {} than its limit of {}", row_words(run, old.row),
                           written(old.what, units * unit), binding.at_high ? "more" : "less", name(old.what),
                           written(old.what, binding.at_high ? old.high : old.low));
      });
      if (help) {
        help->freedom = wide;
        help->row = old.row;
      }
      return help;
    };
    auto best = most > 0 ? with_units(most) : std::nullopt;
    if (!best)
      return std::nullopt;
    for (int fails = 0, holds = most; holds - fails > 1;) {
      const int middle = fails + (holds - fails) / 2;
      auto help = with_units(middle);
      (help ? holds : fails) = middle;
      if (help)
        best = std::move(help);
    }
    return best;
  }

  std::vector<Freedom> with(const Freedom& changed) const {
    std::vector<Freedom> all = task_.freedoms;
    const auto same = [&](const Freedom& each) {
      return each.row == changed.row && each.what == changed.what;
    };
    if (const auto at = std::ranges::find_if(all, same); at != all.end())
      *at = changed;
    else
      all.push_back(changed);
    std::ranges::sort(all, {}, [](const Freedom& each) { return std::pair(each.row, each.what); });
    return all;
  }

  /// Bends with another angle, as bought.
  std::vector<Help> other_bends() const {
    std::vector<Help> all;
    for (std::size_t row = 0; row < task_.run.pieces.size(); ++row)
      for (const build::Piece& piece : replacements(row))
        if (auto help = all.size() < most_of_a_sort ? replaced(row, piece) : std::nullopt)
          all.push_back(*std::move(help));
    return all;
  }

  std::vector<build::Piece> replacements(std::size_t row) const {
    const build::Piece& old = task_.run.pieces[row];
    std::vector<build::Piece> found;
    const auto present_rad = value(old.shape, What::angle);
    if (!present_rad || last_fitting_m(task_.run, row) > 0)
      return found;
    const auto covered = [&](double angle_rad) {
      return std::abs(angle_rad - *present_rad) <= same_angle_rad ||
             std::ranges::any_of(task_.freedoms, [&](const Freedom& each) {
               return each.row == row && each.what == What::angle && angle_rad >= each.low &&
                      angle_rad <= each.high;
             });
    };
    for (const build::StockItem& item : *task_.build.stock) {
      if (item.kind != stock::kind_of(old.shape) || !item.angle_rad || covered(*item.angle_rad))
        continue;
      build::Piece piece = old;
      piece.shape = with_value(old.shape, What::angle, *item.angle_rad);
      piece.stock = item.id;
      if (stock::serves(item, piece))
        found.push_back(std::move(piece));
    }
    if (!found.empty())
      return found;
    for (const double angle_deg : nominal_deg)
      if (const double angle_rad = angle_deg * degree_rad;
          !covered(angle_rad) && angle_rad <= possible(task_.run, row, What::angle).high) {
        found.push_back(old);
        found.back().shape = with_value(old.shape, What::angle, angle_rad);
        found.back().stock = {};
      }
    return found;
  }

  std::optional<Help> replaced(std::size_t row, const build::Piece& piece) const {
    build::Run run = task_.run;
    run.pieces[row] = piece;
    std::vector<Freedom> freedoms;
    for (const Freedom& each : task_.freedoms)
      if (each.row != row || each.what != What::angle)
        freedoms.push_back(each);
    auto help = tried(run, std::move(freedoms), [&](const build::Run&) {
      return fmt::format("{}: a {} bend instead of {}{}", row_words(task_.run, row),
                         written(What::angle, *value(piece.shape, What::angle)),
                         written(What::angle, *value(task_.run.pieces[row].shape, What::angle)),
                         piece.stock.text.empty() ? ", which the stock does not hold" : "");
    });
    if (help) {
      help->row = row;
      help->piece = piece;
    }
    return help;
  }
};

} // namespace

std::vector<Help> helps(const Task& task, const Attempt& failed) {
  return Helper(task).find(failed.binding);
}

} // namespace bellmouth::route
