// SPDX-License-Identifier: GPL-3.0-or-later
// What compiling machines and compiling runs share: appending elements to the path, the bore so far, and the
// sources of doubt.
#pragma once

#include "elements.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace bellmouth::flow {

class Assembly {
public:
  Assembly(Path::Impl& path, const build::Build& build);

  Path::Impl& path;
  std::size_t step = 0; ///< being compiled
  double bore_m = 0;    ///< so far; 0 in the open air

  void push(const Law& law, std::size_t row, double length_m = 0, std::size_t doubt = none, double scale = 1);
  void push_loss(const loss::Law& law, double bore_m, std::size_t row, double roughness_m = 0,
                 double length_m = 0);
  void push_straight(double length_m, double bore_m, double roughness_m, std::size_t row);
  /// A sudden change from the bore so far.
  void push_step(double to_bore_m, std::size_t row);
  /// The way in from the open air, which belongs to the first piece of a run or to the machine that begins
  /// the path.
  void enter(double into_bore_m, std::size_t row = none);
  /// From here on elements belong to a run (or no longer): the measured factor of duct losses holds there.
  void in_run(bool run);

  /// A bore with its place among the friction factors.
  [[nodiscard]] Bore bore_of(double bore_m, double roughness_m);
  /// The source of doubt of this name and source, made when it is new: of one width, or each member of its
  /// own.
  [[nodiscard]] std::size_t doubt_of(std::string_view name, std::string_view source, double low, double high);
  [[nodiscard]] std::size_t own_doubt_of(std::string_view name, std::string_view source);

private:
  struct Stretch {
    double bore_m, roughness_m;
  };
  build::OpenInlet inlet_;
  const build::Measured* measured_ducts_;
  bool in_run_ = false;
  std::vector<Stretch> stretches_;
};

} // namespace bellmouth::flow
