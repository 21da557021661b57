// SPDX-License-Identifier: GPL-3.0-or-later
#include "chain_layout.hpp"

#include "piece_art.hpp"
#include "piece_text.hpp"
#include "units.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::ui {

namespace {

constexpr double margin_px = 34; ///< left and right; the flow arrow stands in it
constexpr double block_width_px = 64, block_height_px = 70;
constexpr double inlet_width_px = 24, bolted_gap_px = 3;
constexpr double empty_run_px = 230;
constexpr double shortest_spigot_m = 0.012;
constexpr double label_gap_px = 8;
constexpr int label_levels = 3;
constexpr double label_air_px = 4, strip_air_px = 8;

double spigot_m(const build::Port* port) {
  return std::max(port ? port->land_m : 0.0, shortest_spigot_m);
}

const build::Run* find_shown_run(const build::Build& build, const Evaluation& evaluation,
                                 const build::RunId& id) {
  const build::Option* option = build.find(evaluation.option);
  return option ? option->find(id) : nullptr;
}

/// Puts one thing after the other along x.
class Layer {
public:
  Layer(const build::Build& build, const Evaluation& evaluation, ChainLayout& out)
      : build_(build), evaluation_(evaluation), out_(out) {}

  void lay() {
    x_ = margin_px;
    if (!build_.path.empty() && std::holds_alternative<build::RunId>(build_.path.front()))
      open_inlet();
    for (step_ = 0; step_ < build_.path.size(); ++step_) {
      if (const auto* machine = std::get_if<build::MachineId>(&build_.path[step_]))
        block({.kind = ChainItem::Kind::machine, .machine = *machine});
      else
        run(std::get<build::RunId>(build_.path[step_]));
    }
    block({.kind = ChainItem::Kind::demand});
    out_.width = x_ + margin_px;
  }

private:
  void open_inlet() {
    ChainItem item{.kind = ChainItem::Kind::open_inlet};
    item.body = QRectF(x_, out_.axis_y - 30, inlet_width_px, 60);
    item.title = "open inlet";
    out_.items.push_back(item);
    x_ += inlet_width_px;
  }

  void block(ChainItem item) {
    if (!out_.items.empty() && (out_.items.back().kind == ChainItem::Kind::machine))
      x_ += bolted_gap_px;
    item.step = step_;
    item.body = QRectF(x_, out_.axis_y - block_height_px / 2, block_width_px, block_height_px);
    if (const build::Machine* machine = build_.find(item.machine)) {
      item.title = with_branch(build_, step_, QString::fromStdString(machine->name));
      if (const auto* flow = find_machine(build_, evaluation_, step_))
        item.size = machine_figure(machine->kind, *flow);
    } else {
      item.title = std::holds_alternative<build::FixedFlow>(build_.demand) ? "flow bench" : "engine";
    }
    out_.items.push_back(std::move(item));
    x_ += block_width_px;
  }

  void spigot(const build::Port* port, bool faces_right) {
    const double length = spigot_m(port) * out_.scale_px_m;
    const double diameter = (port ? port->outer_diameter_m : 0.0) * out_.scale_px_m;
    out_.spigots.push_back(
        {QRectF(x_, out_.axis_y - diameter / 2, length, diameter), port && port->beaded, faces_right});
    x_ += length;
  }

  void run(const build::RunId& id) {
    const build::Run* pieces = find_shown_run(build_, evaluation_, id);
    const RunResult* result = find_run(evaluation_, id);
    if (!pieces || !result)
      return;
    spigot(build_.find(pieces->from), true);
    ChainRun whole{id, step_, x_, x_};
    if (pieces->pieces.empty()) {
      ChainItem item{.kind = ChainItem::Kind::empty_run, .step = step_, .run = id};
      item.body = QRectF(x_, out_.axis_y - 34, empty_run_px, 68);
      out_.places.push_back({id, 0, item.body.center().x()});
      out_.items.push_back(item);
      x_ += empty_run_px;
    } else {
      rows(*pieces, *result);
    }
    whole.right = x_;
    out_.runs.push_back(whole);
    covers(*result, whole);
    spigot(build_.find(pieces->to), false);
  }

