// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/manoeuvre_caps.h"

#include <algorithm>
#include <cmath>

#include "engine/evidence/constants.h"
#include "engine/loads/stability.h"

namespace seamwright::rating {

namespace {

using loads::Leg;
using loads::Manoeuvre;

loads::StabilityCase stability_of(const loads::Pose& pose, const design::Design& design,
                                  const frame::Frame& cut, const loads::Duty& duty) {
  return loads::stability_case(cut, design.carriers, duty.rider, design.steering, pose);
}

void cap(double& level, double limit, MessageId note, const Manoeuvre& m, const Leg& leg,
         std::vector<Message>& notes) {
  if (level <= limit) return;
  notes.push_back({note,
                   {text("leg", leg.id), text("manoeuvre", m.id), number("asked", level, "m/s2"),
                    number("threshold", limit, "m/s2")}});
  level = std::max(0.0, limit);
}

void cap_corner(Manoeuvre& m, const Leg& leg, const design::Design& design, const frame::Frame& cut,
                const loads::Duty& duty, std::vector<Message>& notes) {
  const double fall = cross_fall_m_s2(leg);
  double limit = 1e9;
  for (const double side : {1.0, -1.0}) {
    if ((m.side == loads::Side::left && side < 0) || (m.side == loads::Side::right && side > 0)) continue;
    const auto c = stability_of(pose_of(m, leg, side), design, cut, duty);
    limit = std::min(limit, (side > 0 ? c.left : c.right).acceleration_m_s2 - side * fall);
  }
  cap(m.level, limit, "rating.corner-capped", m, leg, notes);
}

void cap_start(Manoeuvre& m, const Leg& leg, const design::Design& design, const frame::Frame& cut,
               const loads::Duty& duty, std::vector<Message>& notes) {
  const auto c = stability_of(pose_of(m, leg, 1), design, cut, duty);
  const loads::Drive d = loads::in_gear(duty.drive, m.sprocket_radius_mm);
  const auto rear =
      std::find_if(cut.wheels.begin(), cut.wheels.end(), [](const auto& w) { return w.id == "R"; });
  if (rear == cut.wheels.end()) throw Fault{Message{"loads.no-rear-wheel", {}}};
  const double gear = d.sprocket_radius_mm / d.chainring_radius_mm, motor = d.motor == loads::Motor::none ? 0
                                                                            : d.motor == loads::Motor::mid
                                                                                ? 1000 * m.motor_n_m * gear
                                                                                : 1000 * m.motor_n_m;
  const double asked = (m.level * d.crank_mm * gear + motor) / rear->radius_mm / c.mass_kg;
  double level = asked;
  cap(level, c.backward_m_s2, "rating.start-capped", m, leg, notes);
  if (level < asked) {
    m.level *= level / asked;
    m.motor_n_m *= level / asked;
  }
}

}  // namespace

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

Manoeuvre capped_manoeuvre(const Manoeuvre& asked, const Leg& leg, const design::Design& design,
                           const frame::Frame& cut, const loads::Duty& duty, std::vector<Message>& notes) {
  Manoeuvre m = asked;
  if (m.act == &loads::act::corner) cap_corner(m, leg, design, cut, duty, notes);
  if (m.act == &loads::act::brake)
    cap(m.level, stability_of(pose_of(m, leg, 1), design, cut, duty).forward_m_s2, "rating.brake-capped", m,
        leg, notes);
  if (m.act == &loads::act::start) cap_start(m, leg, design, cut, duty, notes);
  return m;
}

void check_rest(const Leg& leg, const design::Design& design, const frame::Frame& cut,
                const loads::Duty& duty) {
  const auto c = stability_of(leg.pose, design, cut, duty);
  const double fall = cross_fall_m_s2(leg);
  const double side = std::min(c.left.acceleration_m_s2 - fall, c.right.acceleration_m_s2 + fall);
  if (!(side > 0 && c.forward_m_s2 > 0 && c.backward_m_s2 > 0))
    throw Fault{
        Message{"rating.tips-at-rest", {text("leg", leg.id), number("payload", leg.pose.payload_kg, "kg")}}};
}

}  // namespace seamwright::rating
