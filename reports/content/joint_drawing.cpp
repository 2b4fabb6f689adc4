// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/joint_drawing.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/evidence/constants.h"
#include "engine/shape/fillet.h"
#include "engine/shape/pieces.h"
#include "reports/content/dimensioned_views.h"
#include "reports/content/dimensions.h"

namespace seamwright::reports {

namespace {

using Flat2 = Eigen::Vector2d;

constexpr double beside_mm = 27, around_mm = 8, name_room_mm = 8, note_wide_mm = 17;

struct Extent2 {
  Flat2 least{1e300, 1e300}, most{-1e300, -1e300};
  Flat2 size() const { return most - least; }
};

Extent2 extent_of(const std::vector<shape::ViewLine>& lines) {
  Extent2 e;
  for (const shape::ViewLine& l : lines)
    for (const Flat2& p : l.points) {
      e.least = e.least.cwiseMin(p);
      e.most = e.most.cwiseMax(p);
    }
  if (lines.empty()) e.least = e.most = Flat2::Zero();
  return e;
}

// A view laid into a picture: its origin there, and the scale.
struct Laid {
  Point origin;
  double scale = 1;
  Point place(const Flat2& p) const { return {origin.x + scale * p.x(), origin.y - scale * p.y()}; }
};

Laid laid(const Extent2& e, double left, double top, int reduction) {
  const double scale = 1.0 / reduction;
  return {{left - scale * e.least.x(), top + scale * e.most.y()}, scale};
}

void add_lines(Picture& p, const std::vector<shape::ViewLine>& lines, const Laid& where) {
  for (const bool visible : {false, true})
    for (const shape::ViewLine& l : lines) {
      if (l.visible != visible) continue;
      std::vector<Point> points;
      for (const Flat2& q : l.points) points.push_back(where.place(q));
      p.items.emplace_back(Path{std::move(points),
                                false,
                                visible ? Pen{{Ink::ink, 0}, 0.35, Dash::solid} : Pen{{Ink::faint, 0}, 0.13, Dash::dashed},
                                {}});
    }
}

// A chain line: an axis.
void add_axis(Picture& p, const Point& a, const Point& b) {
  constexpr double dash = 6, dot = 0.6, gap = 1.2;
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  const auto at_mm = [&](double mm) {
    return Point{a.x + mm / length * (b.x - a.x), a.y + mm / length * (b.y - a.y)};
  };
  const auto stroke = [&](double from, double to) {
    if (from < length)
      p.items.emplace_back(Path{{at_mm(from), at_mm(std::min(to, length))}, false, {{Ink::ink, 0}, 0.13, Dash::solid}, {}});
  };
  for (double from = 0; from < length; from += dash + dot + 2 * gap) {
    stroke(from, from + dash);
    stroke(from + dash + gap, from + dash + gap + dot);
  }
}

Cell section_cell(const frame::Section& section) {
  const auto plain = [](const char* name, double mm) {
    const double tenths = std::round(10 * mm);
    return number(name, tenths / 10, "");
  };
  if (const auto* t = std::get_if<frame::RoundTube>(&section))
    return Message{"drawing.tube", {plain("diameter", t->diameter_mm), plain("wall", t->wall_mm)}};
  return Message{"drawing.bar", {plain("diameter", 2 * shape::outer_radius_mm(section))}};
}

// Axes, angle, sizes and throat on the view square to both axes.
class Measures {
 public:
  Measures(Picture& picture, const Laid& where, const Extent2& seen, const design::Design& design, const joints::Weld& weld,
           const shape::JointPlan& joint)
      : p_(picture), where_(where), seen_(seen), design_(design), weld_(weld), joint_(joint) {}

  void add() {
    const Flat2 brace = flat(joint_.brace).normalized();
    const double reach = joint_.reach_mm;
    if (!weld_.member.empty()) {
      add_axis(p_, where_.place(-0.1 * reach * brace), where_.place(1.06 * reach * brace));
      // Its size stands where there is room: on the side away from the sharp corner.
      const double side = brace.x() > 0 ? -1 : 1;
      const Flat2 across = side * Flat2(brace.y(), -brace.x());
      note(0.82 * reach * brace + radius_mm(weld_.member) * across, {side * 7, -4}, section_cell(section(weld_.member)),
           LeaderEnd::arrow);
    }
    if (!weld_.chord.empty()) {
      const double beyond = 0.06 * reach;
      add_axis(p_, where_.place({seen_.least.x() - beyond, 0}), where_.place({seen_.most.x() + beyond, 0}));
      note({0.7 * seen_.most.x(), -radius_mm(weld_.chord)}, {9, 5}, section_cell(section(weld_.chord)), LeaderEnd::arrow);
    }
    if (joint_.has_angle) add_axes_angle(std::atan2(brace.y(), brace.x()));
    if (weld_.throat_mm > 0) add_throat();
  }

