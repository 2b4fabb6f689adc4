// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/pages/frame_painter.h"

#include <Eigen/Geometry>
#include <QFontMetricsF>
#include <QPainterPath>
#include <QPolygonF>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "reports/content/weld_card.h"

namespace seamwright::reports {

namespace {

constexpr double radians = std::numbers::pi / 180;

// Rows: right, up, towards the viewer.
Eigen::Matrix3d axes_of(const FrameView& view) {
  const double t = view.turn_deg * radians, p = view.tip_deg * radians;
  const frame::Vec3 right(std::cos(t), std::sin(t), 0);
  const frame::Vec3 towards(std::sin(t) * std::cos(p), -std::cos(t) * std::cos(p), std::sin(p));
  Eigen::Matrix3d axes;
  axes.row(0) = right.transpose();
  axes.row(1) = towards.cross(right).transpose();
  axes.row(2) = towards.transpose();
  return axes;
}

class Scene {
 public:
  Scene(QPainter& painter, const QRectF& area, const FrameDrawing& drawing, const FrameView& view,
        const FrameLook& look)
      : painter_(painter), area_(area), drawing_(drawing), look_(look), axes_(axes_of(view)) {
    for (const auto& p : drawing.points) points_.push_back(p.at_mm);
    if (look.motion)
      for (std::size_t i = 0; i < points_.size() && i < look.motion->at.size(); ++i)
        points_[i] += scale_of_motion() * look.motion->at[i];
    middle_ = 0.5 * (drawing.least_mm + drawing.most_mm);
    scale_ = fitting_scale() * view.zoom;
    origin_ = area.center() + QPointF(view.moved.x() * area.width(), view.moved.y() * area.height());
  }

  FrameHits run() {
    painter_.save();
    painter_.setClipRect(area_);
    painter_.setRenderHint(QPainter::Antialiasing);
    wheels();
    tubes();
    if (look_.flags) {
      bands();
      flags();
    }
    scale_bar();
    triad();
    painter_.restore();
    return std::move(hits_);
  }

 private:
  double scale_of_motion() const {
    double largest = 0;
    for (const frame::Vec3& v : look_.motion->at) largest = std::max(largest, v.norm());
    return largest > 0 ? look_.motion_mm / largest : 0;
  }
  double fitting_scale() const {
    QRectF box;
    for (int corner = 0; corner < 8; ++corner) {
      frame::Vec3 p = drawing_.least_mm;
      for (int k = 0; k < 3; ++k)
        if (corner & (1 << k)) p[k] = drawing_.most_mm[k];
      const frame::Vec3 q = axes_ * (p - middle_);
      box = box.united(QRectF(q[0], -q[1], 1e-6, 1e-6));
    }
    constexpr double margin = 56;
    return std::max(1e-6, std::min((area_.width() - margin) / std::max(box.width(), 1.0),
                                   (area_.height() - margin) / std::max(box.height(), 1.0)));
  }
  QPointF at(const frame::Vec3& p) const {
    const frame::Vec3 q = axes_ * (p - middle_);
    return origin_ + scale_ * QPointF(q[0], -q[1]);
  }
  double depth(const frame::Vec3& p) const { return axes_.row(2) * (p - middle_); }

  void wheels() {
    painter_.setPen(QPen(look_.colours.faint, 1));
    painter_.setBrush(Qt::NoBrush);
    for (const auto& w : drawing_.wheels) {
      const frame::Vec3 ahead = w.axle.unitOrthogonal(), up = w.axle.cross(ahead);
      QPolygonF rim;
      for (int i = 0; i <= 60; ++i) {
        const double a = 6 * i * radians;
        rim << at(points_[w.point] + w.radius_mm * (std::cos(a) * ahead + std::sin(a) * up));
      }
      painter_.drawPolyline(rim);
    }
  }

