// SPDX-License-Identifier: GPL-3.0-or-later
// The frame to look at, shaded where the display has the graphics for it, else in lines: turned about what is
// under the pointer by dragging and by the arrow keys, zoomed to the pointer by the wheel and by + and -, cut
// by a section, welds and members picked by pointer and by keys.
#pragma once

#include <QElapsedTimer>
#include <QTimer>
#include <QWidget>
#include <memory>

#include "app/desktop/frame_scene.h"
#include "app/desktop/rater.h"
#include "reports/content/frame_pick.h"

namespace seamwright::desktop {

class ShadedFrame;

class FrameView : public QWidget {
  Q_OBJECT
 public:
  explicit FrameView(QWidget* parent = nullptr);

  /// Bodies of another geometry are dropped, and plain tubes stand for them until their own are set.
  void set_drawing(reports::FrameDrawing drawing);
  /// The bodies of this drawing as the geometry kernel has built them; null for plain tubes.
  void set_solids(std::shared_ptr<const shape::FrameSolids> solids);
  /// Those solids with hidden lines, for the view that is not shaded: drawn while it has their direction.
  void set_lines(std::shared_ptr<const reports::TurnedLines> lines);
  /// Null while nothing has been rated.
  void set_rated(std::shared_ptr<const RatedJob> rated);
  /// Another design, drawn thin behind this one; null for none.
  void set_second(std::shared_ptr<const reports::FrameDrawing> second);
  void choose(const QString& flag);
  /// Chooses a flag and pulls the view to its joint.
  void go_to(const QString& flag);
  void choose_members(const std::set<std::string>& members);
  /// Number of the rating's motion to show, -1 for the frame as drawn.
  void show_motion(int index);
  /// Lets the motion shown swing.
  void run_motion(bool runs);
  /// The largest motion as drawn, as a share of the frame's size.
  void set_motion_size(double share);
  void set_section(const reports::FrameSection& section);
  void set_hue(FrameHue hue);
  void set_all_flags(bool all);
  /// Shaded by the display's graphics, where it has them, else in lines.
  void set_shaded(bool shaded);
  void look_from(double turn_deg, double tip_deg);
  void fit();
  void zoom(double by);

  bool is_shaded() const { return shaded_ != nullptr; }
  bool is_running() const { return swing_.isActive(); }
  double motion_size() const { return motion_size_; }
  const FrameScene& scene() const { return scene_; }
  const reports::FrameHits& hits() const { return hits_; }
  const reports::FrameView& view() const { return scene_.view; }
  /// The pixel at which a place of the frame stands, and the body that stands at a place of the widget.
  QPointF pixel(const frame::Vec3& place_mm) const;
  std::optional<reports::Picked> picked(QPointF pixel);

  QSize sizeHint() const override { return {720, 480}; }
  QSize minimumSizeHint() const override { return {240, 120}; }

 signals:
  void flag_chosen(const QString& id);
  void member_chosen(const QString& id);
  /// Lines take the place of shaded bodies, and the view rests in this direction.
  void lines_wanted(double turn_deg, double tip_deg);
  /// Section, hue, motion or painter are others now.
  void settings_changed();

 protected:
  void paintEvent(QPaintEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;
  void focusInEvent(QFocusEvent* event) override;
  void focusOutEvent(QFocusEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mouseReleaseEvent(QMouseEvent* event) override;
  void wheelEvent(QWheelEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void leaveEvent(QEvent* event) override;

 private:
  void make_ready();
  void refresh();
  void repaint_bodies();  ///< after another choice
  void find_motion();
  void ask_for_lines();
  void step(int by);  ///< to the next weld, worst first
  bool set_by_key(QKeyEvent* event);
  void move_by_key(double turn_deg, double tip_deg, bool shift);
  void drag(QMouseEvent* event);
  std::string flag_under(QPointF pixel);
  frame::Vec3 pivot_under(QPointF pixel);
  void paint_over(QPainter& painter);
  void paint_scales(QPainter& painter);
  reports::FrameCamera camera() const;
  double per_mm() const;
  reports::Point in_mm(QPointF pixels) const;

  FrameScene scene_;
  reports::FrameHits hits_;
  std::shared_ptr<const shape::FrameSolids> solids_;
  std::shared_ptr<const reports::TurnedLines> lines_;
  std::shared_ptr<const RatedJob> rated_;
  std::shared_ptr<const reports::FrameDrawing> second_;
  ShadedFrame* shaded_ = nullptr;
  bool mesh_is_old_ = true, bands_are_old_ = true;
  int motion_ = -1;
  double motion_size_ = 0.06;
  QTimer swing_, rest_;
  QElapsedTimer clock_;
  QPointF pressed_, last_;
  frame::Vec3 pivot_mm_{0, 0, 0};
  bool dragged_ = false;
};

/// The motion shown in words: its name, how large it is and how it is drawn.
QString motion_words(const FrameScene& scene);

}  // namespace seamwright::desktop
