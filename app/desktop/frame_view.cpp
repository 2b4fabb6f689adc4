// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/frame_view.h"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "reports/pages/paint.h"

namespace seamwright::desktop {

namespace {

constexpr double degrees_per_pixel = 0.4, key_step_deg = 5;
constexpr double least_zoom = 0.3, largest_zoom = 20;

}  // namespace

FrameView::FrameView(QWidget* parent) : QWidget(parent) {
  setFocusPolicy(Qt::StrongFocus);
  setMouseTracking(true);
  setAccessibleName(sentence_of("window.frame-view"));
  setAccessibleDescription(sentence_of("window.frame-view-keys"));
  setWhatsThis(sentence_of("window.frame-view-keys"));
}

void FrameView::set_drawing(reports::FrameDrawing drawing) {
  drawing_ = std::move(drawing);
  if (rated_ && motion_ >= 0 && rated_->motions.size() > static_cast<std::size_t>(motion_) &&
      rated_->motions[static_cast<std::size_t>(motion_)].at.size() != drawing_.points.size())
    look_.motion = nullptr;  // of another set of nodes, until it is rated again
  update();
}

void FrameView::set_rated(std::shared_ptr<const RatedJob> rated) {
  rated_ = std::move(rated);
  const reports::FrameLook shown = rated_ ? reports::look_of(rated_->rating) : reports::FrameLook();
  look_.used = shown.used;
  look_.falls_short = shown.falls_short;
  look_.not_covered = shown.not_covered;
  show_motion(motion_);
}

void FrameView::set_second(std::shared_ptr<const reports::FrameDrawing> second) {
  second_ = std::move(second);
  look_.second = second_.get();
  update();
}

void FrameView::choose(const QString& flag) {
  look_.chosen = flag.toStdString();
  update();
}

void FrameView::choose_members(const std::set<std::string>& members) {
  look_.chosen_members = members;
  update();
}

void FrameView::show_motion(int index) {
  motion_ = index;
  look_.motion = nullptr;
  if (rated_ && index >= 0 && static_cast<std::size_t>(index) < rated_->motions.size()) {
    look_.motion = &rated_->motions[static_cast<std::size_t>(index)];
    constexpr double share_of_size = 0.06;
    look_.motion_mm = share_of_size * (drawing_.most_mm - drawing_.least_mm).norm();
  }
  update();
}

void FrameView::look_from(double turn_deg, double tip_deg) {
  view_.turn_deg = turn_deg;
  view_.tip_deg = tip_deg;
  update();
}

void FrameView::fit() {
  view_.zoom = 1;
  view_.moved_mm = {0, 0};
  update();
}

void FrameView::zoom(double by) {
  view_.zoom = std::clamp(view_.zoom * by, least_zoom, largest_zoom);
  update();
}

void FrameView::step(int by) {
  if (!rated_ || rated_->strips.empty()) return;
  const auto& strips = rated_->strips;
  const auto it =
      std::find_if(strips.begin(), strips.end(), [&](const auto& s) { return s.id == look_.chosen; });
  const int count = static_cast<int>(strips.size());
  const int now = it == strips.end() ? (by > 0 ? -1 : 0) : static_cast<int>(it - strips.begin());
  emit flag_chosen(QString::fromStdString(strips[static_cast<std::size_t>((now + by + count) % count)].id));
}

double FrameView::per_mm() const {
  constexpr double type_mm = 3.6;  // height of a line of hints
  return fontMetrics().height() / type_mm;
}

reports::Point FrameView::in_mm(QPointF pixels) const {
  return {pixels.x() / per_mm(), pixels.y() / per_mm()};
}

void FrameView::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.fillRect(rect(), colours().sheet);
  painter.setFont(hint_font());
  reports::FramePicture drawn =
      reports::frame_picture(drawing_, view_, look_, width() / per_mm(), height() / per_mm());
  reports::paint(painter, QPointF(0, 0), per_mm(), drawn.picture, language(), picture_colour);
  hits_ = std::move(drawn.hits);
  if (rated_) paint_scale(painter);
  if (look_.motion) {
    painter.setPen(colours().faint);
    painter.drawText(rect().adjusted(12, 8, -12, -8), Qt::AlignTop | Qt::AlignLeft,
                     sentence_of(look_.motion->name));
  }
  painter.setPen(QPen(hasFocus() ? colours().steel : colours().hairline, 1));
  painter.drawRect(rect().adjusted(0, 0, -1, -1));
}

