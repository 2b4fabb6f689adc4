// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/specimen_picture.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "engine/evidence/constants.h"
#include "engine/shape/pieces.h"
#include "reports/content/dimensioned_views.h"
#include "reports/content/dimensions.h"

namespace seamwright::reports {

namespace {

using Flat = Eigen::Vector2d;

constexpr double most_wide_mm = 165, most_high_mm = 125, beside_mm = 24, above_mm = 16, below_dimensioned_mm = 24, below_mm = 10, clamp_mm = 7, arrow_mm = 14;

Flat turned(const Flat& v) { return {-v.y(), v.x()}; }

// A tube in the plane: from, to and half its width.
struct FlatTube {
  Flat from, to;
  double half = 0;
  const study::SpecimenTube* tube = nullptr;
};

Cell tube_cell(const frame::Section& section) {
  const auto tenths = [](const char* name, double mm) { return number(name, std::round(10 * mm) / 10, ""); };
  const double outer = 2 * shape::outer_radius_mm(section);
  if (const auto* t = std::get_if<frame::RoundTube>(&section)) return Message{"drawing.tube", {tenths("diameter", outer), tenths("wall", t->wall_mm)}};
  return Message{"drawing.bar", {tenths("diameter", outer)}};
}

class PieceDrawing {
 public:
  explicit PieceDrawing(const study::WeldTest& t) : t_(t), s_(t.specimen) {
    up_ = (s_.brace - s_.brace.dot(s_.along_chord) * s_.along_chord).normalized();
    for (const study::SpecimenTube& tube : s_.tubes) {
      const frame::Vec3 foot = tube.model_end_mm - (tube.length_mm - tube.beyond_model_mm) * tube.out;
      tubes_.push_back({flat(foot - s_.node_mm), flat(foot + tube.length_mm * tube.out - s_.node_mm), shape::outer_radius_mm(tube.section), &tube});
    }
    chord_ = {{-s_.chord_behind_mm, 0}, {s_.chord_ahead_mm, 0}, shape::outer_radius_mm(s_.chord_section), nullptr};
  }

  SpecimenPicture draw() {
    lay_out();
    for (const FlatTube& t : tubes_)
      if (t.tube->use != study::TubeUse::loaded && t.tube->member != s_.chord && !leaves_plane(t)) add_tube(t);
    for (const FlatTube& t : tubes_)
      if (t.tube->member == s_.chord) chord_ = merged(chord_, t);
    add_tube(chord_);
    FlatTube brace = tubes_[s_.loaded];
    brace.from = brace.from + foot_mm() * brace_way();
    add_tube(brace);
    for (const FlatTube& t : tubes_) add_hidden(t);
    add_weld();
    for (const FlatTube& t : tubes_)
      if (t.tube->use == study::TubeUse::held) add_clamp(t);
    add_force();
    add_sizes();
    return std::move(out_);
  }

 private:
  Flat flat(const frame::Vec3& v) const { return {v.dot(s_.along_chord), v.dot(up_)}; }
  Flat brace_way() const { return flat(s_.brace); }
  // The chord's surface lies so far from the node along the brace's axis.
  double foot_mm() const { return chord_.half / std::max(0.2, brace_way().y()); }
  static bool leaves_plane(const FlatTube& t) { return (t.to - t.from).norm() < 1.5 * t.half; }
  static FlatTube merged(const FlatTube& a, const FlatTube& b) {
    FlatTube all = a;
    for (const Flat& end : {b.from, b.to}) {
      all.from.x() = std::min(all.from.x(), end.x());
      all.to.x() = std::max(all.to.x(), end.x());
    }
    return all;
  }

  void lay_out() {
    Flat least{1e300, 1e300}, most{-1e300, -1e300};
    std::vector<FlatTube> all = tubes_;
    all.push_back(chord_);
    for (const FlatTube& t : all)
      for (const Flat& end : {t.from, t.to}) {
        least = least.cwiseMin(Flat(end.array() - t.half));
        most = most.cwiseMax(Flat(end.array() + t.half));
      }
    least_ = least;
    const Flat size = most - least;
    for (const int reduction : reductions) {
      out_.reduction = reduction;
      out_.picture = {size.x() / reduction + 2 * beside_mm, size.y() / reduction + above_mm + (s_.chord_held ? below_dimensioned_mm : below_mm), {}};
      if (out_.picture.width_mm <= most_wide_mm && out_.picture.height_mm <= most_high_mm) break;
    }
    origin_ = {beside_mm - least.x() / out_.reduction, above_mm + most.y() / out_.reduction};
  }