 private:
  Flat2 flat(const shape::Vec3& v) const { return {v.dot(joint_.right), v.dot(joint_.up)}; }
  const frame::Section& section(const std::string& member) const {
    return design::tube_of(design_.frame, design::member_of(design_.frame, member)).section;
  }
  double radius_mm(const std::string& member) const { return shape::outer_radius_mm(section(member)); }
  void note(const Flat2& on, const Point& away, Cell text, LeaderEnd end) {
    const Point from = where_.place(on);
    add_note(p_, from, {from.x + away.x, from.y + away.y}, std::move(text), note_wide_mm, end);
  }

  void add_axes_angle(double turn) {
    const double sharp = std::min(turn, std::numbers::pi - turn);
    const double radius = std::max(9.0, 0.72 * joint_.reach_mm * where_.scale);
    const double degrees = std::round(10 * sharp / degree) / 10;
    add_angle(p_, where_.place({0, 0}), radius, turn <= std::numbers::pi / 2 ? 0 : turn,
              turn <= std::numbers::pi / 2 ? turn : std::numbers::pi,
              Message{"drawing.angle", {number("angle", degrees, "")}});
  }
  // At the crown, on the face of the weld.
  void add_throat() {
    for (const shape::WeldBody& body : joint_.plan.welds) {
      const auto* fillet = std::get_if<shape::FilletAround>(&body.body);
      if (body.id != weld_.id || !fillet) continue;
      const auto sections = shape::fillet_sections(*fillet, 2);
      if (sections.size() < 2) continue;
      const auto face = [&](std::size_t i) {
        return flat(0.5 * (sections[i].brace_toe + sections[i].chord_toe));
      };
      // Away from the sharp corner, where the angle stands.
      const double side = flat(joint_.brace).x() < -1e-9 ? 1 : -1;
      const Flat2 on = side * face(0).x() > side * face(1).x() ? face(0) : face(1);
      note(on, {side * 14, -9}, Message{"drawing.throat", {number("throat", weld_.throat_mm, "")}}, LeaderEnd::arrow);
    }
  }

  Picture& p_;
  const Laid& where_;
  const Extent2& seen_;
  const design::Design& design_;
  const joints::Weld& weld_;
  const shape::JointPlan& joint_;
};

void add_name(Picture& p, double middle, MessageId name) {
  p.items.emplace_back(PictureText{{middle, p.height_mm - 2.5}, Message{name, {}}, 2.8, PictureText::Anchor::middle,
                                   {Ink::faint, 0}});
}

}  // namespace

std::vector<JointEye> joint_eyes(const shape::JointPlan& joint) {
  const shape::Vec3 &right = joint.right, &up = joint.up, square = up.cross(right);
  const shape::Vec3 aslant = (square + 0.7 * right - 0.5 * up).normalized();
  return {{"drawing.square", square, up},
          {"drawing.along", right, up},
          {"drawing.oblique", aslant, (up - up.dot(aslant) * aslant).normalized()}};
}

JointPictures joint_pictures(const design::Design& design, const joints::Weld& weld, const DrawnJoint& drawn) {
  std::vector<Extent2> extents;
  for (const auto& view : drawn.views) extents.push_back(extent_of(view));
  JointPictures out;
  const auto wide = [&](std::size_t i) { return extents[i].size().x() / out.reduction; };
  const auto high = [&](std::size_t i) { return extents[i].size().y() / out.reduction; };
  for (const int reduction : reductions) {
    out.reduction = reduction;
    const double below = 2 * around_mm + name_room_mm;
    out.measured = {2 * beside_mm + wide(0), high(0) + below, {}};
    out.others = {wide(1) + wide(2) + 4 * around_mm, std::max(high(1), high(2)) + below, {}};
    const auto fits = [](const Picture& p) { return p.width_mm <= landscape_wide_mm && p.height_mm <= landscape_high_mm; };
    if (fits(out.measured) && fits(out.others)) break;
  }
  const std::vector<JointEye> eyes = joint_eyes(drawn.joint);
  const double oblique = 3 * around_mm + wide(1);
  const Laid measured = laid(extents[0], beside_mm, around_mm, out.reduction);
  add_lines(out.measured, drawn.views[0], measured);
  add_lines(out.others, drawn.views[1], laid(extents[1], around_mm, around_mm, out.reduction));
  add_lines(out.others, drawn.views[2], laid(extents[2], oblique, around_mm, out.reduction));
  Measures(out.measured, measured, extents[0], design, weld, drawn.joint).add();
  add_name(out.measured, beside_mm + wide(0) / 2, eyes[0].name);
  add_name(out.others, around_mm + wide(1) / 2, eyes[1].name);
  add_name(out.others, oblique + wide(2) / 2, eyes[2].name);
  return out;
}

}  // namespace seamwright::reports