  void rows(const build::Run& run, const RunResult& result) {
    const double px_m = out_.scale_px_m;
    const std::size_t first = out_.items.size();
    for (std::size_t row = 0; row < run.pieces.size(); ++row) {
      const build::Piece& piece = run.pieces[row];
      const joint::Row& fit = result.fit.rows[row];
      ChainItem item{.kind = ChainItem::Kind::piece, .step = step_, .run = run.id, .row = row};
      item.title = piece_title(piece);
      item.size = short_size(piece.shape);
      if (build::is_fitting(piece.shape)) {
        item.fitting = true;
        place_fitting(item, run, fit, first);
      } else {
        out_.places.push_back({run.id, row, x_});
        const double length = build::full_length_m(piece.shape) * px_m;
        const double diameter =
            std::max(build::outer_diameter_in_m(piece.shape), build::outer_diameter_out_m(piece.shape)) *
            px_m;
        item.body = QRectF(x_ - fit.cover_in_m * px_m, out_.axis_y - diameter / 2, length, diameter);
        item.flow_left = x_;
        x_ += fit.centreline_length_m * px_m;
        item.flow_right = x_;
        item.flexible = build::is_flexible(piece.shape);
        item.length_changes = std::holds_alternative<build::Tube>(piece.shape) ||
                              std::holds_alternative<build::Hose>(piece.shape);
      }
      out_.items.push_back(std::move(item));
    }
    out_.places.push_back({run.id, run.pieces.size(), x_});
  }

  void place_fitting(ChainItem& item, const build::Run& run, const joint::Row& fit, std::size_t first) const {
    if (!fit.host)
      return;
    const build::Shape& shape = run.pieces[item.row].shape;
    const double position_m = std::visit(
        [](const auto& s) {
          if constexpr (requires { s.position_m; })
            return s.position_m;
          else
            return 0.0;
        },
        shape);
    const ChainItem& host = out_.items[first + *fit.host];
    item.host_diameter_m = build::outer_diameter_in_m(run.pieces[*fit.host].shape);
    item.on_host = QPointF(host.body.left() + position_m * out_.scale_px_m, out_.axis_y);
    item.body = fitting_box(shape, item.on_host, item.host_diameter_m, out_.scale_px_m);
    item.flow_left = item.flow_right = item.on_host.x();
  }

  void covers(const RunResult& result, const ChainRun& whole) {
    const double px_m = out_.scale_px_m;
    for (const joint::Joint& joint : result.fit.joints) {
      if (joint.kind != joint::Kind::hose)
        continue;
      // The spigot ends where the hose's cover ends: the boundary between the two on the centreline, or the
      // run's own end.
      const bool spigot_first = !joint.upstream.flexible;
      const joint::End& next = joint.downstream;
      const double edge = next.row ? item_x(whole.run, *next.row) : whole.right;
      const double length = joint.engagement_m * px_m, diameter = joint.spigot().outer_diameter_m * px_m;
      const double left = spigot_first ? edge - length : edge;
      out_.covers.push_back({QRectF(left, out_.axis_y - diameter / 2, length, diameter),
                             QPointF(left + length / 2, out_.axis_y), joint.installed_diameter_m, true});
    }
  }

  [[nodiscard]] double item_x(const build::RunId& run, std::size_t row) const {
    const auto found = std::ranges::find_if(out_.items, [&](const ChainItem& item) {
      return item.kind == ChainItem::Kind::piece && item.run == run && item.row == row;
    });
    return found == out_.items.end() ? 0.0 : found->flow_left;
  }

  const build::Build& build_;
  const Evaluation& evaluation_;
  ChainLayout& out_;
  std::size_t step_ = 0;
  double x_ = 0;
};

/// Gives labels their places: machines first, then pieces, each on the highest level with room; what has none
/// keeps none.
void place_labels(ChainLayout& chain, const QFontMetricsF& metrics) {
  const double line = metrics.height(), level_height = 2 * line + label_air_px;
  std::vector<QRectF> taken;
  const auto place = [&](ChainItem& item, double width) {
    for (int level = 0; level < label_levels; ++level) {
      const QRectF box(item.body.center().x() - width / 2, chain.label_y + level * level_height, width,
                       2 * line);
      const QRectF with_air = box.adjusted(-label_gap_px / 2, 0, label_gap_px / 2, 0);
      if (box.left() < 0 ||
          std::ranges::any_of(taken, [&](const QRectF& other) { return other.intersects(with_air); }))
        continue;
      item.label = box;
      taken.push_back(with_air);
      return;
    }
  };
  const auto text_width = [&](const ChainItem& item) {
    return std::max(metrics.horizontalAdvance(item.title), metrics.horizontalAdvance(item.size)) + 2;
  };
  for (ChainItem& item : chain.items)
    if (item.kind != ChainItem::Kind::piece && item.kind != ChainItem::Kind::empty_run)
      place(item, std::clamp(text_width(item), block_width_px, block_width_px + 34));
  for (ChainItem& item : chain.items)
    if (item.kind == ChainItem::Kind::piece)
      place(item, text_width(item));
}

/// Writes over the dimension lines. All have room for their length; then names, then drops go to those whose
/// text stays clear of the neighbours'.
void place_dimensions(ChainLayout& chain, const build::Build& build, const Evaluation& evaluation,
                      const QFontMetricsF& metrics) {
  constexpr double air_px = 10;
  const auto box_of = [&](const ChainRun& run, const QString& text) {
    const double width = metrics.horizontalAdvance(text) + 2;
    return QRectF((run.left + run.right - width) / 2, chain.dimension_y - metrics.height() - 3, width,
                  metrics.height());
  };
  const auto set = [&](ChainRun& run, const QString& text) {
    run.dimension = text;
    run.dimension_text = box_of(run, text);
  };
  const auto lengthen = [&](ChainRun& run, const QString& text) {
    const QRectF box = box_of(run, text), with_air = box.adjusted(-air_px, 0, air_px, 0);
    if (box.left() >= 0 && box.right() <= chain.width &&
        std::ranges::none_of(chain.runs, [&](const ChainRun& other) {
          return &other != &run && other.dimension_text.intersects(with_air);
        }))
      set(run, text);
  };
  const auto result_of = [&](const ChainRun& run) -> const RunResult& {
    return *find_run(evaluation, run.run); // a run without a result is not laid out
  };
  const auto named = [&](const ChainRun& run) {
    return with_branch(build, run.step, run_name(run.run)) + "  " + show_length(result_of(run).length_m);
  };
  for (ChainRun& run : chain.runs)
    set(run, show_length(result_of(run).length_m));
  for (ChainRun& run : chain.runs)
    lengthen(run, named(run));
  for (ChainRun& run : chain.runs)
    if (evaluation.path.point.usable() && !result_of(run).flow.rows.empty() && run.dimension == named(run))
      lengthen(run, named(run) + "  " + show_pressure_difference(-result_of(run).flow.drop_Pa));
}

} // namespace

