// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces, machines and places in words, as the views write them.
#pragma once

#include <bellmouth/evaluate.hpp>

#include <QString>

namespace bellmouth::ui {

/// The name of a run as people read it: the words of its id.
[[nodiscard]] QString run_name(const build::RunId& run);
[[nodiscard]] QString option_name(const build::OptionId& option);
/// The name of what stands at a step of the path, with that of its branch where it stands beside others:
/// "left: cooler".
[[nodiscard]] QString with_branch(const build::Build& build, std::size_t step, const QString& name);
/// Label of the piece, or the word for its kind.
[[nodiscard]] QString piece_title(const build::Piece& piece);
/// Bore and length without units, angle: "⌀60.2 × 310", "⌀60.2 × 90°".
[[nodiscard]] QString short_size(const build::Shape& shape);
/// The sizes with units: "bore 60.2 mm, length 310 mm".
[[nodiscard]] QString long_size(const build::Shape& shape);
/// The figures of a row of a run for a tool tip, one to a line.
[[nodiscard]] QString piece_tip(const build::Piece& piece, const RunResult& result, std::size_t row);
/// What the machine does to the air, shortest: "ratio 1.52". Empty when the flow is not usable.
[[nodiscard]] QString machine_figure(const build::MachineKind& kind, const flow::MachineFlow& flow);
[[nodiscard]] QString machine_tip(const build::Machine& machine, const flow::MachineFlow* flow);
/// The result of a run, or nullptr.
[[nodiscard]] const RunResult* find_run(const Evaluation& evaluation, const build::RunId& run);
/// The flow of the machine at a step of the path, or nullptr.
[[nodiscard]] const flow::MachineFlow* find_machine(const build::Build& build, const Evaluation& evaluation,
                                                    std::size_t step);

} // namespace bellmouth::ui
