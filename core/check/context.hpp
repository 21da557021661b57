// SPDX-License-Identifier: GPL-3.0-or-later
// The facts as the rules want them, and the place where they put what they find.
#pragma once

#include "rule_list.hpp"

#include <bellmouth/check.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace bellmouth::check {

/// A machine on the path. `flow` is null when the operating point is not usable.
struct MachineView {
  std::size_t step;
  const build::Machine* machine;
  const flow::MachineFlow* flow;
};

/// A run on the path. `flow` is null when the operating point is not usable.
struct RunView {
  std::size_t step;
  const build::Run* run;
  const joint::RunFit* fit;
  const flow::RunFlow* flow;
  const std::optional<bay::Meeting>* meeting;
  const build::Port* from;
  const build::Port* to;
  bool behind_blower;

  [[nodiscard]] const build::Shape& shape(std::size_t row) const { return run->pieces[row].shape; }
  [[nodiscard]] std::size_t rows() const { return run->pieces.size(); }
};

/// What the rules work on. Rules read the public values and add findings.
class Context {
public:
  Context(const Facts& facts, const Limits& limits);

  const Facts& facts;
  const Limits& limits;
  build::AmbientAir ambient;
  double ambient_Pa;
  std::vector<RunView> runs;
  std::vector<MachineView> machines;

  /// The first machine of a kind on the path, or nullptr.
  template <class Kind> [[nodiscard]] const MachineView* first() const {
    for (const auto& view : machines)
      if (std::holds_alternative<Kind>(view.machine->kind))
        return &view;
    return nullptr;
  }
  /// Displacement blower or compressor, whichever comes first; nullptr without.
  [[nodiscard]] const MachineView* blower() const { return blower_ ? &machines[*blower_] : nullptr; }
  /// The run at a step of the path, or nullptr when the step is a machine or off the path.
  [[nodiscard]] const RunView* run_at(std::size_t step) const;
  [[nodiscard]] const machine::Engine* engine() const {
    return std::get_if<machine::Engine>(&facts.build.demand);
  }

  /// Total pressure [Pa] lost before the first blower, or before the manifold; the stream must be usable.
  [[nodiscard]] double lost_before_blower_Pa() const;
  /// Static gauge pressure [Pa] in a hose joint; 0 without a usable stream.
  [[nodiscard]] double gauge_Pa(const RunView& run, const joint::Joint& joint) const;
  /// What a piece is bought as; nullptr when nothing is chosen.
  [[nodiscard]] const build::StockItem* item(const build::Piece& piece) const {
    return piece.stock.text.empty() ? nullptr : facts.build.find(piece.stock);
  }

  /// \name Findings, by where they point
  ///@{
  void add_at_row(Id id, Severity severity, const RunView& run, std::size_t row, std::string message,
                  std::string reason);
  void add_at_joint(Id id, Severity severity, const RunView& run, const joint::Joint& joint,
                    std::string message, std::string reason);
  void add_at_run(Id id, Severity severity, const RunView& run, std::string message, std::string reason);
  void add_at_machine(Id id, Severity severity, const MachineView& machine, std::string message,
                      std::string reason);
  /// `place` in words, for what has no place on the path.
  void add_at_whole(Id id, Severity severity, std::string place, std::string message, std::string reason);
  ///@}

  /// Gives what was found the user's reasons for living with it, and finds the waivers that waive nothing.
  void waive();
  /// All that was found, in order.
  [[nodiscard]] std::vector<Finding> take();

private:
  struct Placed {
    Finding finding;
    std::size_t step, row;
  };
  void add(Id id, Severity severity, Where where, std::size_t step, std::size_t row, std::string message,
           std::string reason);
  [[nodiscard]] std::string waives_nothing(const build::Waiver& waiver, bool elsewhere) const;
  [[nodiscard]] build::PieceRef piece(const RunView& run, std::size_t row) const;
  /// Whether the air of a step has been through a blower on an earlier step.
  [[nodiscard]] bool behind_blower(std::size_t step) const;

  std::optional<std::size_t> blower_;
  std::vector<Placed> found_;
};

/// \name The rules by theme. Each adds what it finds.
///@{
void check_joints(Context& context);
void check_clamps(Context& context);
void check_hoses(Context& context);
void check_thrust(Context& context);
void check_making(Context& context);
void check_stream(Context& context);
void check_machines(Context& context);
void check_shapes(Context& context);
void check_heat(Context& context);
void check_placing(Context& context);
void check_layout(Context& context);
void check_trust(Context& context);
void check_clearance(Context& context);
void check_movement(Context& context);
///@}

/// Whether figures say what the flexible pieces of a run have to take.
[[nodiscard]] bool movement_is_known(const Context& context, const RunView& run);

} // namespace bellmouth::check
