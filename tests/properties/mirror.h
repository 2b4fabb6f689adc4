// SPDX-License-Identifier: GPL-3.0-or-later
// A job as a mirror shows it: left and right exchanged in design, drive and service; ids stay with their
// parts, but for the front wheels, whose ids name their sides.
#pragma once

#include "engine/rating/job.h"

namespace seamwright::properties {

inline frame::Vec3 in_mirror(const frame::Vec3& v) { return {v.x(), -v.y(), v.z()}; }
inline loads::Side in_mirror(loads::Side side) {
  return side == loads::Side::left    ? loads::Side::right
         : side == loads::Side::right ? loads::Side::left
                                      : side;
}
inline loads::Pose in_mirror(loads::Pose p) {
  p.payload_left_mm = -p.payload_left_mm;
  p.steering_deg = -p.steering_deg;
  return p;
}

inline void mirror_design(design::Design& d) {
  frame::Frame& f = d.frame;
  for (auto& n : f.nodes) n.position_mm = in_mirror(n.position_mm);
  for (auto& m : f.members) {
    if (m.up) m.up = in_mirror(*m.up);
    m.start_offset_mm = in_mirror(m.start_offset_mm);
    m.end_offset_mm = in_mirror(m.end_offset_mm);
  }
  for (auto& h : f.hinges) h.axis = in_mirror(h.axis);
  for (auto& m : f.masses) m.position_mm = in_mirror(m.position_mm);
  for (auto& m : f.sprung_masses) {
    m.position_mm = in_mirror(m.position_mm);
    for (auto& s : m.sprung) s.axis = in_mirror(s.axis);
  }
  for (std::size_t i = 0; i < f.wheels.size(); ++i)
    for (std::size_t j = i + 1; j < f.wheels.size(); ++j)
      if (f.wheels[i].id == "FL" && f.wheels[j].id == "FR") {
        std::swap(f.wheels[i], f.wheels[j]);
        std::swap(f.wheels[i].id, f.wheels[j].id);
      }
  for (auto& w : f.wheels) w.heading_deg = -w.heading_deg;
  for (auto& c : f.cases)
    for (auto& l : c.loads) {
      l.force_n = in_mirror(l.force_n);
      l.moment_nmm = -in_mirror(l.moment_nmm);
    }
  for (auto& w : d.welds) {
    w.plate_normal = in_mirror(w.plate_normal);
    w.stands = in_mirror(w.stands);
  }
  for (auto& n : d.notches) n.faces = in_mirror(n.faces);
  d.carriers.payload_centre_mm = in_mirror(d.carriers.payload_centre_mm);
  std::swap(d.steering.left_deg, d.steering.right_deg);
}

inline void mirror_duty(loads::Duty& duty) {
  duty.drive.chain_offset_mm = -duty.drive.chain_offset_mm;
  for (auto& r : duty.roads) std::swap(r.profile_left_m, r.profile_right_m);
  for (auto& m : duty.manoeuvres) {
    if (m.act != &loads::act::corner) m.steering_deg = -m.steering_deg;  // in a bend towards its side
    m.side = in_mirror(m.side);
    std::swap(m.brakes.front_left, m.brakes.front_right);
  }
  for (auto& o : duty.obstacles) {
    o.wheels = in_mirror(o.wheels);
    o.steering_deg = -o.steering_deg;
  }
  for (auto& t : duty.trips)
    for (auto& l : t.legs) {
      l.pose = in_mirror(l.pose);
      l.cross_fall_percent = -l.cross_fall_percent;
    }
}

inline rating::Job mirrored(rating::Job job) {
  mirror_design(job.design);
  mirror_duty(job.duty);
  return job;
}

}  // namespace seamwright::properties