  Point place(const Flat& p) const { return {origin_.x + p.x() / out_.reduction, origin_.y - p.y() / out_.reduction}; }
  // A step on the paper, in mm of paper.
  static Point step(const Point& from, const Flat& way, double mm) { return {from.x + mm * way.x(), from.y - mm * way.y()}; }
  void add_path(std::vector<Point> points, bool closed, const Pen& pen, Ink fill) {
    out_.picture.items.emplace_back(Path{std::move(points), closed, pen, {fill, 0}});
  }

  void add_tube(const FlatTube& t) {
    const Flat way = t.to - t.from;
    if (leaves_plane(t)) {
      out_.picture.items.emplace_back(Circle{place(t.to), t.half / out_.reduction, {{Ink::faint, 0}, 0.25, Dash::dashed}, {Ink::none, 0}});
      return;
    }
    const Flat side = t.half * turned(way.normalized());
    const bool free = t.tube && t.tube->use == study::TubeUse::free && t.tube->member != s_.chord;
    add_path({place(t.from + side), place(t.to + side), place(t.to - side), place(t.from - side)}, true,
             {{free ? Ink::faint : Ink::ink, 0}, free ? 0.25 : 0.35, Dash::solid}, Ink::sheet);
    add_path({place(t.from), place(t.to)}, false, {{Ink::faint, 0}, 0.13, Dash::dashed}, Ink::none);
  }

  // The other tubes shine through what stands before them.
  void add_hidden(const FlatTube& t) {
    if (t.tube->use == study::TubeUse::loaded || t.tube->member == s_.chord) return;
    if (leaves_plane(t)) return add_tube(t);
    const Flat side = t.half * turned((t.to - t.from).normalized());
    for (const double sign : {-1.0, 1.0})
      add_path({place(t.from + sign * side), place(t.to + sign * side)}, false, {{Ink::faint, 0}, 0.13, Dash::dashed}, Ink::none);
  }

  void add_weld() {
    const Flat way = brace_way(), across = turned(way);
    for (const double side : {-1.0, 1.0}) {
      const Flat edge = side * tubes_[s_.loaded].half * across;  // a point of the brace's outline
      const double up_to_chord = (chord_.half - edge.y()) / std::max(0.2, way.y());
      const Flat corner = edge + up_to_chord * way;
      add_path({place(corner), place(corner + s_.leg_crown_mm * way), place(corner + Flat(-side * s_.leg_crown_mm, 0))}, true,
               {{Ink::ink, 0}, 0.13, Dash::solid}, Ink::ink);
    }
  }

  void add_clamp(const FlatTube& t) {
    if (leaves_plane(t)) return;
    const Flat way = (t.to - t.from).normalized(), side = turned(way);
    const Point end = place(t.to);
    const double half = t.half / out_.reduction + 3;
    const auto corner = [&](double along, double across) { return step(step(end, way, along), side, across); };
    add_path({corner(0, -half), corner(clamp_mm, -half), corner(clamp_mm, half), corner(0, half)}, true, {{Ink::ink, 0}, 0.35, Dash::solid}, Ink::sheet);
    for (double at = -half; at < half - 1; at += 2.2)
      add_path({corner(0, at), corner(std::min(clamp_mm, half - at), std::min(half, at + clamp_mm))}, false, {{Ink::ink, 0}, 0.13, Dash::solid}, Ink::none);
  }

  void add_arrow(const Point& from, const Flat& way, double mm) {
    const Point tip = step(from, way, mm), back = step(tip, way, -3);
    add_path({from, back}, false, {{Ink::ink, 0}, 0.6, Dash::solid}, Ink::none);
    add_path({tip, step(back, turned(way), 1.1), step(back, turned(way), -1.1)}, true, {{Ink::none, 0}, 0, Dash::solid}, Ink::ink);
  }

