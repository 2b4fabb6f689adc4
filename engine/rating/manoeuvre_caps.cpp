// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/manoeuvre_caps.h"

#include <algorithm>
#include <cmath>

#include "engine/evidence/constants.h"

namespace seamwright::rating {

namespace {

using loads::Leg;
using loads::Manoeuvre;

void cap(double& level, double limit, MessageId note, const Manoeuvre& m, const Leg& leg,
         std::vector<Message>& notes) {
  if (level <= limit) return;
  notes.push_back({note,
                   {text("leg", leg.id), text("manoeuvre", m.id), number("asked", level, "m/s2"),
                    number("threshold", limit, "m/s2")}});
  level = std::max(0.0, limit);
}

void cap_corner(Manoeuvre& m, const Leg& leg, TipLimits& limits, std::vector<Message>& notes) {
  const double fall = cross_fall_m_s2(leg);
  double limit = 1e9;
  for (const double side : {1.0, -1.0}) {
    if ((m.side == loads::Side::left && side < 0) || (m.side == loads::Side::right && side > 0)) continue;
    const loads::StabilityCase& c = limits.in_pose(pose_of(m, leg, side));
    limit = std::min(limit, (side > 0 ? c.left : c.right).acceleration_m_s2 - side * fall);
  }
  cap(m.level, limit, "rating.corner-capped", m, leg, notes);
}

void cap_start(Manoeuvre& m, const Leg& leg, const loads::Drive& drive, TipLimits& limits, std::vector<Message>& notes) {
  const loads::StabilityCase& c = limits.in_pose(pose_of(m, leg, 1));
  const loads::Drive d = loads::in_gear(drive, m.sprocket_radius_mm);
  const double gear = d.sprocket_radius_mm / d.chainring_radius_mm, motor = d.motor == loads::Motor::none ? 0
                                                                            : d.motor == loads::Motor::mid
                                                                                ? 1000 * m.motor_n_m * gear
                                                                                : 1000 * m.motor_n_m;
  const double asked = (m.level * d.crank_mm * gear + motor) / limits.rear_radius_mm() / c.mass_kg;
  double level = asked;
  cap(level, c.backward_m_s2, "rating.start-capped", m, leg, notes);
  if (level < asked) {
    m.level *= level / asked;
    m.motor_n_m *= level / asked;
  }
}

}  // namespace

TipLimits::TipLimits(const design::Design& design, const frame::Frame& cut, const loads::Rider& rider)
    : design_(design), cut_(cut), rider_(rider) {}

const loads::StabilityCase& TipLimits::in_pose(const loads::Pose& pose) {
  if (const auto known = known_.find(pose); known != known_.end()) return known->second;
  return known_.emplace(pose, loads::stability_case(cut_, design_.carriers, rider_, design_.steering, pose)).first->second;
}

double TipLimits::rear_radius_mm() const {
  for (const frame::Wheel& w : cut_.wheels)
    if (w.id == "R") return w.radius_mm;
  throw Fault{Message{"loads.no-rear-wheel", {}}};
}

double cross_fall_m_s2(const Leg& leg) {
  return gravity_m_s2 * std::sin(std::atan(leg.cross_fall_percent / 100));
}

loads::Pose pose_of(const Manoeuvre& m, const Leg& leg, double side) {
  loads::Pose pose = leg.pose;
  if (m.act == &loads::act::corner)
    pose.steering_deg = m.steering_deg == 0 ? leg.pose.steering_deg : side * m.steering_deg;
  else if (m.steering_deg != 0)
    pose.steering_deg = m.steering_deg;
  return pose;
}

Manoeuvre capped_manoeuvre(const Manoeuvre& asked, const Leg& leg, const loads::Drive& drive, TipLimits& limits,
                           std::vector<Message>& notes) {
  Manoeuvre m = asked;
  if (m.act == &loads::act::corner) cap_corner(m, leg, limits, notes);
  if (m.act == &loads::act::brake)
    cap(m.level, limits.in_pose(pose_of(m, leg, 1)).forward_m_s2, "rating.brake-capped", m, leg, notes);
  if (m.act == &loads::act::start) cap_start(m, leg, drive, limits, notes);
  return m;
}

void check_rest(const Leg& leg, TipLimits& limits) {
  const loads::StabilityCase& c = limits.in_pose(leg.pose);
  const double fall = cross_fall_m_s2(leg);
  const double side = std::min(c.left.acceleration_m_s2 - fall, c.right.acceleration_m_s2 + fall);
  if (!(side > 0 && c.forward_m_s2 > 0 && c.backward_m_s2 > 0))
    throw Fault{
        Message{"rating.tips-at-rest", {text("leg", leg.id), number("payload", leg.pose.payload_kg, "kg")}}};
}

}  // namespace seamwright::rating
