// SPDX-License-Identifier: GPL-3.0-or-later
// The frame to look at: turned by dragging and by the arrow keys, zoomed by the wheel and by + and -, welds
// and members picked by pointer and by keys.
#pragma once

#include <QWidget>
#include <memory>

#include "app/desktop/rater.h"
#include "reports/content/frame_picture.h"

namespace seamwright::desktop {

class FrameView : public QWidget {
  Q_OBJECT
 public:
  explicit FrameView(QWidget* parent = nullptr);

  void set_drawing(reports::FrameDrawing drawing);
  /// Null while nothing has been rated.
  void set_rated(std::shared_ptr<const RatedJob> rated);
  /// Another design, drawn thin behind this one; null for none.
  void set_second(std::shared_ptr<const reports::FrameDrawing> second);
  void choose(const QString& flag);
  void choose_members(const std::set<std::string>& members);
  /// Number of the rating's motion to show, -1 for the frame as drawn.
  void show_motion(int index);
  void look_from(double turn_deg, double tip_deg);
  void fit();
  void zoom(double by);
  const reports::FrameHits& hits() const { return hits_; }
  const reports::FrameView& view() const { return view_; }

  QSize sizeHint() const override { return {720, 480}; }
  QSize minimumSizeHint() const override { return {240, 120}; }

 signals:
  void flag_chosen(const QString& id);
  void member_chosen(const QString& id);

 protected:
  void paintEvent(QPaintEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mouseReleaseEvent(QMouseEvent* event) override;
  void wheelEvent(QWheelEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void leaveEvent(QEvent* event) override;

 private:
  void step(int by);  ///< to the next weld, worst first
  void paint_scale(QPainter& painter);
  double per_mm() const;  ///< pixels, by the font's size
  reports::Point in_mm(QPointF pixels) const;

  reports::FrameDrawing drawing_;
  reports::FrameView view_;
  reports::FrameLook look_;
  reports::FrameHits hits_;
  std::shared_ptr<const RatedJob> rated_;
  std::shared_ptr<const reports::FrameDrawing> second_;
  int motion_ = -1;
  QPointF pressed_, last_;
  bool dragged_ = false;
};

}  // namespace seamwright::desktop
