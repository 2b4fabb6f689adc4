// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/leg_reports.h"

#include <algorithm>
#include <limits>

#include "engine/evidence/constants.h"

namespace seamwright::rating {

namespace {

// The node under the payload, where published measurements in cargo boxes were taken.
std::string box_node(const design::Design& design) {
  std::string best;
  double least = std::numeric_limits<double>::infinity();
  for (const frame::Node& node : design.frame.nodes) {
    const auto& nodes = design.carriers.box_nodes;
    const double away = (node.position_mm - design.carriers.payload_centre_mm).norm();
    if (away < least && std::find(nodes.begin(), nodes.end(), node.id) != nodes.end()) {
      best = node.id;
      least = away;
    }
  }
  return best;
}

}  // namespace

std::vector<LegReport> leg_reports(const design::Design& design, const Service& service,
                                   const std::vector<std::vector<double>>& lift_share) {
  std::vector<LegReport> legs;
  const std::string node = box_node(design);
  for (std::size_t t = 0; t < service.trips.size(); ++t)
    for (std::size_t i = 0; i < service.trips[t].size(); ++i) {
      const RatedLeg& leg = service.trips[t][i];
      LegReport report{service.duty.trips[t].id,
                       leg.leg->id,
                       leg.leg->road,
                       leg.leg->pose,
                       leg.leg->speed_kmh,
                       leg.leg->distance_km,
                       leg.answer->levels,
                       std::numeric_limits<double>::quiet_NaN(),
                       lift_share[t][i]};
      if (!node.empty())
        report.box_acceleration_rms_m_s2 =
            loads::levels_of(leg.state->state, leg.answer->spectra, node).seat_acceleration_rms_m_s2;
      legs.push_back(std::move(report));
    }
  return legs;
}

std::vector<StateReport> state_reports(const Service& service) {
  std::vector<StateReport> states;
  for (const auto& [pose, s] : service.states) {
    StateReport report;
    report.pose = pose;
    report.total_mass_kg = s.state.static_wheel_load_n.sum() / gravity_m_s2;
    report.static_wheel_load_n = s.state.static_wheel_load_n;
    for (double f : s.state.modes.frequency_hz) report.mode_frequency_hz.push_back(f);
    report.residual = s.state.static_residual;
    report.held_reaction_n = s.state.held_reaction_n;
    states.push_back(std::move(report));
  }
  return states;
}

}  // namespace seamwright::rating
