// SPDX-License-Identifier: GPL-3.0-or-later
// The hand at the frame: pointer, wheel and keys.
#include <QKeyEvent>
#include <QMouseEvent>
#include <algorithm>
#include <cmath>

#include "app/desktop/frame_view.h"
#include "app/desktop/shaded_frame.h"

namespace seamwright::desktop {

namespace {

constexpr double degrees_per_pixel = 0.4, key_step_deg = 5;
constexpr double section_step = 0.01;
constexpr double flag_reach_mm = 3, line_reach_mm = 1;

}  // namespace

std::optional<reports::Picked> FrameView::picked(QPointF pixel) {
  make_ready();
  return reports::picked_at(scene_.drawing, scene_.mesh, scene_.bands, camera(),
                            reports::kept_by(scene_.view.section, scene_.drawing),
                            reports::motion_scale(scene_.look), in_mm(pixel));
}

// A flag's label stands before everything; over lines a flag's point is picked, over bodies the weld itself.
std::string FrameView::flag_under(QPointF pixel) {
  if (!shaded_) return reports::flag_at(hits_, in_mm(pixel), flag_reach_mm);
  const std::string label = reports::flag_at(hits_, in_mm(pixel), 0);
  if (!label.empty()) return label;
  const auto found = picked(pixel);
  return found && found->weld ? found->id : std::string();
}

// The place under the pointer; over bare ground the joint looked at, or the middle.
frame::Vec3 FrameView::pivot_under(QPointF pixel) {
  if (const auto found = picked(pixel)) return found->place_mm;
  if (!scene_.view.joint.empty())
    for (const auto& f : scene_.drawing.flags)
      if (f.id == scene_.view.joint) return f.at_mm;
  return scene_.view.held ? scene_.view.held->centre_mm : camera().centre_mm;
}

void FrameView::step(int by) {
  if (!rated_ || rated_->strips.empty()) return;
  const auto& strips = rated_->strips;
  const auto it =
      std::find_if(strips.begin(), strips.end(), [&](const auto& s) { return s.id == scene_.look.chosen; });
  const int count = static_cast<int>(strips.size());
  const int now = it == strips.end() ? (by > 0 ? -1 : 0) : static_cast<int>(it - strips.begin());
  emit flag_chosen(QString::fromStdString(strips[static_cast<std::size_t>((now + by + count) % count)].id));
}

void FrameView::mousePressEvent(QMouseEvent* event) {
  pressed_ = last_ = event->position();
  dragged_ = false;
  pivot_mm_ = pivot_under(pressed_);
}

void FrameView::mouseMoveEvent(QMouseEvent* event) {
  if (event->buttons() != Qt::NoButton) return drag(event);
  const std::string before = scene_.look.pointed;
  scene_.look.pointed = flag_under(event->position());
  if (scene_.look.pointed != before) refresh();
}

void FrameView::drag(QMouseEvent* event) {
  const QPointF moved = event->position() - last_;
  if ((event->position() - pressed_).manhattanLength() > 4) {
    dragged_ = true;
    scene_.look.flags = false;  // placing four hundred labels takes longer than a hand waits
    if (shaded_) shaded_->set_quick(true);
  }
  last_ = event->position();
  if (!dragged_) return;
  if (event->buttons() & (Qt::RightButton | Qt::MiddleButton) || event->modifiers() & Qt::ShiftModifier)
    scene_.view = reports::shifted(scene_.view, camera(), in_mm(moved));
  else
    scene_.view = reports::turned_about(scene_.view, camera(), pivot_mm_, -degrees_per_pixel * moved.x(),
                                        degrees_per_pixel * moved.y());
  refresh();
}

void FrameView::mouseReleaseEvent(QMouseEvent* event) {
  if (shaded_) shaded_->set_quick(false);
  if (!scene_.look.flags) {
    scene_.look.flags = true;
    refresh();
  }
  if (dragged_ || event->button() != Qt::LeftButton) return;
  if (const std::string flag = flag_under(event->position()); !flag.empty())
    return emit flag_chosen(QString::fromStdString(flag));
  std::string member;
  if (!shaded_)
    member = reports::member_at(hits_, in_mm(event->position()), line_reach_mm);
  else if (const auto found = picked(event->position()))
    member = found->id;
  if (!member.empty()) emit member_chosen(QString::fromStdString(member));
}

void FrameView::wheelEvent(QWheelEvent* event) {
  scene_.view = reports::zoomed_about(scene_.view, camera(), in_mm(event->position()),
                                      std::pow(1.0015, event->angleDelta().y()));
  refresh();
  event->accept();
}

void FrameView::leaveEvent(QEvent*) {
  scene_.look.pointed.clear();
  refresh();
}

void FrameView::focusInEvent(QFocusEvent*) { refresh(); }
void FrameView::focusOutEvent(QFocusEvent*) { refresh(); }

void FrameView::move_by_key(double turn_deg, double tip_deg, bool shift) {
  if (shift)
    scene_.view = reports::shifted(scene_.view, camera(), {-turn_deg, -tip_deg});
  else
    scene_.view = reports::turned_about(scene_.view, camera(), pivot_under({-1, -1}), turn_deg, tip_deg);
  refresh();
}

// The settings of the view's menu, by one letter while the frame has the focus.
bool FrameView::set_by_key(QKeyEvent* event) {
  using Across = reports::FrameSection::Across;
  reports::FrameSection section = scene_.view.section;
  switch (event->key()) {
    case Qt::Key_S: {
      const auto next = static_cast<Across>((static_cast<int>(section.across) + 1) % 4);
      set_section(reports::section_facing(scene_.view, next, section.place));
      return true;
    }
    case Qt::Key_Comma:
    case Qt::Key_Period:
      section.place += event->key() == Qt::Key_Comma ? -section_step : section_step;
      section.place = std::clamp(section.place, 0.0, 1.0);
      set_section(section);
      return true;
    case Qt::Key_X:
      section.takes_high = !section.takes_high;
      set_section(section);
      return true;
    case Qt::Key_C:
      set_hue(scene_.hue == FrameHue::stress ? FrameHue::life : FrameHue::stress);
      return true;
    case Qt::Key_A:
      set_all_flags(!scene_.all_flags);
      return true;
    case Qt::Key_L:
      set_shaded(!is_shaded());
      return true;
    case Qt::Key_Space:
      run_motion(!is_running());
      return true;
    default:
      return false;
  }
}

void FrameView::keyPressEvent(QKeyEvent* event) {
  const bool shift = event->modifiers() & Qt::ShiftModifier;
  switch (event->key()) {
    case Qt::Key_Left:
      return move_by_key(-key_step_deg, 0, shift);
    case Qt::Key_Right:
      return move_by_key(key_step_deg, 0, shift);
    case Qt::Key_Up:
      return move_by_key(0, key_step_deg, shift);
    case Qt::Key_Down:
      return move_by_key(0, -key_step_deg, shift);
    case Qt::Key_Plus:
    case Qt::Key_Equal:
      return zoom(1.2);
    case Qt::Key_Minus:
      return zoom(1 / 1.2);
    case Qt::Key_Home:
      return fit();
    case Qt::Key_PageDown:
      return step(1);
    case Qt::Key_PageUp:
      return step(-1);
    default:
      if (event->modifiers() & (Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier) ||
          !set_by_key(event))
        QWidget::keyPressEvent(event);
  }
}

}  // namespace seamwright::desktop
