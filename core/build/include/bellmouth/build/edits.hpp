// SPDX-License-Identifier: GPL-3.0-or-later
// The verbs a user has. Every edit is a pure function from a build to a build; what it is applied to must
// exist (an assertion), what it writes must be valid (see validate()). Indices count the rows of a run;
// fittings are rows.
#pragma once

#include <bellmouth/build/document.hpp>

#include <cstddef>

namespace bellmouth::build {

/// Where a piece is: option, run, row.
struct PieceRef {
  OptionId option;
  RunId run;
  std::size_t row = 0;
  friend bool operator==(const PieceRef&, const PieceRef&) = default;
};
/// The piece, or nullptr when there is none.
[[nodiscard]] const Piece* find(const Build& build, const PieceRef& ref);

/// Puts a piece before a row, or behind the last. It never comes between another piece and its fittings:
/// unless it is a fitting itself, it goes behind them.
[[nodiscard]] Build with_piece_inserted(const Build& build, const PieceRef& before, Piece piece);
/// Takes the piece out, and with it the fittings that sit on it.
[[nodiscard]] Build with_piece_removed(const Build& build, const PieceRef& ref);
[[nodiscard]] Build with_piece_replaced(const Build& build, const PieceRef& ref, Piece piece);
/// Moves a piece, with the fittings on it, before row `to` of the same run (rows counted before the move),
/// as with_piece_inserted() would put it. A fitting that is moved may change its host.
[[nodiscard]] Build with_piece_moved(const Build& build, const PieceRef& ref, std::size_t to);
/// Puts a copy, with copies of the fittings on it, behind the piece and its fittings.
[[nodiscard]] Build with_piece_duplicated(const Build& build, const PieceRef& ref);
/// How many rows a piece takes with the fittings that sit on it.
[[nodiscard]] std::size_t rows_with_fittings(const Run& run, std::size_t row);

/// Cuts a tube in two at a distance from its inlet end, above zero and below its length (an assertion; so is
/// that it is a tube). The halves are to be welded: neither has a bead at the cut. Fittings stay where they
/// are, on the half that has their place.
[[nodiscard]] Build with_tube_split(const Build& build, const PieceRef& ref, double at_m);
/// Whether turning a piece round makes a difference: its ends differ in diameter, leg, bead or engagement.
/// Never for fittings.
[[nodiscard]] bool ends_differ(const Shape& shape);
/// The same piece the other way round: what was its inlet end is its outlet. Its clocking stays.
[[nodiscard]] Shape turned_round(const Shape& shape);
/// Turns a piece round in its run. The fittings on it keep their place on the metal: they are as far from
/// the outlet end as they were from the inlet.
[[nodiscard]] Build with_piece_turned_round(const Build& build, const PieceRef& ref);

/// Gives the piece another bore (keeping its wall) at both ends; fittings stay as they are. A piece that
/// changes loses its stock item: it is not that size any more.
[[nodiscard]] Piece with_bore(const Piece& piece, double bore_m);
/// Gives every piece of a run that has one constant diameter another outside diameter and wall; hoses follow
/// with a bore of that outside diameter. Cones, adapters, reducers and elbows with two bores keep the ends
/// that met a port: the inlet of the run's first piece, the outlet of its last. What changes loses its stock
/// item.
[[nodiscard]] Build with_run_bore(const Build& build, const OptionId& option, const RunId& run,
                                  double outer_diameter_m, double wall_m);

[[nodiscard]] Build with_machine(const Build& build, const MachineId& id, MachineKind kind);
[[nodiscard]] Build with_demand(const Build& build, Demand demand);
[[nodiscard]] Build with_ambient(const Build& build, Ambient ambient);
/// Puts air round the ducting, or takes it away: then the ducting picks up no heat.
[[nodiscard]] Build with_bay(const Build& build, std::optional<BayAir> bay);
/// Lags a piece, or strips it. Fittings have no lagging (an assertion).
[[nodiscard]] Build with_lagging(const Build& build, const PieceRef& ref, std::optional<Lagging> lagging);
/// Lags every piece of a run but the fittings, or strips them all.
[[nodiscard]] Build with_lagging_on_run(const Build& build, const OptionId& option, const RunId& run,
                                        std::optional<Lagging> lagging);
/// Puts measured coefficients in place of all that were measured before.
[[nodiscard]] Build with_measured(const Build& build, std::vector<Measured> measured);
/// Forgets all that was measured: the build's own figures hold again.
[[nodiscard]] Build without_measured(const Build& build);
/// \name The bay
///@{
/// Puts a port in the place of the one with its id.
[[nodiscard]] Build with_port(const Build& build, Port port);
/// Puts a keep-out before the one with this number, or behind the last.
[[nodiscard]] Build with_keep_out_inserted(const Build& build, std::size_t before, KeepOut keep_out);
[[nodiscard]] Build with_keep_out_removed(const Build& build, std::size_t index);
[[nodiscard]] Build with_keep_out_replaced(const Build& build, std::size_t index, KeepOut keep_out);
/// Puts other states in the place of all; keep-outs forget the states that are gone, and one that was there
/// in such states only is there always.
[[nodiscard]] Build with_states(const Build& build, std::vector<BayState> states);
/// Gives a state another name, in keep-outs too. There must be the one (an assertion).
[[nodiscard]] Build with_state_renamed(const Build& build, const StateId& from, StateId to);
[[nodiscard]] Build with_clearances(const Build& build, std::optional<ClearanceLimits> clearances);
[[nodiscard]] Build with_movement(const Build& build, std::optional<EngineMovement> movement);
[[nodiscard]] Build with_photographs(const Build& build, std::vector<Photograph> photographs);
/// Says how much a flexible piece gives (an assertion that it is one); none: what is usual for its kind.
[[nodiscard]] Build with_give(const Build& build, const PieceRef& ref, std::optional<Give> give);
/// The image in the plane y = `plane_y_m`, for the left- and the right-hand version of a thing. A scan's axes
/// become left-handed.
[[nodiscard]] Pose mirrored(const Pose& pose, double plane_y_m);
[[nodiscard]] KeepOut mirrored(const KeepOut& keep_out, double plane_y_m);
/// The whole bay and all runs mirrored: ports, keep-outs, movement, and each clocking turned the other way.
/// The photographs, which cannot be, are taken out.
[[nodiscard]] Build with_bay_mirrored(const Build& build, double plane_y_m);
///@}
[[nodiscard]] Build with_title(const Build& build, std::string title);
[[nodiscard]] Build with_budget(const Build& build, Budget budget);
/// Sets how much is owned of a stock item; none takes the entry out.
[[nodiscard]] Build with_owned(const Build& build, const StockId& stock, double quantity);
/// The same with what was paid for it.
[[nodiscard]] Build with_owned(const Build& build, Owned owned);
[[nodiscard]] Build with_offcuts(const Build& build, std::vector<Offcut> offcuts);
/// Puts another stock in place of all. Pieces, owned things and offcuts forget the items that are gone.
[[nodiscard]] Build with_stock(const Build& build, std::vector<StockItem> stock);
/// Waives a rule at a piece, or with nothing for a reason takes the waiver back.
[[nodiscard]] Build with_waiver(const Build& build, const PieceRef& ref, const std::string& rule,
                                std::string reason);
/// The same for a machine, or for what points at neither.
[[nodiscard]] Build with_waiver(const Build& build, const std::optional<MachineId>& machine,
                                const std::string& rule, std::string reason);
/// Changes a threshold, in the unit that its key ends in; with nothing it is the trade's again.
[[nodiscard]] Build with_threshold(const Build& build, const std::string& key, std::optional<double> value);
/// A copy of an option under a new id, behind the option it was copied from.
[[nodiscard]] Build with_option_copied(const Build& build, const OptionId& from, OptionId to);
/// Takes an option out; there must be another.
[[nodiscard]] Build with_option_removed(const Build& build, const OptionId& id);
[[nodiscard]] Build with_option_renamed(const Build& build, const OptionId& id, OptionId to);

/// The first thing that is wrong with a build as a whole (sizes out of range, a name that leads nowhere, a
/// boss without a host), by JSON path; nullopt when all is well. Reading calls it, and so may whoever edits.
[[nodiscard]] std::optional<Error> validate(const Build& build);
/// The same for a single piece; `path` is the path to speak of.
[[nodiscard]] std::optional<Error> validate(const Piece& piece, const std::string& path);

} // namespace bellmouth::build
