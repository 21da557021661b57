// SPDX-License-Identifier: GPL-3.0-or-later
// Ways for a run of a build: the question that its ports, bay and stock make, and each way through as real
// pieces, evaluated.
//
// Bends and elbows of one tube size are joined to each other and to tube by straight hoses (couplers) with a
// clamp at each end, so that every joint gives; where the ports differ in size a hose reducer takes the place
// of a coupler. So the least straight is what the joints need: engagement on both sides and the gap between.
// A tube bend that is cut smaller has lost a leg: there the tube, or the next bend's leg, is welded on, and
// so it is where a straight is too short for a second coupler. A hose elbow takes the tube itself, or goes
// right onto a port of its size.
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/evaluate.hpp>
#include <bellmouth/stock.hpp>
#include <bellmouth/way.hpp>
#include <bellmouth/way/find.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace bellmouth::find {

/// What matters, as shares against the usual (1); 0: not at all.
struct Matters {
  double price = 1, drop = 1, joints = 1, length = 1;
  friend bool operator==(const Matters&, const Matters&) = default;
};

struct Ask {
  build::OptionId option;
  build::RunId run;
  std::size_t keep_first = 0, keep_last = 0; ///< rows at the run's start and end that stay as they are
  stock::TubeSize tube{};                    ///< that the way is made of
  bool cut_bends = true;                     ///< tube bends may be cut to smaller angles
  bool use_owned = true;                     ///< what the build owns costs nothing
  std::size_t most_bends = 5;
  std::vector<way::Waypoint> through; ///< in any order
  Matters matters;
};
/// What is asked unless the user says otherwise: the tube size of the run's pieces, or the stock's size
/// nearest to the start port's.
[[nodiscard]] Ask usual(const build::Build& build, const build::OptionId& option, const build::RunId& run);

/// The question as a problem, and what its parts are in the build.
struct Question {
  Ask ask;
  way::Problem problem;
  std::vector<build::StockId> bends; ///< of the problem's bends
  std::optional<build::StockId> coupler_in, coupler, coupler_out,
      reducer;                                       ///< at the start, between, at the end
  std::vector<std::optional<std::size_t>> keep_outs; ///< the build's keep-out of each of the problem's
  double engagement_m = 0, gap_m = 0;                ///< of its joints
};
/// An error where there is no question: a port without a place, no bend or no coupler of the size in stock,
/// rows that overlap, a tube size that the stock does not have.
[[nodiscard]] Result<Question> question(const build::Build& build, const Ask& ask);
/// The weights of the question's problem for other matters: what a re-ranking needs.
[[nodiscard]] way::Weights weights(const build::Build& build, const Ask& ask);

/// Whether a way that keeps the problem's rules can be made. What cannot: a hose elbow so near a port that
/// no tube goes between, and not near enough to go onto the port itself; a straight from port to port too
/// short for a hose at either end.
[[nodiscard]] bool can_be_made(const build::Build& build, const Question& question, const way::Way& way);
/// What was found without the ways that cannot be made, for proposal().
[[nodiscard]] way::Found made(const build::Build& build, const Question& question, way::Found found);

/// A way as real pieces, with what it comes to in the build.
struct Proposal {
  way::Answer answer;
  build::Run run;        ///< all of it, rows that stay included
  quantity::Money price; ///< of the run's pieces and clamps, what is owned left out if asked so
  double drop_Pa = 0;    ///< total pressure over the run at the working speed
  double loss = 0; ///< the same over rho V^2 / 2 of where the run starts, in the tube that it is made of
  int joints = 0;
  double length_m = 0, volume_m3 = 0;
  bay::Meeting end{};
  std::optional<bay::Gap> closest;      ///< of all states of the bay
  std::vector<check::Finding> findings; ///< of the run that the present run does not have
  std::string differs; ///< in what it is best, or another way: "cheapest", "over Rocker cover"
};
/// Evaluates the build with the answer's pieces in the run's place. The fittings of the rows that go are put
/// onto the new ones where there is room. Answers come from way::find on the question's problem, and can be
/// made (an assertion).
[[nodiscard]] Proposal proposal(const build::Build& build, const Question& question,
                                const way::Answer& answer);
/// What a proposal costs by its own figures, weighed as the question's problem has it; less is better. The
/// search's cost takes every joint for a hose with its clamps, where a weld costs neither.
[[nodiscard]] double cost(const Question& question, const Proposal& proposal);
/// Puts proposals in the order of their cost.
void put_in_order(const Question& question, std::vector<Proposal>& proposals);
/// Says of each proposal in what it differs from the others.
void tell_apart(const build::Build& build, const Question& question, std::vector<Proposal>& proposals);

/// The build with a new option: the asked option with the proposal in its run's place. The name must be free
/// (an assertion).
[[nodiscard]] build::Build with_proposal(const build::Build& build, const Question& question,
                                         const Proposal& proposal, const build::OptionId& name);

/// Why there is no way, and what would give one: tried, so `answer` is a way under it.
struct Reason {
  std::string text; ///< "The way is 4.2 mm too narrow at Radiator. With a clearance of 5.8 mm there is one."
  std::optional<Ask> ask; ///< the relaxed question, where it is one that can be asked
  std::optional<way::Answer> answer;
};
/// What is known of the geometry first, then what was tried, least relaxation first. Takes at most about
/// `seconds`.
[[nodiscard]] std::vector<Reason> reasons(const build::Build& build, const Question& question,
                                          const way::Found& found, double seconds = 2);
/// The same with that effort for each relaxation that is tried.
[[nodiscard]] std::vector<Reason> reasons(const build::Build& build, const Question& question,
                                          const way::Found& found, const way::Effort& each);

} // namespace bellmouth::find
