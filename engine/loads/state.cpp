// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/state.h"

#include <algorithm>
#include <cmath>

#include "engine/evidence/constants.h"
#include "engine/frame/check.h"
#include "engine/loads/mass_balance.h"

namespace seamwright::loads {
namespace {

using frame::check_number;
using frame::Vec3;

constexpr double most_carried_kg = 1e5;

Vec3 node_position(const frame::Frame& frame, const std::string& node, const char* user) {
  for (const frame::Node& n : frame.nodes)
    if (n.id == node) return n.position_mm;
  throw Fault{Message{"frame.unknown-node", {text("node", node), text("user", user)}}};
}

void check_rider(const Rider& r) {
  const std::string id = "rider";
  check_number("mass_kg", id, r.mass_kg, "kg", 0, most_carried_kg);
  check_number("saddle_share", id, r.saddle_share, "", 0, 1);
  check_number("pedal_share", id, r.pedal_share, "", 0, 1);
  check_number("bar_share", id, r.bar_share, "", 0, 1);
  check_number("vertical_frequency_hz", id, r.vertical_frequency_hz, "Hz", 0.1, 1000);
  check_number("vertical_damping", id, r.vertical_damping, "", 0, 10);
  check_number("lateral_frequency_hz", id, r.lateral_frequency_hz, "Hz", 0, 1000);
  check_number("lateral_damping", id, r.lateral_damping, "", 0, 10);
  check_number("fore_aft_frequency_hz", id, r.fore_aft_frequency_hz, "Hz", 0, 1000);
  check_number("fore_aft_damping", id, r.fore_aft_damping, "", 0, 10);
  check_number("height_above_saddle_mm", id, r.height_above_saddle_mm, "mm", -1e4, 1e4);
  const double sum = r.saddle_share + r.pedal_share + r.bar_share;
  if (!(std::abs(sum - 1) <= 1e-6)) throw Fault{Message{"loads.rider-shares", {number("sum", sum, "")}}};
}

void add_seated(frame::Frame& f, const Carriers& c, const Rider& r) {
  frame::SprungMass seated;
  seated.id = "rider on saddle";
  seated.mass_kg = r.mass_kg * r.saddle_share;
  seated.node = c.saddle_node;
  seated.position_mm =
      node_position(f, c.saddle_node, "rider.saddle_node") + Vec3(0, 0, r.height_above_saddle_mm);
  seated.sprung.push_back({Vec3::UnitZ(), r.vertical_frequency_hz, r.vertical_damping});
  if (r.lateral_frequency_hz > 0)
    seated.sprung.push_back({Vec3::UnitY(), r.lateral_frequency_hz, r.lateral_damping});
  if (r.fore_aft_frequency_hz > 0)
    seated.sprung.push_back({Vec3::UnitX(), r.fore_aft_frequency_hz, r.fore_aft_damping});
  f.sprung_masses.push_back(std::move(seated));
}

void add_rigid(frame::Frame& f, const std::string& id, double mass_kg, const std::string& node,
               const char* user) {
  f.masses.push_back({id, mass_kg, node_position(f, node, user), {node}, Vec3::Zero()});
}

void add_rider(frame::Frame& f, const Carriers& c, const Rider& r) {
  if (r.saddle_share > 0) add_seated(f, c, r);
  if (r.pedal_share > 0)
    add_rigid(f, "rider on pedals", r.mass_kg * r.pedal_share, c.pedal_node, "rider.pedal_node");
  if (r.bar_share == 0) return;
  if (c.bar_nodes.empty()) throw Fault{Message{"loads.no-carrier", {text("load", "rider.bar_nodes")}}};
  const double each_kg = r.mass_kg * r.bar_share / static_cast<double>(c.bar_nodes.size());
  for (std::size_t i = 0; i < c.bar_nodes.size(); ++i)
    add_rigid(f, "rider on bar " + std::to_string(i + 1), each_kg, c.bar_nodes[i], "rider.bar_nodes");
}

/// Splits off the free roll along x, the one motion without stiffness that statics holds.
Eigen::VectorXd drop_free_motion(const frame::Assembly& a, frame::Modes& modes) {
  constexpr double free_hz = 1e-3;
  Eigen::Index free = 0;
  while (free < modes.frequency_hz.size() && modes.frequency_hz[free] < free_hz) ++free;
  const Eigen::Index kept = modes.frequency_hz.size() - free;
  Eigen::VectorXd roll = Eigen::VectorXd::Zero(a.full_size);
  if (free > 0) roll = modes.shapes.col(0);
  const double contact = (a.tyre_radial.transpose() * roll).cwiseAbs().maxCoeff();
  if (free > 1 || contact > 1e-5 * roll.cwiseAbs().maxCoeff())
    throw Fault{Message{"loads.free-motion", {number("motions", static_cast<double>(free), "")}}};
  modes.frequency_hz = Eigen::VectorXd(modes.frequency_hz.tail(kept));
  modes.shapes = Eigen::MatrixXd(modes.shapes.rightCols(kept));
  return roll;
}

Eigen::MatrixXd push_forces(const frame::Frame& f, const frame::Assembly& a) {
  Eigen::MatrixXd pushes = Eigen::MatrixXd::Zero(a.full_size, static_cast<Eigen::Index>(f.wheels.size()));
  for (std::size_t i = 0; i < f.wheels.size(); ++i) {
    const double heading = f.wheels[i].heading_deg * degree;
    const auto first = 6 * static_cast<Eigen::Index>(a.wheel_nodes[i]);
    pushes(first, static_cast<Eigen::Index>(i)) = std::cos(heading);
    pushes(first + 1, static_cast<Eigen::Index>(i)) = std::sin(heading);
  }
  return pushes;
}

frame::Modes lowest(const frame::Modes& modes, Eigen::Index count) {
  frame::Modes few = modes;
  few.frequency_hz = modes.frequency_hz.head(count);
  few.shapes = modes.shapes.leftCols(count);
  return few;
}

/// All that acts on the trike from outside its modes: tyres, pushes of edges, every damper.
Eigen::MatrixXd forces_on(const State& s) {
  const frame::Assembly& a = s.assembly;
  Eigen::MatrixXd forces(a.full_size, a.tyre_radial.cols() + s.pushes.cols() + a.dampers.cols());
  forces << a.tyre_radial, s.pushes, Eigen::MatrixXd(a.dampers);
  return forces;
}

}  // namespace

frame::Frame laden_frame(const frame::Frame& frame, const Carriers& carriers, const Rider& rider,
                         double payload_kg) {
  check_number("payload_kg", "payload", payload_kg, "kg", 0, most_carried_kg);
  frame::Frame f = frame;
  check_number("mass_kg", "rider", rider.mass_kg, "kg", 0, most_carried_kg);
  if (rider.mass_kg > 0) {
    check_rider(rider);
    add_rider(f, carriers, rider);
  }
  if (payload_kg > 0) {
    if (carriers.box_nodes.empty()) throw Fault{Message{"loads.no-carrier", {text("load", "box.nodes")}}};
    for (const std::string& node : carriers.box_nodes) node_position(f, node, "box.nodes");
    f.masses.push_back({"payload", payload_kg, carriers.payload_centre_mm, carriers.box_nodes, Vec3::Zero()});
  }
  return f;
}

State make_state(const frame::Frame& laden_frame, double payload_kg, double highest_hz) {
  check_number("payload_kg", "payload", payload_kg, "kg", 0, most_carried_kg);
  check_number("highest_frequency_hz", "state", highest_hz, "Hz", 1, 1000);
  State s;
  s.payload_kg = payload_kg;
  s.assembly = frame::assemble(laden_frame, frame::Footing::tyres);
  const frame::Assembly& a = s.assembly;
  const frame::Statics statics(a);
  const frame::Solution weight = statics.solve(frame::gravity_load(a));
  s.static_displacement = weight.displacements.col(0);
  s.static_residual = weight.residual[0];
  s.held_reaction_n = weight.reactions.col(0).sum();
  s.static_wheel_load_n = -a.tyre_stiffness.cwiseProduct(a.tyre_radial.transpose() * s.static_displacement);
  s.static_displacement +=
      statics.solve(camber_thrust(laden_frame, a, s.static_wheel_load_n)).displacements.col(0);
  // A mode just above what the road excites answers nearly as much as one just below.
  constexpr double beyond = 1.5;
  s.modes = frame::modes(a, beyond * highest_hz);
  const Eigen::VectorXd roll = drop_free_motion(a, s.modes);
  s.pushes = push_forces(laden_frame, a);
  s.moving = ritz_shapes(a, s.modes, roll, forces_on(s));
  s.modes = lowest(s.modes, (s.modes.frequency_hz.array() <= highest_hz).count());
  for (const frame::Wheel& w : laden_frame.wheels) {
    const Vec3 contact = node_position(laden_frame, w.node, "wheel") + frame::contact_arm_mm(w);
    s.tracks.push_back({contact.x() * m_per_mm, contact.y() * m_per_mm, w.contact_length_mm * m_per_mm});
  }
  return s;
}

Eigen::Index rigid_motions(const State& state) {
  const auto& a = state.assembly;
  const Eigen::Index springs = a.full_size - 6 * static_cast<Eigen::Index>(a.node_ids.size());
  return 5 + static_cast<Eigen::Index>(a.hinges.size()) + springs;
}

State with_lowest_modes(const State& state, Eigen::Index modes) {
  const Eigen::Index kept = std::min(modes, state.modes.frequency_hz.size());
  State s = state;
  s.modes = lowest(state.modes, kept);
  s.moving = lowest_and_static(state.moving, kept, forces_on(state), state.assembly.mass);
  return s;
}

}  // namespace seamwright::loads
