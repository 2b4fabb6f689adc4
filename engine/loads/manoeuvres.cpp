// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/manoeuvres.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/loads/balance.h"

namespace seamwright::loads {

namespace {

using frame::Vec3;

constexpr double mm_per_m = 1000;

class Loads {
 public:
  Loads(const frame::Frame& frame, const frame::Assembly& assembly, const Carriers& carriers,
        const Duty& duty)
      : frame_(frame),
        assembly_(assembly),
        carriers_(carriers),
        duty_(duty),
        mass_t_(balance_of(frame, assembly).mass_kg / 1000) {}

  // N per m/s2 in the direction in which the trike is accelerated: inertia against it.
  Eigen::VectorXd inertia(const Vec3& direction) const {
    return -mm_per_m * (assembly_.mass * rigid_motion(frame_, assembly_, direction, Vec3::Zero()));
  }

  Eigen::VectorXd brake() const {
    Eigen::VectorXd load = inertia(-Vec3::UnitX());
    for (const frame::Wheel& w : frame_.wheels) {
      const double share = w.id == "FL"   ? duty_.brakes.front_left
                           : w.id == "FR" ? duty_.brakes.front_right
                                          : duty_.brakes.rear;
      const double back = -share * mass_t_ * mm_per_m;  // N at the contact, radius below the axle
      add(load, w.node, {back, 0, 0}, {0, -w.radius_mm * back, 0});
    }
    return load;
  }

  Eigen::VectorXd pedal(double side) const {
    const Drive& d = duty_.drive;
    const double chain = d.crank_mm / d.chainring_radius_mm;  // per newton on a level crank
    const frame::Wheel& rear = rear_wheel();
    const double push = chain * d.sprocket_radius_mm / rear.radius_mm;
    Eigen::VectorXd load = inertia({push / (mass_t_ * mm_per_m), 0, 0});
    // The chain runs straight from the bottom bracket to the axle, on the right.
    const Vec3 offset(0, -d.chain_offset_mm, 0);
    const Vec3 pull = chain * (place_of(rear.node) - place_of(carriers_.pedal_node)).normalized();
    add(load, carriers_.pedal_node, pull, offset.cross(pull));
    add(load, carriers_.pedal_node, {0, 0, -1}, {-side * d.pedal_offset_mm, 0, 0});
    add(load, rear.node, -pull, -offset.cross(pull));
    add(load, rear.node, {push, 0, 0}, Vec3::Zero());
    double bar_moment = 0;
    const std::vector<std::string> grips = grips_at(side);
    for (const std::string& grip : grips) {
      const double up = d.bar_pull_share / static_cast<double>(grips.size());
      add(load, grip, {0, 0, up}, Vec3::Zero());
      bar_moment += up * y_of(grip);
    }
    const double held = grips.empty() ? 0 : d.bar_pull_share;
    add(load, carriers_.saddle_node, {0, 0, 1 - held}, {side * d.pedal_offset_mm - bar_moment, 0, 0});
    return load;
  }

 private:
  void add(Eigen::VectorXd& load, const std::string& node, const Vec3& force_n,
           const Vec3& moment_nmm) const {
    const auto at = assembly_.node_index.find(node);
    if (at == assembly_.node_index.end())
      throw Fault{Message{"frame.unknown-node", {text("node", node), text("user", "rider")}}};
    load.segment<3>(6 * static_cast<Eigen::Index>(at->second)) += force_n;
    load.segment<3>(6 * static_cast<Eigen::Index>(at->second) + 3) += moment_nmm;
  }
  Vec3 place_of(const std::string& node) const {
    for (const frame::Node& n : frame_.nodes)
      if (n.id == node) return n.position_mm;
    throw Fault{Message{"frame.unknown-node", {text("node", node), text("user", "rider")}}};
  }
  double y_of(const std::string& node) const { return place_of(node).y(); }
  std::vector<std::string> grips_at(double side) const {
    std::vector<std::string> found;
    for (const std::string& node : carriers_.bar_nodes)
      if (side * y_of(node) > 0) found.push_back(node);
    return found.empty() ? carriers_.bar_nodes : found;
  }
  const frame::Wheel& rear_wheel() const {
    const auto at =
        std::find_if(frame_.wheels.begin(), frame_.wheels.end(), [](const auto& w) { return w.id == "R"; });
    if (at == frame_.wheels.end()) throw Fault{Message{"loads.no-rear-wheel", {}}};
    return *at;
  }