// The hue of the rings with its ends in figures.
void FrameView::paint_scale(QPainter& painter) {
  constexpr int wide = 160, steps = 40;
  const int high = painter.fontMetrics().height();
  const QRect area(width() - wide - 16, 10, wide, 2 * high + 14);
  painter.setPen(colours().faint);
  painter.drawText(QRect(area.left() - 80, area.top(), wide + 80, high), Qt::AlignRight,
                   sentence_of("window.life-used-log"));
  for (int i = 0; i < steps; ++i) {
    const double place = (i + 0.5) / steps;
    const double thick = 1.2 + 4.8 * place;
    painter.fillRect(QRectF(area.left() + i * wide / double(steps), area.top() + high + 6 - thick / 2,
                            wide / double(steps) + 0.5, thick),
                     used_colour(place));
  }
  const int below = area.top() + high + 11;
  painter.drawText(QRect(area.left(), below, wide, high), Qt::AlignLeft,
                   quantity(reports::least_used, "", 1));
  painter.drawText(QRect(area.left(), below, wide, high), Qt::AlignRight,
                   quantity(reports::most_used, "", 3));
  const int one = area.left() + static_cast<int>(reports::place_of_used(1) * wide);
  painter.drawText(QRect(one - 30, below, 60, high), Qt::AlignHCenter, quantity(1, "", 1));
  painter.drawLine(one, area.top() + high + 1, one, area.top() + high + 11);
}

void FrameView::mousePressEvent(QMouseEvent* event) {
  pressed_ = last_ = event->position();
  dragged_ = false;
}

void FrameView::mouseMoveEvent(QMouseEvent* event) {
  const QPointF moved = event->position() - last_;
  if (event->buttons() == Qt::NoButton) {
    const std::string before = look_.pointed;
    look_.pointed = reports::flag_at(hits_, in_mm(event->position()), 3);
    if (look_.pointed != before) update();
    return;
  }
  if ((event->position() - pressed_).manhattanLength() > 4) {
    dragged_ = true;
    look_.flags = false;  // placing four hundred labels takes longer than a hand waits
  }
  last_ = event->position();
  if (!dragged_) return;
  if (event->buttons() & (Qt::RightButton | Qt::MiddleButton) || event->modifiers() & Qt::ShiftModifier)
    view_.moved_mm = {view_.moved_mm.x + moved.x() / per_mm(), view_.moved_mm.y + moved.y() / per_mm()};
  else
    look_from(view_.turn_deg - degrees_per_pixel * moved.x(),
              std::clamp(view_.tip_deg + degrees_per_pixel * moved.y(), -90.0, 90.0));
  update();
}

void FrameView::mouseReleaseEvent(QMouseEvent* event) {
  if (!look_.flags) {
    look_.flags = true;
    update();
  }
  if (dragged_ || event->button() != Qt::LeftButton) return;
  if (const std::string flag = reports::flag_at(hits_, in_mm(event->position()), 3); !flag.empty())
    emit flag_chosen(QString::fromStdString(flag));
  else if (const std::string member = reports::member_at(hits_, in_mm(event->position()), 1); !member.empty())
    emit member_chosen(QString::fromStdString(member));
}

void FrameView::wheelEvent(QWheelEvent* event) {
  zoom(std::pow(1.0015, event->angleDelta().y()));
  event->accept();
}

void FrameView::leaveEvent(QEvent*) {
  look_.pointed.clear();
  update();
}

void FrameView::keyPressEvent(QKeyEvent* event) {
  const bool shift = event->modifiers() & Qt::ShiftModifier;
  const auto turn = [&](double turn_deg, double tip_deg) {
    if (shift)
      view_.moved_mm = {view_.moved_mm.x - turn_deg, view_.moved_mm.y - tip_deg};
    else
      look_from(view_.turn_deg + turn_deg, std::clamp(view_.tip_deg + tip_deg, -90.0, 90.0));
    update();
  };
  switch (event->key()) {
    case Qt::Key_Left:
      return turn(-key_step_deg, 0);
    case Qt::Key_Right:
      return turn(key_step_deg, 0);
    case Qt::Key_Up:
      return turn(0, key_step_deg);
    case Qt::Key_Down:
      return turn(0, -key_step_deg);
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
      QWidget::keyPressEvent(event);
  }
}

}  // namespace seamwright::desktop
