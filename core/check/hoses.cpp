// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the hoses stand pressure, suction, warmth and oil, and leave the tubes room to grow.
#include "context.hpp"
#include "repeated.hpp"
#include "words.hpp"

#include <bellmouth/joint/hoses.hpp>
#include <bellmouth/joint/statics.hpp>

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <optional>

namespace bellmouth::check {

namespace {

using enum Severity;

void check_suction(Context& c, const RunView& run, std::size_t row, const build::StockItem* item) {
  const auto& shape = run.shape(row);
  const double depression_Pa = c.ambient_Pa - run.flow->rows[row].outlet.station.static_pressure_Pa;
  if (!above(depression_Pa, c.limits.flatten_depression_Pa))
    return;
  const double free_m = run.fit->rows[row].centreline_length_m;
  const auto even = joint::collapse(shape, free_m, c.limits);
  const bool beyond = above(depression_Pa, c.limits.flatten_stop_Pa);
  if (even && !above(depression_Pa, even->low_Pa))
    return;
  if (even && !beyond && !above(free_m, c.limits.soft_free_length_m))
    return;
  if (!beyond && joint::is_stiff(shape, item, c.limits))
    return;
  const bool folds = beyond || (even && above(depression_Pa, even->high_Pa));
  std::string message = fmt::format("{} below ambient in a {}hose with {} free", kilopascals(depression_Pa),
                                    even ? "" : "pleated ", millimetres(free_m));
  if (even)
    message +=
        fmt::format("; an even wall of {} folds at {} to {} by estimate", millimetres(build::wall_m(shape)),
                    kilopascals(even->low_Pa), kilopascals(even->high_Pa));
  c.add_at_row(Id::hose_may_flatten, folds ? stop : caution, run, row, message + '.',
               "A soft hose folds inwards at full load and shuts the inlet when it hurts most. Use rigid "
               "tube with short hoses, or hose of four plies or with a bonded wire.");
}

void check_warmth(Context& c, const RunView& run, std::size_t row, const build::StockItem* item) {
  const auto& at = run.flow->rows[row];
  const double hot_K = std::max(at.inlet.station.total_temperature_K, at.outlet.station.total_temperature_K);
  const joint::Rating limit = joint::greatest_temperature_K(run.run->pieces[row], item, c.limits);
  const double left_K = limit.value - hot_K;
  if (!below(left_K, c.limits.hose_margin_K))
    return;
  const bool over = below(left_K, 0);
  c.add_at_row(Id::hose_too_hot, over ? stop : caution, run, row,
               fmt::format("Air of {} in a hose {} {}: {:.0f} K {}; {:.0f} K of margin are wanted.",
                           celsius(hot_K), limit.stated ? "rated to" : "of a material good to",
                           celsius(limit.value), over ? -left_K : left_K, over ? "too much" : "are left",
                           c.limits.hose_margin_K),
               "A hose past its rating softens, swells and blows off. Take one with a higher rating "
               "(silicone on aramid cloth stands some 220 °C), or more tube and less hose.");
}

double gauge_Pa(const Context& c, const RunView& run, std::size_t row) {
  const auto& at = run.flow->rows[row];
  return std::max(at.inlet.station.static_pressure_Pa, at.outlet.station.static_pressure_Pa) - c.ambient_Pa;
}

/// Hoses of one option under pressure.
class Pressed {
public:
  explicit Pressed(Context& c) : c_(c) {}

  void look_at(const RunView& run, std::size_t row, const build::StockItem* item) {
    const double inside_Pa = gauge_Pa(c_, run, row);
    const joint::Rating limit = joint::working_gauge_Pa(run.run->pieces[row], item, c_.limits);
    if (!limit.stated && above(inside_Pa, c_.limits.bead_from_gauge_Pa))
      assumed_.at(run, row);
    const bool over = above(inside_Pa, limit.value);
    if (!over && !above(inside_Pa, c_.limits.hose_gauge_share * limit.value))
      return;
    c_.add_at_row(Id::hose_over_rating, over ? stop : caution, run, row,
                  fmt::format("{} gauge in a hose {} {} gauge.", kilopascals(inside_Pa),
                              limit.stated ? "rated for" : "that is good for some", kilopascals(limit.value)),
                  "What a hose bears falls as its bore grows, and again as it gets warm. Take one with more "
                  "plies and a data sheet; if that names only a burst pressure, divide it by " +
                      fmt::format("{:g}.", c_.limits.hose_burst_factor));
  }
  void tell() const {
    assumed_.tell(c_, Id::hose_rating_assumed, note, "Nothing says what pressure this hose is made for{}.",
                  fmt::format("Until then {} gauge count for four plies of 5 mm on a bore of 76 mm, and less "
                              "for a thinner or wider hose. Enter the data sheet's figure in the stock.",
                              kilopascals(c_.limits.hose_working_gauge_Pa)),
                  "hoses under pressure");
  }

private:
  Context& c_;
  Repeated assumed_;
};

/// A stretch of rigid pieces between two straight hoses, which warms and grows into their gaps.
class Growing {
public:
  Growing(Context& c, const RunView& run) : c_(c), run_(run) {}

