// SPDX-License-Identifier: GPL-3.0-or-later
// What a mend works on: the finding, the runs of the option, the stock.
#pragma once

#include "gauge.hpp"
#include "run_work.hpp"
#include "shop.hpp"

#include <bellmouth/join.hpp>

#include <functional>
#include <list>
#include <optional>
#include <string>
#include <vector>

namespace bellmouth::join {

/// The finding to be mended, and what is done about it.
class Mending {
public:
  Mending(const build::Build& build, const Evaluation& evaluation, const check::Finding& finding,
          const trade::Limits& limits);

  const build::Build& build;
  const Evaluation& evaluation;
  const check::Finding& finding;
  const trade::Limits& limits;
  const build::Option& option;
  Shop shop;

  /// The run that the finding points at; nullptr: at none.
  [[nodiscard]] RunWork* run();
  /// A run of the option, which must have it (an assertion).
  [[nodiscard]] RunWork& run(const build::RunId& id);
  [[nodiscard]] const RunResult& result(const build::RunId& id) const;
  /// The row that the finding points at.
  [[nodiscard]] std::optional<std::size_t> row() const;
  /// The joints that the finding can be of: those of its row, or the only one of a run without pieces.
  [[nodiscard]] std::vector<std::size_t> joints();
  /// Pressure above ambient in each joint of a run as it was evaluated [Pa].
  [[nodiscard]] std::vector<double> gauges_Pa(const build::RunId& id) const;

  std::optional<build::Build> changed; ///< where something else than runs is changed
  std::vector<std::string> steps, open;

  [[nodiscard]] bool has_new_pieces() const;
  void roll_beads_at_new_pieces(const std::vector<IdFlow>& flows);
  /// All that was done.
  [[nodiscard]] Proposal proposal(std::string title) const;

private:
  std::list<RunWork> works_;
};

/// Which stock item may take the place of a piece, as that piece would be then.
using Serves = std::function<bool(const build::StockItem& item, const build::Piece& piece)>;

/// Makes a hose of another item of its kind, which goes on the same spigots; the nearest in size and among
/// those the cheapest. Its length stays where it can.
bool make_hose_of_other(Mending& mending, RunWork& work, std::size_t row, const Serves& serves);

/// \name The mends. Each says whether it did anything.
///@{
bool mend_wrong_joint(Mending& mending);
bool mend_rigid_run(Mending& mending);
bool mend_rigid_at_blower(Mending& mending);
bool mend_bead_at_weld(Mending& mending);
bool mend_hose_size(Mending& mending);
bool mend_engagement(Mending& mending);
bool mend_short_end(Mending& mending);
bool mend_plain_end(Mending& mending);
bool mend_hold(Mending& mending);
bool mend_band_room(Mending& mending);
bool mend_warm_gap(Mending& mending);

bool mend_movement(Mending& mending);
bool mend_soft_hose(Mending& mending);
bool mend_hose_rating(Mending& mending);
bool mend_assumed_rating(Mending& mending);
bool mend_oil_mist(Mending& mending);
bool mend_near_miss(Mending& mending);

bool mend_fitting(Mending& mending);
bool mend_sensor_near_cooler(Mending& mending);
bool mend_no_charge_sensor(Mending& mending);
bool mend_cone(Mending& mending);
bool mend_mitre(Mending& mending);
bool mend_wedge(Mending& mending);
bool mend_plastic(Mending& mending);
bool mend_stock_choice(Mending& mending);
bool mend_not_chosen(Mending& mending);
bool mend_idle_waiver(Mending& mending);
///@}

} // namespace bellmouth::join