  // At the end of the brace, in the direction in which it is greatest.
  void add_force() {
    const Point end = place(tubes_[s_.loaded].to);
    const double sign = t_.greatest_n < 0 ? -1 : 1;
    const Flat way = sign * flat(s_.direction(t_.force));
    if (t_.force == study::TestForce::out_of_plane) {
      const frame::Vec3 towards = s_.along_chord.cross(up_);
      const bool towards_eye = sign * (s_.mirrored ? -1 : 1) * s_.across.dot(towards) > 0;
      const Point middle = step(end, brace_way(), 4.5);
      out_.picture.items.emplace_back(Circle{middle, 2.6, {{Ink::ink, 0}, 0.5, Dash::solid}, {Ink::sheet, 0}});
      if (towards_eye)
        out_.picture.items.emplace_back(Circle{middle, 0.8, {{Ink::none, 0}, 0, Dash::solid}, {Ink::ink, 0}});
      else
        for (const double slope : {-1.0, 1.0}) add_path({step(middle, {1, slope}, -1.8), step(middle, {1, slope}, 1.8)}, false, {{Ink::ink, 0}, 0.5, Dash::solid}, Ink::none);
    } else if (t_.force == study::TestForce::axial && sign < 0) {
      add_arrow(step(end, brace_way(), arrow_mm), -brace_way(), arrow_mm - 1);
    } else {
      add_arrow(t_.force == study::TestForce::axial ? step(end, brace_way(), 1) : end, way, arrow_mm);
    }
    const Point name = t_.force == study::TestForce::in_plane ? step(end, way, arrow_mm - 1) : step(end, brace_way(), arrow_mm);
    out_.picture.items.emplace_back(PictureText{{name.x + (t_.force == study::TestForce::in_plane ? -1 : 3), name.y + (t_.force == study::TestForce::in_plane ? -2 : 1)}, Verbatim{"F"}, 3.2, PictureText::Anchor::start, {Ink::ink, 0}, true});
  }

  // A length over a line beside a tube, along it.
  void add_length(const FlatTube& t, double side_mm) {
    const Flat way = (t.to - t.from).normalized();
    const Point from = step(place(t.from), turned(way), side_mm), to = step(place(t.to), turned(way), side_mm);
    add_path({from, to}, false, {{Ink::ink, 0}, 0.13, Dash::solid}, Ink::none);
    for (const Point& p : {from, to}) add_path({step(p, turned(way), -1.5), step(p, turned(way), 1.5)}, false, {{Ink::ink, 0}, 0.25, Dash::solid}, Ink::none);
    const double side = side_mm * turned(way).x() > 0 ? 1 : -1;
    out_.picture.items.emplace_back(PictureText{{0.5 * (from.x + to.x) + side * 1.5, 0.5 * (from.y + to.y) + 1}, millimetres(t.tube->length_mm), 2.8,
                                                side > 0 ? PictureText::Anchor::start : PictureText::Anchor::end});
  }

  void add_sizes() {
    const double line = out_.picture.height_mm - 8;
    std::vector<LinearDimension> level;
    for (const FlatTube& t : tubes_)
      if (t.tube->member == s_.chord && t.tube->use == study::TubeUse::held)
        level.push_back({place({0, 0}), place({t.to.x(), 0}), false, line, millimetres(t.tube->length_mm)});
    add_dimensions(out_.picture, level);
    const FlatTube& brace = tubes_[s_.loaded];
    const double away = brace_way().x() > 0.05 ? 1 : -1;  // on the side of the blunt corner
    add_length({{0, 0}, brace.to, brace.half, brace.tube}, away * (brace.half / out_.reduction + 7));
    const Flat on = 0.55 * brace.to - away * brace.half * turned(brace_way());
    const Point from = place(on);
    add_note(out_.picture, from, {from.x + away * 8, from.y - 5}, tube_cell(brace.tube->section), 20, LeaderEnd::arrow);
    const Point below = place({0.55 * chord_.to.x(), -chord_.half});
    add_note(out_.picture, below, {below.x + 7, below.y + 6}, tube_cell(s_.chord_section), 20, LeaderEnd::arrow);
    if (s_.angle_deg < 89.5) {
      const double radius = std::max(9.0, 0.62 * brace.tube->length_mm / out_.reduction);
      add_angle(out_.picture, place({0, 0}), radius, 0, s_.angle_deg * degree,
                Message{"drawing.angle", {number("angle", std::round(10 * s_.angle_deg) / 10, "")}});
    }
  }

  const study::WeldTest& t_;
  const study::Specimen& s_;
  frame::Vec3 up_{0, 0, 1};
  std::vector<FlatTube> tubes_;
  FlatTube chord_;
  Flat least_{0, 0};
  Point origin_;
  SpecimenPicture out_;
};

}  // namespace

SpecimenPicture specimen_picture(const study::WeldTest& test) { return PieceDrawing(test).draw(); }

}  // namespace seamwright::reports
