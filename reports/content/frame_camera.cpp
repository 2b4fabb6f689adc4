// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/frame_camera.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "engine/evidence/constants.h"

namespace seamwright::reports {

namespace {

constexpr double least_zoom = 1.0 / 3, largest_zoom = 60;
constexpr double joint_widths = 9;  // of its tube, from top to bottom

Eigen::Matrix3d view_axes(double turn_deg, double tip_deg) {
  const double t = turn_deg * degree, p = tip_deg * degree;
  const frame::Vec3 right(std::cos(t), std::sin(t), 0);
  const frame::Vec3 towards(std::sin(t) * std::cos(p), -std::cos(t) * std::cos(p), std::sin(p));
  Eigen::Matrix3d axes;
  axes.row(0) = right.transpose();
  axes.row(1) = towards.cross(right).transpose();
  axes.row(2) = towards.transpose();
  return axes;
}

// Fits what is seen, wheels too, and puts it in the middle.
void fit(const FrameDrawing& drawing, double margin_mm, double width_mm, double height_mm,
         FrameCamera& camera) {
  Eigen::Array2d least(1e300, 1e300), most(-1e300, -1e300);
  const auto reach = [&](const frame::Vec3& p) {
    const Eigen::Array2d q = (camera.axes * (p - camera.centre_mm)).head<2>().array();
    least = least.min(q);
    most = most.max(q);
  };
  for (const auto& p : drawing.points) reach(p.at_mm);
  for (const auto& w : drawing.wheels)
    for (const frame::Vec3& side : {w.axle.unitOrthogonal(), w.axle.cross(w.axle.unitOrthogonal())})
      for (const double sign : {-1.0, 1.0}) reach(drawing.points[w.point].at_mm + sign * w.radius_mm * side);
  if (drawing.points.empty()) least = most = Eigen::Array2d::Zero();
  const Eigen::Array2d size = (most - least).max(1.0), centre = 0.5 * (least + most);
  camera.centre_mm += camera.axes.transpose() * frame::Vec3(centre[0], centre[1], 0);
  camera.fit_scale =
      std::max(1e-6, std::min((width_mm - margin_mm) / size[0], (height_mm - margin_mm) / size[1]));
}

double tall_mm(const FrameCamera& camera) { return 2 * camera.middle.y / camera.scale; }

}  // namespace

FrameView view_of(const std::string& name) {
  FrameView view;
  if (name == "side")
    view.turn_deg = view.tip_deg = 0;
  else if (name == "top")
    view.turn_deg = 0, view.tip_deg = 90;
  else if (name == "front")
    view.turn_deg = 90, view.tip_deg = 0;
  else if (name != "oblique")
    throw Fault{Message{"plot.unknown-view", {text("view", name)}}};
  return view;
}

FrameCamera camera_of(const FrameDrawing& drawing, const FrameView& view, double width_mm, double height_mm) {
  FrameCamera camera;
  camera.axes = view_axes(view.turn_deg, view.tip_deg);
  camera.centre_mm = 0.5 * (drawing.least_mm + drawing.most_mm);
  camera.middle = {width_mm / 2, height_mm / 2};
  fit(drawing, view.margin_mm, width_mm, height_mm, camera);
  camera.scale = camera.fit_scale;
  if (view.held) {
    camera.centre_mm = view.held->centre_mm;
    camera.scale = height_mm / view.held->tall_mm;
  }
  return camera;
}

Eye eye_of(const FrameView& view) {
  const Eigen::Matrix3d axes = camera_of({}, view, 1, 1).axes;
  return {-axes.row(2).transpose(), axes.row(1).transpose()};
}

Point projected(const FrameCamera& camera, const frame::Vec3& place_mm) {
  const frame::Vec3 q = camera.axes * (place_mm - camera.centre_mm);
  return {camera.middle.x + camera.scale * q[0], camera.middle.y - camera.scale * q[1]};
}

double depth_mm(const FrameCamera& camera, const frame::Vec3& place_mm) {
  return camera.axes.row(2) * (place_mm - camera.centre_mm);
}

frame::Vec3 unprojected(const FrameCamera& camera, const Point& point, double depth_mm) {
  return camera.centre_mm + camera.axes.transpose() * frame::Vec3((point.x - camera.middle.x) / camera.scale,
                                                                  (camera.middle.y - point.y) / camera.scale,
                                                                  depth_mm);
}

FrameView turned_about(const FrameView& view, const FrameCamera& camera, const frame::Vec3& pivot_mm,
                       double turn_deg, double tip_deg) {
  FrameView next = view;
  next.turn_deg = view.turn_deg + turn_deg;
  next.tip_deg = std::clamp(view.tip_deg + tip_deg, -90.0, 90.0);
  const Eigen::Matrix3d axes = view_axes(next.turn_deg, next.tip_deg);
  next.held = {pivot_mm - axes.transpose() * (camera.axes * (pivot_mm - camera.centre_mm)), tall_mm(camera)};
  return next;
}

FrameView zoomed_about(const FrameView& view, const FrameCamera& camera, const Point& point, double by) {
  FrameView next = view;
  const double scale =
      std::clamp(camera.scale * by, least_zoom * camera.fit_scale, largest_zoom * camera.fit_scale);
  const frame::Vec3 under = unprojected(camera, point, 0);
  next.held = {under + camera.scale / scale * (camera.centre_mm - under),
               tall_mm(camera) * camera.scale / scale};
  return next;
}

FrameView shifted(const FrameView& view, const FrameCamera& camera, const Point& by) {
  FrameView next = view;
  next.held = {unprojected(camera, {camera.middle.x - by.x, camera.middle.y - by.y}, 0), tall_mm(camera)};
  return next;
}

FrameView pulled_to(const FrameView& view, const FrameDrawing& drawing, const std::string& flag) {
  FrameView next = view;
  for (const auto& f : drawing.flags)
    if (f.id == flag) {
      next.held = {f.at_mm, joint_widths * std::max(1.0, f.diameter_mm)};
      next.joint = flag;
    }
  return next;
}

std::optional<HalfSpace> kept_by(const FrameSection& section, const FrameDrawing& drawing) {
  if (section.across == FrameSection::Across::nothing) return {};
  const int axis = static_cast<int>(section.across) - static_cast<int>(FrameSection::Across::x);
  const double place_mm = drawing.least_mm[axis] + std::clamp(section.place, 0.0, 1.0) *
                                                       (drawing.most_mm[axis] - drawing.least_mm[axis]);
  const double sign = section.takes_high ? 1 : -1;
  return HalfSpace{sign * frame::Vec3::Unit(axis), sign * place_mm};
}

FrameSection section_facing(const FrameView& view, FrameSection::Across across, double place) {
  FrameSection section{across, place, true};
  if (across != FrameSection::Across::nothing)
    section.takes_high = view_axes(view.turn_deg, view.tip_deg)(
                             2, static_cast<int>(across) - static_cast<int>(FrameSection::Across::x)) > 0;
  return section;
}

}  // namespace seamwright::reports
