// SPDX-License-Identifier: GPL-3.0-or-later
// The picture of the bay and the hand in it.
#pragma once

#include "bay_offers.hpp"
#include "bay_overlay.hpp"
#include "bay_photographs.hpp"
#include "bay_scene.hpp"
#include "scene/render.hpp"
#include "session.hpp"

#include <QTimer>
#include <QWidget>

#include <memory>
#include <optional>
#include <vector>

class QMenu;

namespace bellmouth::ui {

class QuantityEdit;

/// Where the bay is cut open: what lies beyond a share of its size along an axis is taken away.
struct BaySection {
  std::size_t axis = 0; ///< x, y, z
  double share = 0.5;
  bool other_side = false; ///< takes away what lies before
  friend bool operator==(const BaySection&, const BaySection&) = default;
};

/// Drags of the middle or right button turn the bay, as does the left one on empty ground; with Shift they
/// shift it. The wheel zooms about the pointer. A click picks, a double click asks for the fields, a right
/// click opens a menu. Grips on the picked piece are dragged; a number typed during a drag takes over. Keys:
/// arrows turn, with Shift shift, + and - zoom, F fits all, Shift+F what is picked, 1 to 6 look from the six
/// sides, 0 slantwise, P switches perspective, M measures, Page Up and Page Down go from piece to piece, G
/// types a value of the picked piece, each time the next one.
class BayCanvas : public QWidget {
  Q_OBJECT

public:
  explicit BayCanvas(Session& session, QWidget* parent = nullptr);
  ~BayCanvas() override;

  /// \name How it is looked at
  ///@{
  void fit_all();
  void fit_selection(); ///< all where nothing is picked
  void look_from(scene::StandardView view);
  void set_perspective(bool perspective);
  void set_section(const std::optional<BaySection>& section);
  void set_colouring(BayColouring colouring);
  void set_photographs_shown(bool shown);
  void set_measuring(bool measuring);
  void zoom_by(double factor); ///< about the middle
  /// Draws a route translucently where it would run; nullptr: none.
  void show_ghost(std::shared_ptr<const RouteGhost> ghost);
  [[nodiscard]] BayLookout lookout() const;
  [[nodiscard]] const std::optional<BaySection>& section() const { return section_; }
  [[nodiscard]] BayColouring colouring() const { return colouring_; }
  [[nodiscard]] bool measuring() const { return measuring_; }
  [[nodiscard]] bool photographs_shown() const { return photographs_shown_; }
  ///@}

  /// \name What is seen
  ///@{
  [[nodiscard]] const BayScene& bay() const { return scene_; }
  [[nodiscard]] const std::vector<build::Vector>& measured() const { return measured_; }
  [[nodiscard]] std::vector<BayGrip> grips() const;
  [[nodiscard]] bool ports_measured() const;
  [[nodiscard]] bool drawn_at_rest() const; ///< whether the picture has its full quality
  [[nodiscard]] QString refused_words() const { return drag_ ? drag_->refused : QString(); }
  ///@}

  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] QSize minimumSizeHint() const override;

signals:
  void edit_requested();
  void routes_requested(const bellmouth::build::RunId& run);    ///< for a run of the shown option
  void pass_requested(const bellmouth::build::Vector& point_m); ///< routes are to pass here
  void message(const QString& text);
  void look_changed(); ///< perspective, section, measuring or colouring is another

protected:
  bool event(QEvent* event) override;
  void paintEvent(QPaintEvent* event) override;
  void showEvent(QShowEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;
  void changeEvent(QEvent* event) override;
  void wheelEvent(QWheelEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mouseReleaseEvent(QMouseEvent* event) override;
  void mouseDoubleClickEvent(QMouseEvent* event) override;
  void leaveEvent(QEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void contextMenuEvent(QContextMenuEvent* event) override;
  void dragEnterEvent(QDragEnterEvent* event) override;
  void dragMoveEvent(QDragMoveEvent* event) override;
  void dragLeaveEvent(QDragLeaveEvent* event) override;
  void dropEvent(QDropEvent* event) override;
  bool eventFilter(QObject* watched, QEvent* event) override;

private:
  /// A grip on its way.
  struct GripDrag {
    build::PieceRef piece;
    build::Build base;
    BayGrip grip;
    QPointF off; ///< from the grip to where it was taken
    double shown = 0;
    bool moved = false;
    QString refused;
  };
  /// A button that is down.
  struct Press {
    QPointF at, before;
    Qt::MouseButton button = Qt::NoButton;
    bool moved = false;
    std::optional<build::Vector> pivot_m;
  };

  void on_changed(Changes changes);
  void refresh_scene();
  void set_camera(const scene::Camera& camera);
  /// Draws anew, quickly now and well when nothing has happened for a while.
  void redraw();
  void rest();
  [[nodiscard]] std::optional<scene::SectionPlane> section_plane() const;
  void draw_picture();
  void paint_empty(QPainter& painter) const;
  void paint_hover(QPainter& painter);
  [[nodiscard]] QPoint device_pixel(QPointF point) const;
  [[nodiscard]] std::uint32_t id_at(QPointF point) const;
  [[nodiscard]] std::optional<build::Vector> point_at(QPointF point) const;
  void hover(QPointF point);
  void pull(const QMouseEvent& event);
  void click(QPointF point);
  void step_selection(int step);

  void begin_drag(const BayGrip& grip, QPointF point);
  void drag_to(QPointF point, bool fine);
  void try_value(double value);
  void end_drag(bool keep);
  void abandon_drag(); ///< the preview is gone already
  /// Opens a field with what was typed first; nothing typed: with the value as it is.
  void type_value(const QString& first);
  void type_next_value();
  void close_field();
  [[nodiscard]] QString drag_words() const;

  void show_menu(QPoint global, std::optional<build::Vector> point_m);
  void take(const BayOffer& offer);
  void add_route_entries(QMenu& menu, std::optional<build::Vector> point_m);

  Session& session_;
  std::unique_ptr<scene::Renderer> renderer_;
  QStringList renderer_missing_;
  BayScene scene_;
  BayPhotographs photographs_;
  scene::Camera camera_;
  bool fitted_ = true; ///< follows size and build until the user looks elsewhere
  BayColouring colouring_ = BayColouring::nothing;
  std::optional<BaySection> section_;
  bool photographs_shown_ = true;
  bool measuring_ = false;
  std::vector<build::Vector> measured_;
  std::optional<build::Vector> measure_end_; ///< where the pointer is

  scene::Picture picture_;
  bool stale_ = false; ///< something has changed while it was not seen
  bool drawn_ = false;
  scene::Quality quality_ = scene::Quality::dragging;
  QTimer rest_timer_;

  std::uint32_t hovered_ = 0;
  std::optional<GripDrag> drag_;
  std::optional<Press> press_;
  std::optional<BayPlace> drop_;
  std::optional<std::size_t> hovered_grip_;
  std::size_t next_grip_ = 0;     ///< whose value is typed next
  QuantityEdit* field_ = nullptr; ///< for a value typed during a drag; unset: none
};

} // namespace bellmouth::ui
