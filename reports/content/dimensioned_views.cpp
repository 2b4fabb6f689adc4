// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/dimensioned_views.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "reports/content/dimensions.h"
#include "reports/content/frame_picture.h"

namespace seamwright::reports {

namespace {

constexpr double rim_mm = 3, first_row_mm = 8;

struct Measure {
  frame::Vec3 from, to;
  double value_mm = 0;
  std::string name;
};
// The dimensions of one view: those below it, to its left and to its right, the shortest nearest to it.
struct Rows {
  std::vector<Measure> below, left, right;
};

struct Extent {
  Eigen::Array2d least{1e300, 1e300}, most{-1e300, -1e300};
  void add(const Eigen::Array2d& p) {
    least = least.min(p);
    most = most.max(p);
  }
  double wide() const { return most[0] - least[0]; }
  double high() const { return most[1] - least[1]; }
};

// All that is seen, mm of the frame along the picture's axes.
Extent extent_of(const FrameDrawing& d, const std::string& view, const Eigen::Matrix3d& axes) {
  Extent e;
  const auto flat = [&](const frame::Vec3& p) -> Eigen::Array2d { return (axes * p).head<2>().array(); };
  if (const auto it = d.views.lines.find(view); it != d.views.lines.end())
    for (const shape::ViewLine& line : it->second)
      for (const Eigen::Vector2d& p : line.points) e.add(p.array());
  for (const FrameDrawing::Stretch& s : d.stretches)
    for (const std::size_t end : {s.from, s.to})
      for (const double half : {-0.5 * s.diameter_mm, 0.5 * s.diameter_mm}) e.add(flat(d.points[end].at_mm) + half);
  for (const FrameDrawing::Wheel& w : d.wheels) {
    const frame::Vec3 ahead = w.axle.unitOrthogonal(), up = w.axle.cross(ahead);
    for (const frame::Vec3& spoke : {ahead, up})
      for (const double sign : {-1.0, 1.0}) e.add(flat(d.points[w.point].at_mm + sign * w.radius_mm * spoke));
  }
  return e;
}

void sort_rows(std::vector<Measure>& rows) {
  std::stable_sort(rows.begin(), rows.end(),
                   [](const Measure& a, const Measure& b) { return a.value_mm < b.value_mm; });
}

// Lengths and heights stand on the side view, widths on the top view.
Rows rows_of(const FrameDrawing& d, const std::vector<ParameterDimension>& dimensions, const std::string& view) {
  Rows rows;
  const auto is_here = [&](int axis) { return view == (axis == 1 ? "top" : "side"); };
  const double middle = 0.5 * (d.least_mm.x() + d.most_mm.x());
  const auto beside = [&](const Measure& m) -> std::vector<Measure>& {
    return 0.5 * (m.from.x() + m.to.x()) < middle ? rows.left : rows.right;
  };
  for (const ParameterDimension& p : dimensions) {
    if (p.axis < 0 || !is_here(p.axis)) continue;
    const Measure m{p.from, p.to, std::abs(p.to[p.axis] - p.from[p.axis]), p.parameter};
    (p.axis == 0 ? rows.below : beside(m)).push_back(m);
  }
  for (auto* side : {&rows.below, &rows.left, &rows.right}) sort_rows(*side);
  for (int axis = 0; axis < static_cast<int>(d.views.furthest_mm.size()); ++axis) {
    if (!is_here(axis)) continue;
    const auto& [least, most] = d.views.furthest_mm[static_cast<std::size_t>(axis)];
    const Measure m{least, most, std::round(most[axis] - least[axis]), ""};
    (axis == 0 ? rows.below : rows.left.size() <= rows.right.size() ? rows.left : rows.right).push_back(m);
  }
  return rows;
}

double depth_mm(const std::vector<Measure>& rows) {
  return rows.empty() ? rim_mm
                      : rim_mm + first_row_mm + dimension_row_mm * (static_cast<double>(rows.size()) - 0.5);
}

class DrawingSheet {
 public:
  DrawingSheet(const FrameDrawing& drawing, std::string view, Rows rows)
      : drawing_(drawing),
        view_(std::move(view)),
        rows_(std::move(rows)),
        axes_(camera_of(drawing, view_of(view_), 100, 100).axes),
        extent_(extent_of(drawing, view_, axes_)) {}

