// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/frame_picture.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "engine/evidence/constants.h"
#include "reports/content/frame_names.h"
#include "reports/content/true_scale.h"
#include "reports/content/weld_card.h"

namespace seamwright::reports {

namespace {

struct Box {
  double x0, y0, x1, y1;
  bool meets(const Box& o, double apart) const {
    return x0 < o.x1 + apart && o.x0 < x1 + apart && y0 < o.y1 + apart && o.y0 < y1 + apart;
  }
};

// A view in this direction, of the whole frame.
bool is_from(const FrameView& view, double turn_deg, double tip_deg) {
  return view.turn_deg == turn_deg && view.tip_deg == tip_deg && view.joint.empty();
}

class Scene {
 public:
  Scene(const FrameDrawing& drawing, const FrameView& view, const FrameLook& look, double width, double height,
        const Border* border = nullptr)
      : drawing_(drawing),
        look_(look),
        border_(border),
        width_(width),
        height_(height),
        camera_(camera_of(drawing, view, width, height)),
        kept_(kept_by(view.section, drawing)) {
    find_lines(view);
    for (const auto& p : drawing.points) points_.push_back(p.at_mm);
    if (look.motion)
      for (std::size_t i = 0; i < points_.size() && i < look.motion->at.size(); ++i)
        points_[i] += motion_scale(look) * look.motion->at[i];
    out_.picture.width_mm = width;
    out_.picture.height_mm = height;
  }

  FramePicture run() {
    if (look_.body) wheels();
    if (look_.motion && look_.body) ghost(drawing_, Dash::dashed);
    if (look_.second) ghost(*look_.second, Dash::dotted);
    if (look_.body) tubes();
    if (lines_ && look_.body) solid_lines();
    if (look_.flags) {
      if (look_.body) bands();
      if (border_)
        names_around();
      else
        flags();
    }
    if (look_.marks) {
      scale_bar();
      triad();
    }
    return std::move(out_);
  }

 private:
  // Views by the kernel show the whole frame at rest.
  void find_lines(const FrameView& view) {
    if (look_.motion || kept_) return;
    for (const auto& [name, lines] : drawing_.views.lines)
      if (const FrameView named = view_of(name); is_from(view, named.turn_deg, named.tip_deg)) lines_ = &lines;
    if (look_.turned && is_from(view, look_.turned->turn_deg, look_.turned->tip_deg)) lines_ = &look_.turned->lines;
  }

  Point projected(const frame::Vec3& p) const { return reports::projected(camera_, p); }
  double depth(const frame::Vec3& p) const { return depth_mm(camera_, p); }
  void path(std::vector<Point> points, bool closed, const Pen& pen, const Colour& fill = {}) {
    out_.picture.items.emplace_back(Path{std::move(points), closed, pen, fill});
  }

  void wheels() {
    for (const auto& w : drawing_.wheels) {
      const frame::Vec3 ahead = w.axle.unitOrthogonal(), up = w.axle.cross(ahead);
      std::vector<Point> rim;
      for (int i = 0; i < 60; ++i) {
        const double a = 6 * i * degree;
        rim.push_back(projected(points_[w.point] + w.radius_mm * (std::cos(a) * ahead + std::sin(a) * up)));
      }
      path(std::move(rim), true, {{Ink::faint, 0}, 0.15, Dash::solid});
    }
  }