  void tubes() {
    std::vector<std::size_t> order(drawing_.stretches.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::vector<double> depths;
    for (const auto& s : drawing_.stretches)
      depths.push_back(0.5 * (depth(points_[s.from]) + depth(points_[s.to])));
    std::sort(order.begin(), order.end(), [&](auto a, auto b) { return depths[a] < depths[b]; });
    const double far = depths.empty() ? 0 : depths[order.front()];
    const double span = depths.empty() ? 1 : std::max(1.0, depths[order.back()] - far);
    for (const std::size_t i : order) tube(drawing_.stretches[i], depths[i], (depths[i] - far) / span);
  }

  void tube(const FrameDrawing::Stretch& s, double depth_mm, double nearness) {
    const QPointF a = at(points_[s.from]), b = at(points_[s.to]);
    const double length = std::hypot(b.x() - a.x(), b.y() - a.y());
    const double half = std::max(0.8, 0.5 * s.diameter_mm * scale_);
    hits_.lines.push_back({s.member, a, b, half, depth_mm});
    const bool chosen = look_.chosen_members.contains(s.member);
    QColor line = chosen ? look_.colours.steel : look_.colours.ink;
    if (!chosen) line.setAlphaF(static_cast<float>(0.45 + 0.55 * nearness));
    QPen pen(line, chosen ? 1.8 : 0.6 + 0.7 * nearness);
    if (s.axial_only) pen.setStyle(Qt::DashLine);
    painter_.setPen(Qt::NoPen);
    painter_.setBrush(look_.colours.sheet);
    if (length < 1e-6) {  // seen along its axis
      painter_.setPen(pen);
      painter_.drawEllipse(a, half, half);
      return;
    }
    const QPointF across = QPointF(a.y() - b.y(), b.x() - a.x()) * (half / length);
    painter_.drawPolygon(QPolygonF{a + across, b + across, b - across, a - across});
    painter_.drawEllipse(a, half, half);
    painter_.drawEllipse(b, half, half);
    painter_.setPen(pen);
    painter_.drawLine(a + across, b + across);
    painter_.drawLine(a - across, b - across);
  }

  QPointF flag_point(const FrameDrawing::Flag& f) const {
    return at(f.at_mm + points_[f.point] - drawing_.points[f.point].at_mm);
  }
  double place_of(const std::string& id) const {
    const auto it = look_.used.find(id);
    return it == look_.used.end() ? 0 : place_of_used(it->second);
  }
  // Most used first: they get the room.
  std::vector<std::size_t> by_use() const {
    std::vector<std::size_t> order(drawing_.flags.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) {
      const auto& x = drawing_.flags[a].id;
      const auto& y = drawing_.flags[b].id;
      if ((x == look_.chosen) != (y == look_.chosen)) return x == look_.chosen;
      if ((x == look_.pointed) != (y == look_.pointed)) return x == look_.pointed;
      return place_of(x) > place_of(y);
    });
    return order;
  }

  // A ring around the member's end at the weld: its hue and thickness grow with the life used.
  void bands() {
    if (look_.used.empty()) return;
    std::vector<std::size_t> order = by_use();
    std::reverse(order.begin(), order.end());
    for (const std::size_t i : order) {
      const auto& f = drawing_.flags[i];
      const double place = place_of(f.id);
      const frame::Vec3 moved = f.at_mm + points_[f.point] - drawing_.points[f.point].at_mm;
      const frame::Vec3 u = f.along.unitOrthogonal(), v = f.along.cross(u);
      QPolygonF ring;
      for (int k = 0; k <= 24; ++k) {
        const double a = 15 * k * radians;
        ring << at(moved + 0.5 * f.diameter_mm * (std::cos(a) * u + std::sin(a) * v));
      }
      painter_.setBrush(Qt::NoBrush);
      painter_.setPen(QPen(used_colour(look_.colours, place), 1.2 + 4.8 * place));
      painter_.drawPolyline(ring);
    }
  }

  bool free_for(const QRectF& label) const {
    return area_.adjusted(2, 2, -2, -2).contains(label) &&
           std::none_of(hits_.flags.begin(), hits_.flags.end(),
                        [&](const auto& h) { return h.label.adjusted(-2, -2, 2, 2).intersects(label); });
  }
  // Outwards from the middle first, then around, then further off.
  QRectF room_for(QPointF point, QSizeF size) const {
    const QPointF away = point - origin_;
    const double first = std::atan2(away.y(), away.x());
    for (const double reach : {26.0, 44.0, 66.0, 92.0})
      for (const int step : {0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6}) {
        const double a = first + step * 30 * radians;
        const QPointF middle = point + reach * QPointF(std::cos(a), std::sin(a));
        const QRectF label(middle - QPointF(size.width() / 2, size.height() / 2), size);
        if (free_for(label)) return label;
      }
    return {};
  }