  double wide_mm(int reduction) const {
    return depth_mm(rows_.left) + extent_.wide() / reduction + depth_mm(rows_.right);
  }
  double high_mm(int reduction) const { return rim_mm + extent_.high() / reduction + depth_mm(rows_.below); }

  Picture picture(int reduction) const {
    const double wide = wide_mm(reduction), high = high_mm(reduction), scale = 1.0 / reduction;
    // The frame's place in the middle of the picture, whose margins differ.
    const double right = extent_.least[0] + (wide / 2 - depth_mm(rows_.left)) / scale,
                 up = extent_.most[1] - (high / 2 - rim_mm) / scale;
    FrameView view = view_of(view_);
    view.held = {axes_.transpose() * frame::Vec3(right, up, 0), high / scale};
    FrameLook look;
    look.flags = look.marks = false;
    Picture p = frame_picture(drawing_, view, look, wide, high).picture;
    const FrameCamera camera = camera_of(drawing_, view, wide, high);
    if (!drawing_.wheels.empty() && (view_ == "side" || view_ == "front")) add_ground(p, camera);
    const Point low = camera_point(camera, extent_.least), top = camera_point(camera, extent_.most);
    std::vector<LinearDimension> all;
    const auto add = [&](const std::vector<Measure>& rows, bool upright, double edge, double sign) {
      double line = edge + sign * first_row_mm;
      for (const Measure& m : rows) {
        all.push_back({projected(camera, m.from), projected(camera, m.to), upright, line, millimetres(m.value_mm), 7, m.name});
        line += sign * dimension_row_mm;
      }
    };
    add(rows_.below, false, low.y, 1);
    add(rows_.left, true, low.x, -1);
    add(rows_.right, true, top.x, 1);
    add_dimensions(p, all);
    return p;
  }

 private:
  Point camera_point(const FrameCamera& camera, const Eigen::Array2d& flat) const {
    return projected(camera, axes_.transpose() * frame::Vec3(flat[0], flat[1], 0));
  }
  // Wheels stand on it: heights count from there.
  void add_ground(Picture& p, const FrameCamera& camera) const {
    p.items.emplace_back(Path{{camera_point(camera, {extent_.least[0], 0}), camera_point(camera, {extent_.most[0], 0})},
                              false,
                              {{Ink::faint, 0}, 0.13, Dash::solid},
                              {}});
  }

  const FrameDrawing& drawing_;
  std::string view_;
  Rows rows_;
  Eigen::Matrix3d axes_;
  Extent extent_;
};

}  // namespace

Cell millimetres(double value_mm) {
  const double tenths = std::round(10 * std::abs(value_mm));
  const int whole_digits = 1 + static_cast<int>(std::log10(std::max(1.0, std::floor(tenths / 10))));
  return Quantity{value_mm, "", whole_digits + (std::fmod(tenths, 10) != 0)};
}

std::vector<DimensionedView> dimensioned_views(const FrameDrawing& drawing,
                                               const std::vector<ParameterDimension>& dimensions) {
  const std::vector<std::string> names{"side", "top", "front", "oblique"};
  std::vector<DrawingSheet> sheets;
  for (const std::string& name : names) sheets.emplace_back(drawing, name, rows_of(drawing, dimensions, name));
  const auto reduction_of = [&](std::size_t first, std::size_t end) {
    for (const int reduction : reductions)
      if (std::all_of(sheets.begin() + static_cast<std::ptrdiff_t>(first),
                      sheets.begin() + static_cast<std::ptrdiff_t>(end), [&](const DrawingSheet& s) {
                        return s.wide_mm(reduction) <= landscape_wide_mm && s.high_mm(reduction) <= landscape_high_mm;
                      }))
        return reduction;
    return std::end(reductions)[-1];
  };
  const int square = reduction_of(0, 3), oblique = reduction_of(3, 4);
  std::vector<DimensionedView> views;
  for (std::size_t i = 0; i < names.size(); ++i) {
    const int reduction = names[i] == "oblique" ? oblique : square;
    views.push_back({names[i], reduction, sheets[i].picture(reduction),
                     !drawing.views.furthest_mm.empty() && (names[i] == "side" || names[i] == "top")});
  }
  return views;
}

}  // namespace seamwright::reports
