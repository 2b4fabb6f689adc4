// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/measured/ride_fit.h"

#include <algorithm>

#include "engine/cycles/rainflow.h"
#include "engine/design/weld_geometry.h"
#include "engine/loads/inverse.h"
#include "engine/loads/posed_trike.h"
#include "engine/rating/job.h"
#include "engine/signal/welch.h"

namespace seamwright::measured {

namespace {

// The trike as it was ridden, in the pose of the duty's heaviest leg.
loads::State ridden_state(const rating::Job& job, double payload_kg) {
  loads::Pose pose;
  for (const loads::Leg* leg : loads::all_legs(job.duty))
    if (leg->pose.payload_kg >= pose.payload_kg) pose = leg->pose;
  if (payload_kg >= 0) pose.payload_kg = payload_kg;
  const frame::Frame frame = loads::frame_in(pose, design::frame_with_cuts(job.design), job.design.carriers,
                                             job.duty.rider, job.design.steering);
  return loads::make_state(frame, pose.payload_kg, job.duty.highest_frequency_hz);
}

}  // namespace

RiddenRoad ridden_road(const rating::Job& job, const RiddenAt& at, const signal::ChannelSurvey& channel,
                       double rate_hz, double to_m_s2) {
  const loads::State state = ridden_state(job, at.payload_kg);
  const loads::Transfer transfer(state, job.duty.structural_damping);
  const loads::Band band{at.from_hz,
                         at.to_hz > 0 ? at.to_hz : std::min(0.4 * rate_hz, job.duty.highest_frequency_hz)};
  const double rms =
      to_m_s2 * signal::band_rms(channel.frequency_hz, channel.density, band.from_hz, band.to_hz);
  RiddenRoad road{at.node, at.speed_kmh, rms, 0, band.from_hz, band.to_hz};
  road.gd_n0_m3 = loads::equivalent_roughness_m3(state, transfer, at.node, at.speed_kmh / 3.6, band, rms);
  return road;
}

std::vector<double> ridden_profile(const rating::Job& job, const RiddenAt& at, const RiddenRoad& road,
                                   double rate_hz, std::span<const double> acceleration_m_s2) {
  const loads::State state = ridden_state(job, at.payload_kg);
  const loads::Transfer transfer(state, job.duty.structural_damping);
  return loads::profile_from_acceleration(state, transfer, at.node, at.speed_kmh / 3.6, rate_hz,
                                          acceleration_m_s2, {road.from_hz, road.to_hz});
}

StressDamage stress_damage(const fatigue::Curve& curve, double thickness_mm,
                           std::span<const double> stress_mpa, double km) {
  const fatigue::DamageLaw law(
      curve,
      fatigue::thickness_factor(curve, thickness_mm > 0 ? thickness_mm : curve.reference_thickness_mm));
  StressDamage d;
  cycles::Rainflow flow;
  const auto sink = [&](const cycles::Cycle& c) {
    d.damage += c.count * law.damage(c.range());
    d.largest_mpa = std::max(d.largest_mpa, c.range());
  };
  flow.push(stress_mpa, sink);
  flow.finish(cycles::Residue::repeated, sink);
  if (km > 0 && d.damage > 0) d.life_km = km / d.damage;
  return d;
}

}  // namespace seamwright::measured