  void flags() {
    QFont font = painter_.font();
    font.setPointSizeF(font.pointSizeF() * 0.85);
    painter_.setFont(font);
    const QFontMetricsF metrics(font);
    for (const std::size_t i : by_use()) {
      const auto& f = drawing_.flags[i];
      const QPointF point = flag_point(f);
      const QString name = QString::fromStdString(f.id);
      QRectF label;
      if (area_.contains(point))
        label = room_for(point, QSizeF(metrics.horizontalAdvance(name) + 8, metrics.height() + 2));
      hits_.flags.push_back({f.id, label, point});
      const bool chosen = f.id == look_.chosen, pointed = f.id == look_.pointed;
      const QColor tint = look_.falls_short.contains(f.id) ? look_.colours.arc : look_.colours.faint;
      painter_.setPen(Qt::NoPen);
      painter_.setBrush(chosen ? look_.colours.steel : tint);
      painter_.drawEllipse(point, chosen ? 4.5 : 2.0, chosen ? 4.5 : 2.0);
      if (label.isEmpty()) continue;
      painter_.setPen(QPen(chosen || pointed ? look_.colours.steel : look_.colours.faint, 0.8));
      painter_.drawLine(point, label.center());
      painter_.setBrush(chosen ? look_.colours.steel : look_.colours.sheet);
      painter_.setPen(QPen(chosen || pointed ? look_.colours.steel : tint, chosen ? 1.4 : 0.8));
      painter_.drawRect(label);
      painter_.setPen(chosen ? look_.colours.sheet : look_.colours.ink);
      painter_.drawText(label, Qt::AlignCenter, name);
    }
  }

  // The longest round length below a fifth of the width.
  void scale_bar() {
    const double most = 0.2 * area_.width() / scale_;
    double length = std::pow(10, std::floor(std::log10(most)));
    for (const double step : {5.0, 2.0})
      if (length * step <= most) {
        length *= step;
        break;
      }
    const QPointF a(area_.left() + 16, area_.bottom() - 16), b = a + QPointF(length * scale_, 0);
    painter_.setPen(QPen(look_.colours.faint, 1));
    painter_.drawLine(a, b);
    for (const QPointF& end : {a, b}) painter_.drawLine(end - QPointF(0, 4), end + QPointF(0, 4));
    painter_.drawText(QRectF(a.x(), a.y() - 22, std::max(80.0, b.x() - a.x()), 18), Qt::AlignLeft,
                      QString::number(length) + QStringLiteral("\u00a0mm"));
  }

  void triad() {
    const QPointF middle(area_.right() - 44, area_.bottom() - 44);
    static const char* names[] = {"x", "y", "z"};
    painter_.setPen(QPen(look_.colours.faint, 1));
    for (int k = 0; k < 3; ++k) {
      const QPointF end = middle + 24 * QPointF(axes_(0, k), -axes_(1, k));
      painter_.drawLine(middle, end);
      painter_.drawText(QRectF(end.x() + 4 * axes_(0, k) - 8, end.y() - 4 * axes_(1, k) - 9, 16, 18),
                        Qt::AlignCenter, QString::fromLatin1(names[k]));
    }
  }

  QPainter& painter_;
  QRectF area_;
  const FrameDrawing& drawing_;
  const FrameLook& look_;
  Eigen::Matrix3d axes_;
  std::vector<frame::Vec3> points_;
  frame::Vec3 middle_{0, 0, 0};
  double scale_ = 1;
  QPointF origin_;
  FrameHits hits_;
};

double distance(QPointF p, const FrameHits::Line& line) {
  const QPointF d = line.to - line.from;
  const double length2 = QPointF::dotProduct(d, d);
  const double t = length2 > 0 ? std::clamp(QPointF::dotProduct(p - line.from, d) / length2, 0.0, 1.0) : 0.0;
  const QPointF off = p - (line.from + t * d);
  return std::hypot(off.x(), off.y());
}

}  // namespace

QColor used_colour(const FrameColours& c, double place) {
  const auto mix = [&](int a, int b) { return static_cast<int>(std::lround(a + place * (b - a))); };
  return {mix(c.pale.red(), c.deep.red()), mix(c.pale.green(), c.deep.green()),
          mix(c.pale.blue(), c.deep.blue())};
}

FrameHits paint_frame(QPainter& painter, const QRectF& area, const FrameDrawing& drawing,
                      const FrameView& view, const FrameLook& look) {
  if (drawing.points.empty() || area.width() < 8 || area.height() < 8) return {};
  return Scene(painter, area, drawing, view, look).run();
}

std::string flag_at(const FrameHits& hits, QPointF point, double reach) {
  for (const auto& f : hits.flags)
    if (f.label.adjusted(-2, -2, 2, 2).contains(point)) return f.id;
  std::string found;
  for (const auto& f : hits.flags) {
    const double d = std::hypot(f.at.x() - point.x(), f.at.y() - point.y());
    if (d > reach) continue;
    reach = d;
    found = f.id;
  }
  return found;
}

std::string member_at(const FrameHits& hits, QPointF point, double reach) {
  const FrameHits::Line* found = nullptr;
  for (const auto& line : hits.lines)
    if (distance(point, line) <= std::max(line.half_width, reach) && (!found || line.depth > found->depth))
      found = &line;
  return found ? found->member : std::string();
}

}  // namespace seamwright::reports