std::optional<std::size_t> ChainLayout::item_at(QPointF point) const {
  const auto layer = [&](const ChainItem& item) {
    if (item.label.contains(point))
      return 4;
    const double more = item.fitting ? 3 : 1;
    if (!item.body.adjusted(-more, -more, more, more).contains(point))
      return 0;
    return item.fitting ? 3 : item.flexible ? 2 : 1;
  };
  std::optional<std::size_t> best;
  int best_layer = 0;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (const int here = layer(items[i]); here > best_layer) {
      best = i;
      best_layer = here;
    }
  }
  return best;
}

bool ChainLayout::on_edge(std::size_t item, QPointF point, double reach) const {
  const ChainItem& what = items[item];
  return what.length_changes && std::abs(point.x() - what.body.right()) <= reach &&
         point.y() >= what.body.top() - 2 && point.y() <= what.body.bottom() + 2;
}

std::optional<DropSlot> ChainLayout::place_at(QPointF point) const {
  const auto nearest = std::ranges::min_element(
      places, {}, [&](const DropSlot& place) { return std::abs(place.x - point.x()); });
  return nearest == places.end() ? std::nullopt : std::optional(*nearest);
}

ChainLayout lay_out_chain(const build::Build& build, const Evaluation& evaluation, double scale_px_m,
                          double height, const QFontMetricsF& metrics) {
  ChainLayout chain;
  chain.scale_px_m = scale_px_m;
  Layer(build, evaluation, chain).lay();

  double above = block_height_px / 2, below = block_height_px / 2;
  for (const ChainItem& item : chain.items) {
    above = std::max(above, -item.body.top());
    below = std::max(below, item.body.bottom());
  }
  const double line = metrics.height();
  const double top = 6 + line + 6 + 26,
               bottom = strip_air_px + strip_height_px + 6 + label_levels * (2 * line + label_air_px);
  const double needed = top + above + below + bottom;
  chain.height = std::max(height, needed);
  const double axis_y = top + above + (chain.height - needed) / 2;
  // Everything was laid about y = 0.
  const QPointF down(0, axis_y);
  chain.axis_y = axis_y;
  for (ChainItem& item : chain.items) {
    item.body.translate(down);
    item.on_host += down;
  }
  for (ChainSpigot& spigot : chain.spigots)
    spigot.box.translate(down);
  for (ChainCover& cover : chain.covers) {
    cover.spigot.translate(down);
    cover.clamp += down;
  }
  chain.dimension_y = axis_y - above - 34;
  chain.strip_y = axis_y + below + strip_air_px;
  chain.label_y = chain.strip_y + strip_height_px + 6;
  place_labels(chain, metrics);
  place_dimensions(chain, build, evaluation, metrics);
  return chain;
}

double fitting_scale_px_m(const build::Build& build, const Evaluation& evaluation, double width) {
  // Widths are a constant plus a share that goes with the scale: two points give the line.
  const auto width_at = [&](double scale_px_m) {
    ChainLayout chain;
    chain.scale_px_m = scale_px_m;
    Layer(build, evaluation, chain).lay();
    return chain.width;
  };
  constexpr double low = 100, high = 200;
  const double at_low = width_at(low), slope = (width_at(high) - at_low) / (high - low);
  if (slope <= 0)
    return 400;
  return std::clamp(low + (width - at_low) / slope, lowest_scale_px_m, highest_fitted_px_m);
}

} // namespace bellmouth::ui