  // The frame at rest behind the moved one, or a second design behind the first.
  void ghost(const FrameDrawing& behind, Dash dash) {
    for (const auto& s : behind.stretches)
      path({projected(behind.points[s.from].at_mm), projected(behind.points[s.to].at_mm)}, false,
           {{dash == Dash::dotted ? Ink::steel : Ink::grid, 0}, 0.25, dash});
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

  bool is_kept(const frame::Vec3& p) const { return !kept_ || kept_->normal.dot(p) <= kept_->offset_mm; }
  // The section leaves so much of a stretch; false when nothing.
  bool keep(frame::Vec3& from, frame::Vec3& to) const {
    if (!is_kept(from) && !is_kept(to)) return false;
    if (is_kept(from) && is_kept(to)) return true;
    const double out = kept_->offset_mm - kept_->normal.dot(from), along = kept_->normal.dot(to - from);
    (is_kept(from) ? to : from) = from + out / along * (to - from);
    return true;
  }

  void tube(const FrameDrawing::Stretch& s, double depth_mm, double nearness) {
    frame::Vec3 from = points_[s.from], to = points_[s.to];
    if (!keep(from, to)) return;
    const Point a = projected(from), b = projected(to);
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    const double half = std::max(0.2, 0.5 * s.diameter_mm * camera_.scale);
    out_.hits.lines.push_back({s.member, a, b, half, depth_mm});
    if (lines_) return;
    const bool chosen = look_.chosen_members.contains(s.member);
    const Pen pen{{chosen            ? Ink::steel
                   : nearness < 0.35 ? Ink::faint
                                     : Ink::ink,
                   0},
                  chosen ? 0.45 : 0.12 + 0.16 * nearness,
                  s.axial_only ? Dash::dashed : Dash::solid};
    const Pen none{{Ink::none, 0}, 0, Dash::solid};
    const Colour sheet{Ink::sheet, 0};
    if (length < 1e-3) {  // seen along its axis
      out_.picture.items.emplace_back(Circle{a, half, pen, sheet});
      return;
    }
    const Point across{(a.y - b.y) * half / length, (b.x - a.x) * half / length};
    const Point a1{a.x + across.x, a.y + across.y}, a2{a.x - across.x, a.y - across.y},
        b1{b.x + across.x, b.y + across.y}, b2{b.x - across.x, b.y - across.y};
    path({a1, b1, b2, a2}, true, none, sheet);
    for (const Point& end : {a, b}) out_.picture.items.emplace_back(Circle{end, half, none, sheet});
    path({a1, b1}, false, pen);
    path({a2, b2}, false, pen);
  }

  // The solids as the kernel sees them: hidden lines thin and faint, behind those that are seen.
  void solid_lines() {
    const Eigen::Vector2d centre = (camera_.axes * camera_.centre_mm).head<2>();
    for (const bool visible : {false, true})
      for (const shape::ViewLine& l : *lines_) {
        if (l.visible != visible) continue;
        std::vector<Point> points;
        for (const Eigen::Vector2d& p : l.points)
          points.push_back({camera_.middle.x + camera_.scale * (p.x() - centre.x()),
                            camera_.middle.y - camera_.scale * (p.y() - centre.y())});
        const bool chosen = look_.chosen_members.contains(l.id);
        const Ink ink = chosen ? Ink::steel : visible ? Ink::ink : Ink::grid;
        const double width = chosen ? 0.4 : visible ? 0.22 : 0.1;
        path(std::move(points), false, {{ink, 0}, width, Dash::solid});
      }
  }

  Point flag_point(const FrameDrawing::Flag& f) const {
    return projected(f.at_mm + points_[f.point] - drawing_.points[f.point].at_mm);
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
      if (!is_kept(f.at_mm)) continue;
      const double place = place_of(f.id);
      const frame::Vec3 moved = f.at_mm + points_[f.point] - drawing_.points[f.point].at_mm;
      const frame::Vec3 u = f.along.unitOrthogonal(), v = f.along.cross(u);
      std::vector<Point> ring;
      for (int k = 0; k < 24; ++k) {
        const double a = 15 * k * degree;
        ring.push_back(projected(moved + 0.5 * f.diameter_mm * (std::cos(a) * u + std::sin(a) * v)));
      }
      // Not covered: never like a weld of which little is used.
      if (look_.not_covered.contains(f.id))
        path(std::move(ring), true, {{Ink::faint, 0}, 0.9, Dash::dashed});
      else
        path(std::move(ring), true, {{Ink::scale, place}, 0.3 + 1.2 * place, Dash::solid});
    }
  }

  bool free_for(const Box& label) const {
    if (label.x0 < 0.5 || label.y0 < 0.5 || label.x1 > width_ - 0.5 || label.y1 > height_ - 0.5) return false;
    return std::none_of(taken_.begin(), taken_.end(), [&](const Box& t) { return label.meets(t, 0.6); });
  }
  // Outwards from the middle first, then around, then further off.
  std::optional<Box> room_for(const Point& point, double wide) const {
    const double first = std::atan2(point.y - camera_.middle.y, point.x - camera_.middle.x);
    for (double reach = 7; reach < std::max(width_, height_); reach += 4.5)
      for (const int step : {0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6, 7, -7, 8, -8, 9}) {
        const double a = first + step * 20 * degree;
        const double x = point.x + reach * std::cos(a), y = point.y + reach * std::sin(a);
        const Box label{x - wide / 2, y - name_high_mm / 2, x + wide / 2, y + name_high_mm / 2};
        if (free_for(label)) return label;
      }
    return {};
  }