  void pass(std::size_t row) {
    const auto& piece = run_.run->pieces[row];
    if (build::is_rigid(piece.shape)) {
      const double warm_K = run_.flow->rows[row].inlet.station.total_temperature_K - c_.ambient.temperature_K;
      const double length_m = build::full_length_m(piece.shape);
      length_m_ += length_m;
      growth_m_ += joint::growth_per_K(piece.material) * length_m * std::max(warm_K, 0.0);
      hottest_K_ = std::max(hottest_K_, run_.flow->rows[row].inlet.station.total_temperature_K);
      return;
    }
    if (!build::is_flexible(piece.shape))
      return;
    if (before_ && has_gap(row)) {
      look_at(*before_);
      look_at(row);
    }
    before_ = has_gap(row) ? std::optional(row) : std::nullopt;
    length_m_ = growth_m_ = hottest_K_ = 0;
  }

private:
  [[nodiscard]] bool has_gap(std::size_t row) const {
    return std::holds_alternative<build::Hose>(run_.shape(row)) ||
           std::holds_alternative<build::HumpHose>(run_.shape(row));
  }
  void look_at(std::size_t row) {
    const double gap_m = run_.fit->rows[row].centreline_length_m;
    const double taken_m = growth_m_ / 2 + c_.limits.hose_cut_tolerance_m;
    if (growth_m_ <= 0 || below(gap_m, c_.limits.tube_gap_least_m) || above(gap_m, taken_m))
      return;
    c_.add_at_row(Id::growth_closes_gap, note, run_, row,
                  fmt::format("{} of tube grow by {} up to {}: half of it and {} of the hose's own tolerance "
                              "use up the gap of {}.",
                              millimetres(length_m_),
                              quantity::write_fixed(quantity::Dimension::length, growth_m_, "mm", 1),
                              celsius(hottest_K_), millimetres(c_.limits.hose_cut_tolerance_m),
                              millimetres(gap_m)),
                  "The tube ends meet when they get warm and push on what they are bolted to. Leave a wider "
                  "gap, or take a hump hose.");
  }

  Context& c_;
  const RunView& run_;
  std::optional<std::size_t> before_;
  double length_m_ = 0, growth_m_ = 0, hottest_K_ = 0;
};

} // namespace

void check_hoses(Context& c) {
  if (!c.facts.flow.point.usable())
    return;
  Pressed pressed(c);
  Repeated oily;
  for (const auto& run : c.runs) {
    Growing growing(c, run);
    for (std::size_t row = 0; row < run.rows(); ++row) {
      growing.pass(row);
      if (!build::is_flexible(run.shape(row)))
        continue;
      const auto& piece = run.run->pieces[row];
      const auto* item = c.item(piece);
      check_suction(c, run, row, item);
      check_warmth(c, run, row, item);
      pressed.look_at(run, row, item);
      if (run.behind_blower && piece.material == build::Material::silicone &&
          (item == nullptr || !item->oil_proof))
        oily.at(run, row);
    }
  }
  pressed.tell();
  oily.tell(
      c, Id::oil_mist_on_silicone, note, "A silicone hose behind the blower without an oil-proof lining{}.",
      "Blowers pass some of the oil of their gears and seals, and a breather led into the inlet adds to "
      "it: plain silicone swells, softens and slips on it. Take hose with a fluoro lining, or keep the "
      "joints clean.",
      "hoses");
}

} // namespace bellmouth::check