  const frame::Frame& frame_;
  const frame::Assembly& assembly_;
  const Carriers& carriers_;
  const Duty& duty_;
  double mass_t_;
};

// Half sines of a given time, evenly along the row, with the amplitudes in turn.
void place_pulses(Eigen::Ref<Eigen::RowVectorXd> row, double count, double seconds, double rate_hz,
                  double first, double second) {
  const auto samples = static_cast<double>(row.size());
  const double width = std::min(seconds * rate_hz, samples / std::max(1.0, count));
  for (double k = 0; k < count; ++k) {
    const double middle = (k + 0.5) * samples / count;
    const auto from = static_cast<Eigen::Index>(std::ceil(middle - width / 2));
    for (Eigen::Index i = std::max<Eigen::Index>(0, from);
         i < row.size() && static_cast<double>(i) < middle + width / 2; ++i)
      row[i] += (std::fmod(k, 2) == 0 ? first : second) *
                std::sin(std::numbers::pi * (static_cast<double>(i) - middle + width / 2) / width);
  }
}

}  // namespace

Eigen::MatrixXd manoeuvre_solutions(const frame::Frame& laden_frame, const frame::Assembly& assembly,
                                    const Carriers& carriers, const Duty& duty) {
  const Loads loads(laden_frame, assembly, carriers, duty);
  Eigen::MatrixXd all = Eigen::MatrixXd::Zero(assembly.full_size, 4);
  const bool pedals = std::any_of(duty.trip.legs.begin(), duty.trip.legs.end(),
                                  [](const Leg& l) { return l.pedal_force_n > 0; });
  all.col(0) = loads.inertia(Vec3::UnitY());
  all.col(1) = loads.brake();
  if (pedals) {
    all.col(2) = loads.pedal(1);
    all.col(3) = loads.pedal(-1);
  }
  return frame::Statics(assembly).solve(all).displacements;
}

ManoeuvreCounts manoeuvre_counts(const Leg& leg) {
  ManoeuvreCounts n;
  if (leg.corner_m_s2 > 0) n.corners = std::ceil(leg.corners_per_km * leg.distance_km - 1e-9);
  if (leg.braking_m_s2 > 0) n.stops = std::ceil(leg.stops_per_km * leg.distance_km - 1e-9);
  if (leg.pedal_force_n > 0) n.turns = std::ceil(leg.turns_per_km * leg.distance_km - 1e-9);
  return n;
}

Eigen::MatrixXd manoeuvre_histories(const Leg& leg, double sample_rate_hz, Eigen::Index samples) {
  Eigen::MatrixXd h = Eigen::MatrixXd::Zero(4, samples);
  const ManoeuvreCounts n = manoeuvre_counts(leg);
  Eigen::RowVectorXd row = Eigen::RowVectorXd::Zero(samples);
  place_pulses(row, n.corners, leg.corner_s, sample_rate_hz, leg.corner_m_s2, -leg.corner_m_s2);
  h.row(0) = row;
  row.setZero();
  place_pulses(row, n.stops, leg.braking_s, sample_rate_hz, leg.braking_m_s2, leg.braking_m_s2);
  h.row(1) = row;
  double before = 0;
  for (Eigen::Index i = 0; n.turns > 0 && i < samples; ++i) {
    const double push =
        leg.pedal_force_n * std::sin(2 * std::numbers::pi * n.turns * (static_cast<double>(i) + 0.5) /
                                     static_cast<double>(samples));
    // Between the feet the force is nil; a sample beside that instant would leave a hundredth of it, and the
    // range short.
    const bool changes_foot = push * before < 0;
    h(2, i) = changes_foot ? 0 : std::max(0.0, push);
    h(3, i) = changes_foot ? 0 : std::max(0.0, -push);
    before = push;
  }
  return h;
}

}  // namespace seamwright::loads