  void flags() {
    std::vector<std::pair<std::size_t, std::optional<Box>>> placed;
    // These corners are kept free, so that what lies in them stays readable.
    taken_ = {{0, height_ - 11, 45, height_}, {width_ - 20, height_ - 20, width_, height_}};
    if (!look_.used.empty()) taken_.push_back({width_ - 55, 0, width_, 14});  // where windows put the scale
    for (const auto& f : drawing_.flags) {
      const Point p = flag_point(f);
      taken_.push_back({p.x - 0.6, p.y - 0.6, p.x + 0.6, p.y + 0.6});
    }
    for (const std::size_t i : by_use()) {
      const auto& f = drawing_.flags[i];
      if (!is_kept(f.at_mm)) continue;
      const bool named = placed.size() < look_.most_flags;
      if (!named && !look_.body) break;  // where bands show every weld
      const Point p = flag_point(f);
      std::optional<Box> label;
      if (named && p.x > 0 && p.y > 0 && p.x < width_ && p.y < height_) label = room_for(p, name_width_mm(f.id) + 2);
      if (label) taken_.push_back(*label);
      placed.emplace_back(i, label);
      if (label)
        path({p, {(label->x0 + label->x1) / 2, (label->y0 + label->y1) / 2}}, false,
             {{Ink::faint, 0}, 0.12, Dash::solid});
    }
    for (const auto& [i, label] : placed) flag(drawing_.flags[i], label);  // over all leaders
  }

  void flag(const FrameDrawing::Flag& f, const std::optional<Box>& label) {
    const Point p = flag_point(f);
    const bool chosen = f.id == look_.chosen, pointed = f.id == look_.pointed;
    const Ink tint = look_.falls_short.contains(f.id) ? Ink::arc : Ink::faint;
    const Pen none{{Ink::none, 0}, 0, Dash::solid};
    out_.picture.items.emplace_back(Circle{p, chosen ? 1.2 : 0.55, none, {chosen ? Ink::steel : tint, 0}});
    if (!label) {
      out_.hits.flags.push_back({f.id, p, {0, 0}, p});
      ++out_.unnamed;
      return;
    }
    out_.hits.flags.push_back(
        {f.id, {label->x0, label->y0}, {label->x1 - label->x0, label->y1 - label->y0}, p});
    path({{label->x0, label->y0}, {label->x1, label->y0}, {label->x1, label->y1}, {label->x0, label->y1}},
         true,
         {{chosen || pointed ? Ink::steel : tint, 0}, chosen || tint == Ink::arc ? 0.35 : 0.15, Dash::solid},
         {chosen ? Ink::steel : Ink::sheet, 0});
    out_.picture.items.emplace_back(PictureText{{(label->x0 + label->x1) / 2, label->y1 - 0.95},
                                                Verbatim{f.id},
                                                name_type_mm,
                                                PictureText::Anchor::middle,
                                                {chosen ? Ink::sheet : Ink::ink, 0}});
  }

  // Names outside the frame, which ends where they begin: one leader for all flags of a place.
  void names_around() {
    out_.picture = cropped(out_.picture, border_->inner);
    const std::vector<FlagPlace> shown = shown_flags();
    std::vector<NamedPlace> places = named_places(shown);
    std::vector<Point> dots;
    for (const NamedPlace& p : places) dots.push_back(p.at);
    const auto labels = border_labels(dots, *border_);
    for (std::size_t i = 0; i < places.size(); ++i)
      if (labels[i]) {
        out_.hits.leaders.push_back({places[i].at, labels[i]->end});
        path({places[i].at, labels[i]->end}, false, {{Ink::steel, 0}, 0.12, Dash::solid});
      }
    for (std::size_t i = 0; i < places.size(); ++i) {
      for (const std::size_t f : places[i].flags) note_flag(shown[f], labels[i]);
      name(places[i], shown, labels[i]);
    }
  }

