// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/explain.h"

#include <array>
#include <string>

namespace seamwright::rating {

Evidence standing_stress(const Site& site, const RatedState& state) {
  static constexpr std::array<const char*, 6> names{"N", "Vy", "Vz", "T", "My", "Mz"};
  const frame::Assembly& a = state.state.assembly;
  Evidence e;
  e.figure = "standing-stress";
  e.unit = "MPa";
  e.source = {"statics", "section forces times factors"};
  e.inputs.push_back({"payload", state.state.payload_kg, "kg"});
  for (Eigen::SparseVector<double>::InnerIterator it(site.row); it; ++it) {
    const auto element = static_cast<std::size_t>(it.index() / 12);
    const Eigen::Index place = it.index() % 12, part = place % 6;
    const double force = frame::section_forces(a.elements[element], state.state.static_displacement)[place];
    std::string name = a.elements[element].id;
    name.append(place < 6 ? " start " : " end ").append(names[static_cast<std::size_t>(part)]);
    const bool moment = part >= 3;
    e.inputs.push_back({name, force, moment ? "N mm" : "N"});
    e.inputs.push_back({std::string("factor on ").append(name), it.value(), moment ? "MPa/(N mm)" : "MPa/N"});
    e.value += force * it.value();
  }
  return e;
}

Evidence leg_stress(const loads::Leg& leg, double deviation_mpa, double share) {
  Evidence e;
  e.figure = "leg-stress-deviation";
  e.value = deviation_mpa;
  e.unit = "MPa";
  e.source = {"iso-8608-2016", "road spectrum through the frame on its tyres"};
  e.notes.push_back({"rating.leg-share", {text("leg", leg.id), number("share", 100 * share, "%")}});
  return e;
}

}  // namespace seamwright::rating
