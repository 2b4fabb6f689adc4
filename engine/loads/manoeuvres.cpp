// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/manoeuvres.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/evidence/constants.h"
#include "engine/loads/acts.h"

namespace seamwright::loads {

namespace {

using frame::Vec3;

void add(const PosedTrike& trike, Eigen::VectorXd& load, const std::string& node, const Vec3& force_n,
         const Vec3& moment_nmm = Vec3::Zero()) {
  trike.node_position(node);  // refuses an unknown node
  const auto first = 6 * static_cast<Eigen::Index>(trike.assembly().node_index.at(node));
  load.segment<3>(first) += force_n;
  load.segment<3>(first + 3) += moment_nmm;
}

// Inertia of all masses when the trike is accelerated: against it.
Eigen::VectorXd inertia(const PosedTrike& trike, const Vec3& acceleration_m_s2) {
  const frame::Assembly& a = trike.assembly();
  return -mm_per_m * (a.mass * rigid_motion(trike.frame(), a, acceleration_m_s2, Vec3::Zero()));
}

// A torque about the axle on what holds it: as a moment there, or as a pair of forces between the axle and
// the node that holds the brake or the motor.
void add_torque(const PosedTrike& trike, Eigen::VectorXd& load, const frame::Wheel& w,
                const Vec3& torque_nmm) {
  if (w.torque_node.empty()) return add(trike, load, w.node, Vec3::Zero(), torque_nmm);
  const Vec3 axis = torque_nmm.normalized();
  Vec3 arm = trike.node_position(w.torque_node) - trike.node_position(w.node);
  arm -= arm.dot(axis) * axis;
  if (torque_nmm.norm() > 0 && !(arm.norm() > 1))
    throw Fault{Message{"loads.torque-node", {text("node", w.torque_node), text("wheel", w.id)}}};
  if (!(torque_nmm.norm() > 0)) return;
  const Vec3 force = torque_nmm.cross(arm) / arm.squaredNorm();
  // The mount may stand beside the wheel's plane: what its offset adds is taken off at the axle.
  const Vec3 whole = trike.node_position(w.torque_node) - trike.node_position(w.node);
  add(trike, load, w.torque_node, force);
  add(trike, load, w.node, -force, torque_nmm - whole.cross(force));
}

std::vector<std::string> grips_at(const PosedTrike& trike, const Carriers& carriers, double side) {
  const auto place = std::max_element(
      carriers.bar_nodes.begin(), carriers.bar_nodes.end(), [&](const auto& a, const auto& b) {
        return side * trike.node_position(a).y() < side * trike.node_position(b).y();
      });
  if (place == carriers.bar_nodes.end()) return {};
  return {*place};
}

// Moment about the long axis through the middle plane of an upward force at a grip.
double roll_moment(const PosedTrike& trike, const std::string& grip, double up_n) {
  return up_n * trike.node_position(grip).y();
}

}  // namespace

Vec3 chain_direction(const Vec3& bracket, const Vec3& axle, const Drive& d) {
  const Vec3 between(axle.x() - bracket.x(), 0, axle.z() - bracket.z());
  const double apart = between.norm(), smaller = d.chainring_radius_mm - d.sprocket_radius_mm;
  if (!(apart > std::abs(smaller))) throw Fault{Message{"loads.chain", {number("apart", apart, "mm")}}};
  const Vec3 along = between / apart;
  Vec3 up(along.z(), 0, -along.x());
  if (up.z() < 0) up = -up;
  const double sine = smaller / apart;
  return std::sqrt(1 - sine * sine) * along - sine * up;
}

PedalReaction pedal_reaction(double force_n, const Rider& rider, const Drive& drive) {
  const double weight = rider.mass_kg * gravity_m_s2;
  PedalReaction r;
  r.near_hand = drive.bar_pull_share * force_n;
  const double rest = force_n - r.near_hand;
  r.saddle = std::min(rest, weight * rider.saddle_share);
  r.other_foot = std::min(rest - r.saddle, weight * rider.pedal_share / 2);
  r.both_hands = rest - r.saddle - r.other_foot;
  return r;
}

Eigen::VectorXd corner_load(const PosedTrike& trike, double to_left_m_s2) {
  return inertia(trike, {0, to_left_m_s2, 0});
}

Eigen::VectorXd brake_load(const PosedTrike& trike, const Brakes& brakes, double m_s2) {
  Eigen::VectorXd load = inertia(trike, {-m_s2, 0, 0});
  const double whole = trike.balance().mass_kg * m_s2;
  for (const frame::Wheel& w : trike.frame().wheels) {
    const double share = w.id == "FL" ? brakes.front_left : w.id == "FR" ? brakes.front_right : brakes.rear;
    const double heading = w.heading_deg * degree;
    const Vec3 force = -share * whole * Vec3(std::cos(heading), std::sin(heading), 0);
    const Vec3 arm = frame::contact_arm_mm(w), axis(-std::sin(heading), std::cos(heading), 0);
    const Vec3 moment = arm.cross(force), torque = moment.dot(axis) * axis;
    add(trike, load, w.node, force, moment - torque);
    add_torque(trike, load, w, torque);
  }
  return load;
}

Eigen::VectorXd pedal_load(const PosedTrike& trike, const Carriers& carriers, const Rider& rider,
                           const Drive& d, double side, double force_n, double motor_n_m) {
  const frame::Wheel& rear = trike.wheel("R");
  const double motor_nmm = motor_n_m * mm_per_m;
  const double at_crank = d.motor == Motor::mid ? motor_nmm : 0,
               at_wheel = d.motor == Motor::hub ? motor_nmm : 0;
  const double chain = (force_n * d.crank_mm + at_crank) / d.chainring_radius_mm;
  const double push = (chain * d.sprocket_radius_mm + at_wheel) / rear.radius_mm;
  Eigen::VectorXd load = inertia(trike, {push / trike.balance().mass_kg, 0, 0});
  // Crank and wheel turn freely, so bracket and axle feel the forces and, beside the middle plane, their
  // moments.
  const Vec3 beside(0, -d.chain_offset_mm, 0);
  const Vec3 pull =
      chain * chain_direction(trike.node_position(carriers.pedal_node), trike.node_position(rear.node), d);
  add(trike, load, carriers.pedal_node, pull, beside.cross(pull));
  add(trike, load, rear.node, -pull, -beside.cross(pull));
  add(trike, load, rear.node, {push, 0, 0});
  // The torque that turns the crank or the wheel turns the motor's housing back.
  if (at_crank > 0) add(trike, load, carriers.pedal_node, Vec3::Zero(), {0, -at_crank, 0});
  if (at_wheel > 0) add_torque(trike, load, rear, {0, -at_wheel, 0});

  const PedalReaction r = pedal_reaction(force_n, rider, d);
  add(trike, load, carriers.pedal_node, {0, 0, r.other_foot - force_n},
      {-side * d.pedal_offset_mm * (force_n + r.other_foot), 0, 0});
  double left_over = -side * d.pedal_offset_mm * (force_n + r.other_foot);
  const auto pull_up = [&](const std::string& grip, double up_n) {
    add(trike, load, grip, {0, 0, up_n});
    left_over += roll_moment(trike, grip, up_n);
  };
  const auto grips = grips_at(trike, carriers, side), others = grips_at(trike, carriers, -side);
  const double without_bars = grips.empty() ? r.near_hand + r.both_hands : 0;
  if (!grips.empty()) {
    pull_up(grips[0], r.near_hand + r.both_hands / 2);
    pull_up(others[0], r.both_hands / 2);
  }
  // The moment that is left over is held by the seat as far as it carries, else by the hands.
  const double rest = r.saddle + r.other_foot + r.both_hands;
  const double seat = grips.empty() || rest <= 0 ? 1 : r.saddle / rest;
  add(trike, load, carriers.saddle_node, {0, 0, r.saddle + without_bars}, {-seat * left_over, 0, 0});
  if (seat < 1) {
    const double apart = trike.node_position(grips[0]).y() - trike.node_position(others[0]).y();
    if (std::abs(apart) > 1) {
      add(trike, load, grips[0], {0, 0, -(1 - seat) * left_over / apart});
      add(trike, load, others[0], {0, 0, (1 - seat) * left_over / apart});
    } else {
      add(trike, load, grips[0], Vec3::Zero(), {-(1 - seat) * left_over, 0, 0});
    }
  }
  return load;
}

Eigen::VectorXd saddle_load(const PosedTrike& trike, const Carriers& carriers, double force_n) {
  Eigen::VectorXd load = Eigen::VectorXd::Zero(trike.assembly().full_size);
  add(trike, load, carriers.saddle_node, {0, 0, -force_n});
  return load;
}

Eigen::VectorXd bars_load(const PosedTrike& trike, const Carriers& carriers, double side, double force_n) {
  Eigen::VectorXd load = Eigen::VectorXd::Zero(trike.assembly().full_size);
  const auto up = grips_at(trike, carriers, side), down = grips_at(trike, carriers, -side);
  if (up.empty()) throw Fault{Message{"loads.no-carrier", {text("load", "rider.bar_nodes")}}};
  add(trike, load, up[0], {0, 0, force_n});
  add(trike, load, down[0], {0, 0, -force_n});
  const double moment = roll_moment(trike, up[0], force_n) - roll_moment(trike, down[0], force_n);
  add(trike, load, carriers.saddle_node, Vec3::Zero(), {-moment, 0, 0});
  return load;
}

constexpr bool each_side = true, one_for_both = false;

const Act act::corner{"corner", each_side,
                      [](const PosedTrike& trike, const Carriers&, const Duty&, const Manoeuvre& m, double side) {
                        return corner_load(trike, side * m.level);
                      }};
const Act act::brake{"brake", one_for_both,
                     [](const PosedTrike& trike, const Carriers&, const Duty&, const Manoeuvre& m, double) {
                       return brake_load(trike, m.brakes, m.level);
                     }};
const Act act::start{
    "start", each_side,
    [](const PosedTrike& trike, const Carriers& carriers, const Duty& duty, const Manoeuvre& m, double side) {
      return pedal_load(trike, carriers, duty.rider, in_gear(duty.drive, m.sprocket_radius_mm), side, m.level,
                        m.motor_n_m);
    }};
const Act act::sit_down{"sit-down", one_for_both,
                        [](const PosedTrike& trike, const Carriers& carriers, const Duty&, const Manoeuvre& m,
                           double) { return saddle_load(trike, carriers, m.level); }};
const Act act::bars{"bars", each_side,
                    [](const PosedTrike& trike, const Carriers& carriers, const Duty&, const Manoeuvre& m,
                       double side) { return bars_load(trike, carriers, side, m.level); }};

}  // namespace seamwright::loads