  // What stands within the border, the most used first.
  std::vector<FlagPlace> shown_flags() const {
    std::vector<FlagPlace> shown;
    for (const std::size_t i : by_use()) {
      const auto& f = drawing_.flags[i];
      const Point p = flag_point(f);
      const Rectangle& r = border_->inner;
      if (shown.size() < look_.most_flags && is_kept(f.at_mm) &&
          (look_.named.empty() || look_.named.contains(f.id)) && p.x > r.left && p.x < r.right &&
          p.y > r.top && p.y < r.bottom)
        shown.push_back({f.id, p});
    }
    return shown;
  }

  void note_flag(const FlagPlace& flag, const std::optional<BorderLabel>& label) {
    if (!label) ++out_.unnamed;
    out_.hits.flags.push_back(
        label ? FrameHits::Flag{flag.id,
                                {label->box.left, label->box.top},
                                {label->box.right - label->box.left, label->box.bottom - label->box.top},
                                flag.at}
              : FrameHits::Flag{flag.id, flag.at, {0, 0}, flag.at});
  }

  void name(const NamedPlace& place, const std::vector<FlagPlace>& shown,
            const std::optional<BorderLabel>& label) {
    const auto any = [&](const auto& holds) {
      return std::any_of(place.flags.begin(), place.flags.end(),
                         [&](std::size_t f) { return holds(shown[f].id); });
    };
    const bool chosen = any([&](const std::string& id) { return id == look_.chosen; });
    const bool short_of_life = any([&](const std::string& id) { return look_.falls_short.contains(id); });
    const Ink tint = short_of_life && !chosen ? Ink::arc : Ink::steel;
    out_.picture.items.emplace_back(
        Circle{place.at, chosen ? 1.2 : 0.45, {{Ink::none, 0}, 0, Dash::solid}, {tint, 0}});
    if (!label) return;
    using Side = BorderLabel::Side;
    const Rectangle& b = label->box;
    const Side side = label->side;
    const double x = side == Side::left    ? b.right - 0.8
                     : side == Side::right ? b.left + 0.8
                                           : 0.5 * (b.left + b.right);
    const double wide = name_width_mm(place.name),
                 left = side == Side::left    ? x - wide
                        : side == Side::right ? x
                                              : x - wide / 2;
    if (chosen)
      path({{left - 0.5, b.top}, {left + wide + 0.5, b.top}, {left + wide + 0.5, b.bottom}, {left - 0.5, b.bottom}},
           true, {{tint, 0}, 0.2, Dash::solid}, {tint, 0});
    out_.picture.items.emplace_back(PictureText{{x, b.bottom - 0.75},
                                                Verbatim{place.name},
                                                name_type_mm,
                                                side == Side::left    ? PictureText::Anchor::end
                                                : side == Side::right ? PictureText::Anchor::start
                                                                      : PictureText::Anchor::middle,
                                                {chosen          ? Ink::sheet
                                                 : short_of_life ? Ink::arc
                                                                 : Ink::ink,
                                                 0},
                                                short_of_life});
  }

  // The longest round length below a fifth of the width.
  void scale_bar() {
    const double most = 0.2 * width_ / camera_.scale;
    double length = std::pow(10, std::floor(std::log10(most)));
    for (const double step : {5.0, 2.0})
      if (length * step <= most) {
        length *= step;
        break;
      }
    const Point a{3, height_ - 3}, b{3 + length * camera_.scale, height_ - 3};
    const Pen pen{{Ink::faint, 0}, 0.2, Dash::solid};
    path({a, b}, false, pen);
    for (const Point& end : {a, b}) path({{end.x, end.y - 1}, {end.x, end.y + 1}}, false, pen);
    out_.picture.items.emplace_back(PictureText{
        {3, height_ - 5}, Quantity{length, "mm", 3}, 2.6, PictureText::Anchor::start, {Ink::faint, 0}});
  }

  void triad() {
    const Point middle{width_ - 10, height_ - 10};
    static const char* names[] = {"x", "y", "z"};
    for (int k = 0; k < 3; ++k) {
      const Point along{camera_.axes(0, k), -camera_.axes(1, k)};
      if (std::hypot(along.x, along.y) < 0.1) continue;  // towards the viewer
      path({middle, {middle.x + 6 * along.x, middle.y + 6 * along.y}}, false,
           {{Ink::faint, 0}, 0.2, Dash::solid});
      out_.picture.items.emplace_back(PictureText{{middle.x + 7.6 * along.x, middle.y + 7.6 * along.y + 0.9},
                                                  Verbatim{std::string(names[k])},
                                                  2.6,
                                                  PictureText::Anchor::middle,
                                                  {Ink::faint, 0}});
    }
  }

