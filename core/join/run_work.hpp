// SPDX-License-Identifier: GPL-3.0-or-later
// A run while its joints are put right.
#pragma once

#include "between.hpp"
#include "shop.hpp"

#include <bellmouth/joint.hpp>

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace bellmouth::join {

/// All ends, or those at pieces that were put in.
enum class Ends { all, at_new_pieces };

/// The run with what has been done to it so far. Rows are named as the user knows them: by their number
/// before anything was done.
class RunWork {
public:
  RunWork(Shop& shop, build::Run run, Duty duty);

  [[nodiscard]] const build::Run& run() const { return run_; }
  [[nodiscard]] const joint::RunFit& fit() const { return fit_; }
  [[nodiscard]] const build::Shape& shape(std::size_t row) const { return run_.pieces[row].shape; }

  /// All of the work but beads under pressure, until there is no more to do.
  void do_all();
  /// \name The parts of the work; those that return something say whether there was anything to do
  ///@{
  /// Puts pieces into joints that are wrong, between rigid ends that are both beaded, and between a port and
  /// a rigid end.
  bool put_in_what_is_missing();
  /// The same for a single joint.
  bool put_in(std::size_t joint);
  /// Puts a hose into a weld between two pieces.
  bool part_weld(std::size_t joint);
  /// Replaces hoses that are too large or too small for their spigots.
  bool replace_misfits();
  bool replace_misfit(std::size_t row);
  /// Sets engagements, gaps and lengths of hoses.
  bool set_engagements(Ends ends = Ends::all);
  /// With another engagement wanted than the trade's.
  bool set_engagement(std::size_t row, std::optional<double> wanted_m = std::nullopt);
  /// Takes beads off ends that are welded.
  void take_beads_off_welds();
  bool take_bead_off_weld(std::size_t joint);
  /// Rolls beads where a hose is under pressure: `gauge_Pa` of each joint.
  void roll_beads(const std::vector<double>& gauge_Pa, Ends ends = Ends::all);
  bool roll_bead(std::size_t joint);
  ///@}

  /// \name For mends
  ///@{
  /// Puts another piece in the place of a row, and says so.
  void replace(std::size_t row, build::Piece piece, std::string step);
  void insert_before(std::size_t row, std::vector<build::Piece> pieces);
  void remove(std::size_t row);
  void say(std::size_t row, std::string step);
  ///@}

  /// "row 3 (tube)", "the new silicone hose 63", "port blower out".
  [[nodiscard]] std::string name(std::size_t row) const;
  /// "row 3 (tube) and port cooler in".
  [[nodiscard]] std::string names(const joint::Joint& joint) const;

  /// What was done, in order of flow, with the change of the run's length last.
  [[nodiscard]] std::vector<std::string> steps() const;
  /// What is still wrong with the joints, each with the reason; `gauge_Pa` of each joint.
  [[nodiscard]] std::vector<std::string> open(const std::vector<double>& gauge_Pa) const;

  /// Straight length of a rigid end that a hose can use [m]: less what bosses, flanges and a hose on the
  /// other end need.
  [[nodiscard]] double room_m(std::size_t joint, const joint::End& end) const;
  [[nodiscard]] bool is_misfit(const joint::Joint& joint) const;
  [[nodiscard]] Side side_of(std::size_t joint, const joint::End& end) const;
  [[nodiscard]] Wish wish() const;

private:
  /// Which joints are before and behind a row.
  [[nodiscard]] std::pair<std::size_t, std::size_t> joints_of(std::size_t row) const;
  [[nodiscard]] bool wants_pieces(const joint::Joint& joint) const;
  bool change_hose(std::size_t row, const Side& before, const Side& behind);
  bool change_elbow(std::size_t row, const Side& before, const Side& behind);
  [[nodiscard]] std::string why_wrong(std::size_t joint) const;
  [[nodiscard]] std::string why_short(std::size_t joint) const;
  [[nodiscard]] double length_m() const;
  void refresh();

  Shop& shop_;
  build::Run run_;
  Duty duty_;
  joint::RunFit fit_;
  /// Of each row: a number of its own, and which row it was.
  struct Origin {
    std::size_t number;
    std::optional<std::size_t> row;
  };
  std::vector<Origin> origins_;
  std::size_t numbers_ = 0;
  struct Said {
    std::size_t number; ///< of the row
    std::string step;
    bool of_engagement = false;
  };
  std::vector<Said> said_;
  std::map<std::size_t, build::Piece> before_engagements_; ///< by number of the row
  double length_before_m_ = 0;
};

} // namespace bellmouth::join
