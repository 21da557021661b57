// SPDX-License-Identifier: GPL-3.0-or-later
#include "overloaded.hpp"
#include "run_edit.hpp"

#include <bellmouth/build/edits.hpp>

#include <algorithm>
#include <cassert>
#include <utility>

namespace bellmouth::build {

namespace {

std::ptrdiff_t signed_row(std::size_t row) {
  return static_cast<std::ptrdiff_t>(row);
}

/// The first row at or behind `row` before which a piece of this kind can stand without coming between
/// another piece and the fittings on that.
std::size_t free_row(const std::vector<Piece>& pieces, std::size_t row, bool fitting) {
  while (!fitting && row < pieces.size() && is_fitting(pieces[row].shape))
    ++row;
  return row;
}

/// Gives the ends of a shape other diameters: `outer_diameter_m` and `wall_m` for rigid pieces, a bore of
/// `outer_diameter_m` for hoses. Pieces of two diameters keep the ends that are marked.
struct NewDiameter {
  double outer_diameter_m, wall_m;
  bool keep_in, keep_out;

  template <class S>
  requires requires(S& s) { s.outer_diameter_m; }
  void operator()(S& s) const {
    s.outer_diameter_m = outer_diameter_m;
    s.wall_m = wall_m;
  }
  void operator()(Cone& s) const {
    if (!keep_in)
      s.outer_diameter_in_m = outer_diameter_m;
    if (!keep_out)
      s.outer_diameter_out_m = outer_diameter_m;
    s.wall_m = wall_m;
  }
  void operator()(Adapter& s) const {
    if (!keep_in) {
      s.outer_diameter_in_m = outer_diameter_m;
      s.bore_in_m = outer_diameter_m - 2 * wall_m;
    }
    if (!keep_out) {
      s.outer_diameter_out_m = outer_diameter_m;
      s.bore_out_m = outer_diameter_m - 2 * wall_m;
    }
  }
  void operator()(Hose& s) const { s.bore_m = outer_diameter_m; }
  void operator()(HumpHose& s) const {
    s.hump_bore_m += outer_diameter_m - s.bore_m;
    s.bore_m = outer_diameter_m;
  }
  template <class S>
  requires requires(S& s) { s.bore_in_m, s.engagement; }
  void operator()(S& s) const {
    const bool constant = s.bore_in_m == s.bore_out_m;
    if (constant || !keep_in)
      s.bore_in_m = outer_diameter_m;
    if (constant || !keep_out)
      s.bore_out_m = outer_diameter_m;
  }
  void operator()(SensorBoss&) const {}
  void operator()(ValveFlange&) const {}
};

/// What has another size is not the stock item any more that it was.
void set_shape(Piece& piece, Shape shape) {
  if (piece.shape == shape)
    return;
  piece.shape = std::move(shape);
  piece.stock = {};
}

} // namespace

const Piece* find(const Build& build, const PieceRef& ref) {
  const Option* option = build.find(ref.option);
  const Run* run = option ? option->find(ref.run) : nullptr;
  return run && ref.row < run->pieces.size() ? &run->pieces[ref.row] : nullptr;
}

std::size_t rows_with_fittings(const Run& run, std::size_t row) {
  assert(row < run.pieces.size());
  if (is_fitting(run.pieces[row].shape))
    return 1;
  return free_row(run.pieces, row + 1, false) - row;
}

Build with_piece_inserted(const Build& build, const PieceRef& before, Piece piece) {
  return with_run(build, before.option, before.run, [&](Run& run) {
    assert(before.row <= run.pieces.size());
    const std::size_t row = free_row(run.pieces, before.row, is_fitting(piece.shape));
    run.pieces.insert(run.pieces.begin() + signed_row(row), std::move(piece));
  });
}

Build with_piece_removed(const Build& build, const PieceRef& ref) {
  return with_run(build, ref.option, ref.run, [&](Run& run) {
    const auto first = run.pieces.begin() + signed_row(ref.row);
    run.pieces.erase(first, first + signed_row(rows_with_fittings(run, ref.row)));
  });
}

Build with_piece_replaced(const Build& build, const PieceRef& ref, Piece piece) {
  return with_run(build, ref.option, ref.run, [&](Run& run) {
    assert(ref.row < run.pieces.size());
    run.pieces[ref.row] = std::move(piece);
  });
}

Build with_piece_moved(const Build& build, const PieceRef& ref, std::size_t to) {
  return with_run(build, ref.option, ref.run, [&](Run& run) {
    assert(to <= run.pieces.size());
    const std::size_t behind = ref.row + rows_with_fittings(run, ref.row);
    to = free_row(run.pieces, to, is_fitting(run.pieces[ref.row].shape));
    const auto begin = run.pieces.begin();
    if (to < ref.row)
      std::rotate(begin + signed_row(to), begin + signed_row(ref.row), begin + signed_row(behind));
    else if (to > behind)
      std::rotate(begin + signed_row(ref.row), begin + signed_row(behind), begin + signed_row(to));
  });
}

Build with_piece_duplicated(const Build& build, const PieceRef& ref) {
  return with_run(build, ref.option, ref.run, [&](Run& run) {
    const auto first = run.pieces.begin() + signed_row(ref.row);
    const std::vector<Piece> copies(first, first + signed_row(rows_with_fittings(run, ref.row)));
    run.pieces.insert(first + std::ssize(copies), copies.begin(), copies.end());
  });
}

Piece with_bore(const Piece& piece, double bore_m) {
  Shape shape = piece.shape;
  std::visit(Overloaded{[&](Adapter& s) {
                          s.outer_diameter_in_m += bore_m - s.bore_in_m;
                          s.outer_diameter_out_m += bore_m - s.bore_out_m;
                          s.bore_in_m = s.bore_out_m = bore_m;
                        },
                        [&]<class S>(S& s) {
                          if constexpr (requires { s.engagement; })
                            NewDiameter{bore_m, s.wall_m, false, false}(s);
                          else if constexpr (requires { s.wall_m; })
                            NewDiameter{bore_m + 2 * s.wall_m, s.wall_m, false, false}(s);
                        }},
             shape);
  Piece result = piece;
  set_shape(result, std::move(shape));
  return result;
}

Build with_run_bore(const Build& build, const OptionId& option, const RunId& run, double outer_diameter_m,
                    double wall_m) {
  return with_run(build, option, run, [&](Run& changed) {
    for (std::size_t row = 0; row < changed.pieces.size(); ++row) {
      Piece& piece = changed.pieces[row];
      if (is_fitting(piece.shape))
        continue;
      const bool last = row + rows_with_fittings(changed, row) == changed.pieces.size();
      Shape shape = piece.shape;
      std::visit(NewDiameter{outer_diameter_m, wall_m, row == 0, last}, shape);
      set_shape(piece, std::move(shape));
    }
  });
}

Build with_machine(const Build& build, const MachineId& id, MachineKind kind) {
  Build result = build;
  const auto machine = std::ranges::find(result.machines, id, &Machine::id);
  assert(machine != result.machines.end());
  machine->kind = std::move(kind);
  return result;
}

Build with_demand(const Build& build, Demand demand) {
  Build result = build;
  result.demand = std::move(demand);
  return result;
}

Build with_ambient(const Build& build, Ambient ambient) {
  Build result = build;
  result.ambient = ambient;
  return result;
}

Build with_bay(const Build& build, std::optional<BayAir> bay) {
  Build result = build;
  result.bay = bay;
  return result;
}

Build with_lagging(const Build& build, const PieceRef& ref, std::optional<Lagging> lagging) {
  return with_run(build, ref.option, ref.run, [&](Run& run) {
    assert(ref.row < run.pieces.size() && !is_fitting(run.pieces[ref.row].shape));
    run.pieces[ref.row].lagging = lagging;
  });
}

Build with_lagging_on_run(const Build& build, const OptionId& option, const RunId& run,
                          std::optional<Lagging> lagging) {
  return with_run(build, option, run, [&](Run& changed) {
    for (Piece& piece : changed.pieces)
      if (!is_fitting(piece.shape))
        piece.lagging = lagging;
  });
}

Build with_measured(const Build& build, std::vector<Measured> measured) {
  Build result = build;
  result.measured = std::move(measured);
  return result;
}

Build without_measured(const Build& build) {
  return with_measured(build, {});
}

Build with_title(const Build& build, std::string title) {
  Build result = build;
  result.title = std::move(title);
  return result;
}

Build with_option_copied(const Build& build, const OptionId& from, OptionId to) {
  assert(!build.find(to));
  Build result = build;
  const auto option = std::ranges::find(result.options, from, &Option::id);
  assert(option != result.options.end());
  Option copy = *option;
  copy.id = std::move(to);
  result.options.insert(option + 1, std::move(copy));
  return result;
}

Build with_option_removed(const Build& build, const OptionId& id) {
  assert(build.find(id) && build.options.size() > 1);
  Build result = build;
  std::erase_if(result.options, [&](const Option& option) { return option.id == id; });
  return result;
}

Build with_option_renamed(const Build& build, const OptionId& id, OptionId to) {
  assert(build.find(id) && (id == to || !build.find(to)));
  Build result = build;
  std::ranges::find(result.options, id, &Option::id)->id = std::move(to);
  return result;
}

} // namespace bellmouth::build