  const FrameDrawing& drawing_;
  const FrameLook& look_;
  const Border* border_;
  double width_, height_;
  FrameCamera camera_;
  std::optional<HalfSpace> kept_;
  std::vector<frame::Vec3> points_;
  const std::vector<shape::ViewLine>* lines_ = nullptr;
  std::vector<Box> taken_;
  FramePicture out_;
};

}  // namespace

double motion_scale(const FrameLook& look) {
  double largest = 0;
  if (look.motion)
    for (const frame::Vec3& v : look.motion->at) largest = std::max(largest, v.norm());
  return largest > 0 ? look.motion_mm * look.motion_share / largest : 0;
}

FrameLook look_of(const rating::Rating& rating) {
  FrameLook look;
  for (const Strip& s : strips_of(rating)) {
    look.used[s.id] = s.used;
    if (s.verdict == rating::Verdict::falls_short) look.falls_short.insert(s.id);
    if (s.verdict == rating::Verdict::not_covered) look.not_covered.insert(s.id);
  }
  return look;
}

Border border_of(const FrameDrawing& drawing, const FrameView& view, const FrameLook& look, double width_mm,
                 double height_mm) {
  const FrameCamera camera = camera_of(drawing, view, width_mm, height_mm);
  std::vector<FlagPlace> flags;
  for (const FrameDrawing::Flag& f : drawing.flags)
    if (look.named.empty() || look.named.contains(f.id)) flags.push_back({f.id, projected(camera, f.at_mm)});
  return names_border(named_places(flags), width_mm, height_mm);
}

FrameView fitted_within(const FrameDrawing& drawing, const FrameView& view, const Border& border,
                        double height_mm) {
  if (view.held) return view;
  FrameView fitted = view;
  fitted.margin_mm = 6;  // half a tube beyond the outermost points
  const FrameCamera camera = camera_of(drawing, fitted, border.inner.right - border.inner.left,
                                       border.inner.bottom - border.inner.top);
  fitted.held = {camera.centre_mm, height_mm / camera.scale};
  return fitted;
}

FramePicture frame_picture(const FrameDrawing& drawing, const FrameView& view, const FrameLook& look,
                           double width_mm, double height_mm) {
  if (drawing.points.empty() || width_mm < 20 || height_mm < 20) return {{width_mm, height_mm, {}}, {}, 0};
  if (!look.flags || look.names == FrameLook::Names::beside)
    return Scene(drawing, view, look, width_mm, height_mm).run();
  const Border border = border_of(drawing, view, look, width_mm, height_mm);
  return Scene(drawing, fitted_within(drawing, view, border, height_mm), look, width_mm, height_mm, &border).run();
}

std::string flag_at(const FrameHits& hits, const Point& point, double reach_mm) {
  for (const auto& f : hits.flags)
    if (f.label_size.x > 0 && point.x >= f.label.x && point.x <= f.label.x + f.label_size.x &&
        point.y >= f.label.y && point.y <= f.label.y + f.label_size.y)
      return f.id;
  std::string found;
  for (const auto& f : hits.flags) {
    const double d = std::hypot(f.at.x - point.x, f.at.y - point.y);
    if (d > reach_mm) continue;
    reach_mm = d;
    found = f.id;
  }
  return found;
}

namespace {

double distance(const Point& p, const FrameHits::Line& line) {
  const Point d{line.to.x - line.from.x, line.to.y - line.from.y};
  const double length2 = d.x * d.x + d.y * d.y;
  const double along = (p.x - line.from.x) * d.x + (p.y - line.from.y) * d.y;
  const double t = length2 > 0 ? std::clamp(along / length2, 0.0, 1.0) : 0.0;
  return std::hypot(p.x - line.from.x - t * d.x, p.y - line.from.y - t * d.y);
}

}  // namespace

std::string member_at(const FrameHits& hits, const Point& point, double reach_mm) {
  const FrameHits::Line* found = nullptr;
  for (const auto& line : hits.lines)
    if (distance(point, line) <= std::max(line.half_width, reach_mm) && (!found || line.depth > found->depth))
      found = &line;
  return found ? found->member : std::string();
}

}  // namespace seamwright::reports
