// SPDX-License-Identifier: GPL-3.0-or-later
// What of the stock can stand between two ends, and what it costs.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/flow.hpp>
#include <bellmouth/trade.hpp>

#include <cstdint>
#include <map>
#include <string>
#include <vector>

namespace bellmouth::join {

/// What a hose has to stand in a run, as far as the operating point tells.
struct Duty {
  double hottest_K = 0;
  double gauge_Pa = 0;      ///< greatest static pressure above ambient
  double depression_Pa = 0; ///< greatest static pressure below ambient
};
[[nodiscard]] Duty duty_of(const build::Build& build, const flow::RunFlow& run);
/// Whether a hose made of an item is made for that heat, with the margin wanted, and for that pressure: the
/// item's ratings, or what is usual where it says none. Of pressure that asks for beads that is known only of
/// hoses with `stiff_plies` and more.
[[nodiscard]] bool stands(const trade::Limits& limits, const build::StockItem& item, const build::Piece& hose,
                          const Duty& duty);

/// An item as a piece, one way round.
struct Part {
  const build::StockItem* item;
  build::Piece piece;
};

/// The build's stock with what is owned and not used yet.
class Shop {
public:
  /// Counts as used what the pieces of the option are made of. The build must outlive it.
  Shop(const build::Build& build, const build::Option& option, const trade::Limits& limits);

  [[nodiscard]] const build::Build& build() const { return build_; }
  [[nodiscard]] const trade::Limits& limits() const { return limits_; }
  /// \name Parts, those with different ends both ways round
  ///@{
  [[nodiscard]] const std::vector<Part>& hoses() const { return hoses_; } ///< straight, hump, reducers
  [[nodiscard]] const std::vector<Part>& elbows() const { return elbows_; }
  [[nodiscard]] const std::vector<Part>& tubes() const { return tubes_; }
  [[nodiscard]] const std::vector<Part>& tapers() const { return tapers_; } ///< cones and adapters
  ///@}

  /// The longest piece that can be cut from an item [m]; endless where it is sold by the metre.
  [[nodiscard]] static double longest_m(const build::StockItem& item);
  /// Money for a piece in minor units: nothing for what is owned and left over.
  [[nodiscard]] std::int64_t price_minor(const build::StockItem& item, const build::Piece& piece) const;
  /// Money for the clamp of a joint; nothing where none fits.
  [[nodiscard]] std::int64_t clamp_minor(double installed_diameter_m) const;
  /// Counts a piece as used.
  void use(const build::Piece& piece);

  /// Whether a hose bore goes on a spigot: equal, or smaller by no more than tight_caution, or larger by no
  /// more than loose_caution.
  [[nodiscard]] bool fits(double bore_m, double outer_diameter_m) const;
  /// Whether it is larger than the spigot by more than a rounding, and so not as the trade wants it.
  [[nodiscard]] static bool is_slack(double bore_m, double outer_diameter_m);

private:
  const build::Build& build_;
  const trade::Limits& limits_;
  std::vector<Part> hoses_, elbows_, tubes_, tapers_;
  std::map<std::string, double> owned_left_; ///< pieces, or metres
  mutable std::map<std::int64_t, std::int64_t> clamps_;
};

} // namespace bellmouth::join
