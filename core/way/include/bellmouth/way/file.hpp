// SPDX-License-Identifier: GPL-3.0-or-later
// Problems and answers as JSON files: lengths in millimetres, angles in degrees, prices as they come.
//
// A problem ("route-problem/1") may have some keys more than others write, all of them optional:
//  - start.straight, end.straight: instead of rules.min_straight_at_ports there; straight_to_silicone (0) and
//    takes_silicone (false) beside them, as End has them;
//  - owned of a bend: so many cost nothing;
//  - name, closed (true), not_from_start and not_to_end (0) of a keep-out, and the type "pipe" with a, b,
//    radius_a and radius_b: a ball pulled from a to b; a mesh that is not closed has no inside;
//  - waypoints: solids with a name that the way must pass through: type and keys as of a keep-out, but no
//    mesh or pipe.
#pragma once

#include <bellmouth/way.hpp>
#include <bellmouth/way/find.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::way {

/// Whether a text says that it is a problem: its "format" begins with "route-problem/".
[[nodiscard]] bool is_problem(std::string_view text);

/// Strict: every key known, none missing, directions of unit length and at right angles within 1e-6 (and made
/// so), a mesh with an inside closed. Errors have the line, the column and the path. `file` is the name to
/// speak of. The triangles of a closed mesh are turned so that they go left round seen from outside.
[[nodiscard]] Result<Problem> read_problem(std::string_view text, const std::string& file);
/// What read_problem reads as the same problem, to 15 digits.
[[nodiscard]] std::string write_problem(const Problem& problem);

/// One answer ("route-answer/1") or several ("route-answers/1"). Errors: anything that is no way of this
/// problem's pieces (a bend that is not in stock, a diameter that the way does not have there); whether a way
/// keeps the rules is for judge(). A cut bend that does not say which leg it lost has lost the one behind it.
[[nodiscard]] Result<std::vector<Way>> read_answers(const Problem& problem, std::string_view text,
                                                    const std::string& file);
/// "route-answers/1". Each answer is a whole "route-answer/1" with what it comes to: cost, price, loss,
/// joints, length; end_error_mm, end_error_deg; tightest: keep-outs by number from 0 with margin (distance
/// beyond the clearance), along (from the start), at (a point of the centreline) and the name if there is
/// one; self_margin where the way turns back.
[[nodiscard]] std::string write_answers(const Problem& problem, const std::vector<Answer>& answers);

} // namespace bellmouth::way
