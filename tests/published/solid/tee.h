// SPDX-License-Identifier: GPL-3.0-or-later
// Joints of round tubes made by their measures: a chord along x, braces above, beside or below it.
#pragma once

#include <Eigen/Dense>
#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "engine/rules/rule_sets.h"
#include "engine/shape/fibre.h"
#include "engine/solid/mesher/mesher.h"

namespace seamwright::solid {

constexpr double deg = std::numbers::pi / 180;

struct BraceOf {
  double diameter_mm, wall_mm, angle_deg = 90, roll_deg = 0, at_mm = 0;
  double leg_crown_mm = 0, leg_saddle_mm = 0;  ///< 0: without weld metal
  bool fused = true;
  double fusion_mm = 0;
};
struct Tee {
  double chord_mm, wall_mm, half_length_mm;
  std::vector<BraceOf> braces;
  double brace_length_mm, size = 0.5;
};

inline Vec3 axis_of(const BraceOf& b) {
  const Vec3 up(0, -std::sin(b.roll_deg * deg), std::cos(b.roll_deg * deg));
  return std::cos(b.angle_deg * deg) * Vec3::UnitX() + std::sin(b.angle_deg * deg) * up;
}

/// Part 0 is the chord; ends: the chord's two, then the braces'. Readings: as dnv reads tubes.
inline JointTask task_of(const Tee& t) {
  JointTask task;
  task.size = t.size;
  const shape::Stretch chord{frame::RoundTube{t.chord_mm, t.wall_mm}, {-t.half_length_mm, 0, 0}, {t.half_length_mm, 0, 0}, {0, 0, 1}};
  shape::Stretch filled = chord;
  filled.section = frame::SolidBar{t.chord_mm};
  task.parts.push_back({"chord", "chord", shape::Hollow{{chord}}, {}, ""});
  task.ends = {{0, chord.from, -Vec3::UnitX()}, {0, chord.to, Vec3::UnitX()}};
  for (const BraceOf& b : t.braces) {
    const Vec3 axis = axis_of(b), foot(b.at_mm, 0, 0);
    const Vec3 crown = (Vec3::UnitX().dot(axis) * axis - Vec3::UnitX()).normalized();
    const shape::Stretch brace{frame::RoundTube{b.diameter_mm, b.wall_mm}, foot, foot + t.brace_length_mm * axis, crown};
    const auto number = static_cast<int>(task.parts.size());
    task.parts.push_back({"brace-" + std::to_string(number), "brace", shape::Hollow{{brace}}, {{filled, "chord"}}, ""});
    shape::Stretch outer = brace;
    outer.section = frame::SolidBar{b.diameter_mm};
    Seam seam;
    seam.weld = "W" + std::to_string(number);
    seam.brace = number;
    seam.fillet = {outer, filled, crown, b.leg_crown_mm, b.leg_saddle_mm};
    seam.bare = b.leg_crown_mm == 0;
    seam.fused = b.fused;
    seam.fusion_mm = b.fusion_mm;
    const auto points = [&](rules::ToePlace place) {
      std::vector<ReadPoint> all;
      for (const rules::ReadOut& r :
           rules::dnv.hot_spot.read_out({place, b.diameter_mm / 2, b.wall_mm, t.chord_mm / 2, t.wall_mm}))
        all.push_back({r.distance_mm, r.weight});
      return all;
    };
    seam.readings = {{points(rules::ToePlace::brace), points(rules::ToePlace::chord_crown), points(rules::ToePlace::chord_saddle)}};
    task.seams.push_back(seam);
    task.ends.push_back({number, brace.to, axis});
  }
  return task;
}

/// Loads that make 1 MPa of nominal stress in a brace: along it, in the plane (the crown towards -x in tension), out of it.
enum class Load { axial, in_plane, out_of_plane };
inline Eigen::Matrix<double, 6, 1> nominal_load(const BraceOf& b, Load load) {
  const double r = b.diameter_mm / 2, bore = r - b.wall_mm, area = std::numbers::pi * (r * r - bore * bore),
               modulus = std::numbers::pi / 4 * (std::pow(r, 4) - std::pow(bore, 4)) / r;
  const Vec3 axis = axis_of(b), crown = (Vec3::UnitX().dot(axis) * axis - Vec3::UnitX()).normalized(), side = axis.cross(crown);
  Eigen::Matrix<double, 6, 1> f = Eigen::Matrix<double, 6, 1>::Zero();
  if (load == Load::axial) f.head<3>() = area * axis;
  if (load == Load::in_plane) f.tail<3>() = -modulus * side;
  if (load == Load::out_of_plane) f.tail<3>() = modulus * crown;
  return f;
}

/// Combines the answer's columns: these loads at the braces' ends, the chord's second end held like its first.
inline Eigen::VectorXd combined(const JointAnswer& a, const std::vector<Eigen::Matrix<double, 6, 1>>& at_braces) {
  Eigen::VectorXd columns = Eigen::VectorXd::Zero(a.flexibility.cols());
  for (std::size_t i = 0; i < at_braces.size(); ++i) columns.segment<6>(6 * static_cast<Eigen::Index>(i + 1)) = at_braces[i];
  const Eigen::VectorXd moved = a.flexibility.topRows<6>() * columns;
  columns.head<6>() = -a.flexibility.topLeftCorner<6, 6>().ldlt().solve(moved);
  return columns;
}

inline JointAnswer answered(const JointTask& task) { return joint_answer(task, mesher::mesh_of(task), mesher::solve); }

}  // namespace seamwright::solid
