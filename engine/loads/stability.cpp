// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/stability.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "engine/evidence/constants.h"
#include "engine/loads/posed_trike.h"

namespace seamwright::loads {

namespace {

// Distance of the centre from the line b -> a, positive on the line's left.
double left_of(const std::array<double, 2>& a, const std::array<double, 2>& b, const frame::Vec3& centre) {
  const double dx = a[0] - b[0], dy = a[1] - b[1];
  return (dx * (centre.y() - b[1]) - dy * (centre.x() - b[0])) / std::hypot(dx, dy);
}

Stance stance_of(const frame::Frame& f, const frame::Vec3& centre) {
  Stance s;
  s.centre_mm = centre;
  for (const frame::Wheel& w : f.wheels)
    for (const frame::Node& n : f.nodes) {
      if (n.id != w.node) continue;
      const frame::Vec3 contact = n.position_mm + frame::contact_arm_mm(w);
      auto& place = w.id == "FL" ? s.front_left_mm : w.id == "FR" ? s.front_right_mm : s.rear_mm;
      place = {contact.x(), contact.y()};
    }
  return s;
}

// The turn's centre lies where the rear axle's line meets the front axle's.
double turn_radius(const Stance& s, double steering_deg) {
  if (steering_deg == 0) return std::numeric_limits<double>::infinity();
  const double x = 0.5 * (s.front_left_mm[0] + s.front_right_mm[0]) - s.rear_mm[0];
  const double y = 0.5 * (s.front_left_mm[1] + s.front_right_mm[1]);
  const double centre_y = y + x / std::tan(steering_deg * degree);
  return std::hypot(s.centre_mm.x() - s.rear_mm[0], centre_y - s.centre_mm.y());
}

}  // namespace

StabilityCase stability_case(const frame::Frame& frame, const Carriers& carriers, const Rider& rider,
                             const Steering& steering, const Pose& pose) {
  const frame::Frame laden_frame = frame_in(pose, frame, carriers, rider, steering);
  const double angle = pose.steering_deg;
  const frame::Assembly a = frame::assemble(laden_frame, frame::Footing::tyres);
  const Balance b = balance_of(laden_frame, a);
  StabilityCase c;
  c.pose = pose;
  c.stance = stance_of(laden_frame, b.centre_mm);
  c.mass_kg = b.mass_kg;
  c.turn_radius_mm = turn_radius(c.stance, angle);
  c.left = side_tip(c.stance, true, 0);
  c.right = side_tip(c.stance, false, 0);
  c.forward_m_s2 = forward_tip_m_s2(c.stance);
  c.backward_m_s2 = backward_tip_m_s2(c.stance);
  const double steered_into = (angle > 0 ? c.left : c.right).acceleration_m_s2;
  c.speed_kmh = 3.6 * std::sqrt(std::max(0.0, steered_into) * c.turn_radius_mm / 1000);
  return c;
}

double tip_threshold_m_s2(const StabilityCase& c) {
  if (c.pose.steering_deg == 0) return std::min(c.left.acceleration_m_s2, c.right.acceleration_m_s2);
  return (c.pose.steering_deg > 0 ? c.left : c.right).acceleration_m_s2;
}

bool slides_first(const StabilityCase& c, double friction) {
  return friction * gravity_m_s2 < tip_threshold_m_s2(c);
}

TipResult side_tip(const Stance& s, bool towards_left, double braking_m_s2) {
  // Turning left, it tips over the right front wheel.
  const auto& front = towards_left ? s.front_right_mm : s.front_left_mm;
  const double side = towards_left ? 1 : -1;
  const double inside = side * left_of(front, s.rear_mm, s.centre_mm);
  const double psi = std::atan2(-side * (front[1] - s.rear_mm[1]), front[0] - s.rear_mm[0]);
  TipResult r;
  r.acceleration_m_s2 =
      gravity_m_s2 * inside / (s.centre_mm.z() * std::cos(psi)) + braking_m_s2 * std::tan(psi);
  r.tilt_deg = std::atan2(inside, s.centre_mm.z()) / degree;
  Evidence& e = r.evidence;
  e.figure = std::string("side-tip");
  e.value = r.acceleration_m_s2;
  e.unit = "m/s2";
  e.source = {"statics", "moments about the line of outer front and rear contact"};
  e.inputs = {{"distance_inside_the_line", inside, "mm"},
              {"height_of_centre", s.centre_mm.z(), "mm"},
              {"angle_of_the_line", psi / degree, "deg"},
              {"braking", braking_m_s2, "m/s2"}};
  if (inside <= 0) {
    e.coverage = Coverage::none;
    e.notes.push_back({"loads.tips-at-rest", {number("outside", -inside, "mm")}});
  }
  return r;
}

double forward_tip_m_s2(const Stance& s) {
  const double behind = left_of(s.front_left_mm, s.front_right_mm, s.centre_mm);
  const double dx = s.front_left_mm[0] - s.front_right_mm[0], dy = s.front_left_mm[1] - s.front_right_mm[1];
  return gravity_m_s2 * behind * std::hypot(dx, dy) / (s.centre_mm.z() * std::abs(dy));
}

double backward_tip_m_s2(const Stance& s) {
  return gravity_m_s2 * (s.centre_mm.x() - s.rear_mm[0]) / s.centre_mm.z();
}

Stability stability(const frame::Frame& frame, const Carriers& carriers, const Rider& rider,
                    const Steering& steering, const std::vector<Pose>& loadings, std::size_t angles) {
  Stability result;
  result.lowest_m_s2 = std::numeric_limits<double>::infinity();
  const std::size_t count = steering.hinge.empty() ? 1 : std::max<std::size_t>(5, angles | 1);
  for (Pose pose : loadings) {
    for (std::size_t i = 0; i < count; ++i) {
      const double share = count == 1 ? 0 : 2 * static_cast<double>(i) / static_cast<double>(count - 1) - 1;
      pose.steering_deg = share < 0 ? share * steering.right_deg : share * steering.left_deg;
      StabilityCase c = stability_case(frame, carriers, rider, steering, pose);
      if (tip_threshold_m_s2(c) < result.lowest_m_s2) {
        result.lowest_m_s2 = tip_threshold_m_s2(c);
        result.lowest = result.cases.size();
      }
      result.tips_at_rest =
          result.tips_at_rest || tip_threshold_m_s2(c) <= 0 || c.forward_m_s2 <= 0 || c.backward_m_s2 <= 0;
      result.cases.push_back(std::move(c));
    }
  }
  return result;
}

}  // namespace seamwright::loads
