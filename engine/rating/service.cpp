// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/service.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <set>
#include <tuple>

#include "engine/sites/joint_readings.h"
#include "engine/evidence/constants.h"
#include "engine/loads/acts.h"
#include "engine/rating/manoeuvre_caps.h"

namespace seamwright::rating {

namespace {

using loads::Leg;
using loads::Manoeuvre;
using loads::Pose;
using loads::Side;

template <typename Named>
const Named& row_named(const std::vector<Named>& rows, const std::string& id, MessageId fault,
                       const Leg& leg) {
  for (const Named& row : rows)
    if (row.id == id) return row;
  throw Fault{Message{fault, {text("id", id), text("leg", leg.id)}}};
}

Eigen::SparseMatrix<double> row_matrix(const std::vector<sites::Site>& sites, Eigen::Index columns,
                                       sites::Row sites::Site::*part) {
  std::vector<Eigen::Triplet<double>> entries;
  for (std::size_t i = 0; i < sites.size(); ++i)
    for (sites::Row::InnerIterator it(sites[i].*part); it; ++it)
      entries.emplace_back(static_cast<Eigen::Index>(i), it.index(), it.value());
  Eigen::SparseMatrix<double> rows(static_cast<Eigen::Index>(sites.size()), columns);
  rows.setFromTriplets(entries.begin(), entries.end());
  return rows;
}

class Preparation {
 public:
  Preparation(const Job& job, const frame::Frame& cut, std::vector<sites::Site> sites, double load_factor, Memory& memory)
      : job_(job), cut_(cut), memory_(memory), limits_(job.design, cut, job.duty.rider) {
    service_.duty = job.duty;
    service_.sites = std::move(sites);
    for (const sites::Site& site : service_.sites) {
      service_.size_factors.push_back(site.size_factor * (site.curve ? fatigue::thickness_factor(*site.curve, site.thickness_mm) : 1));
      service_.factors.push_back(load_factor * service_.size_factors.back());
    }
    const Eigen::Index columns = service_.sites.empty() ? 0 : service_.sites[0].row.size();
    main_ = row_matrix(service_.sites, columns, &sites::Site::row);
    shear_ = row_matrix(service_.sites, columns, &sites::Site::shear);
  }

  Service run() {
    for (const loads::Trip& trip : service_.duty.trips) {
      service_.trips.emplace_back();
      for (const Leg& leg : trip.legs) service_.trips.back().push_back(ready_leg(leg));
    }
    set_sign();
    for (auto& [pose, state] : service_.states) add_rows(pose, state);
    for (auto& trip : service_.trips)
      for (RatedLeg& leg : trip) add_loads(leg);
    bound_by_loads();
    return std::move(service_);
  }

 private:
  const loads::PosedTrike& posed_trike(const Pose& pose) {
    auto& place = posed_[pose];
    if (!place)
      place = memory_.posed(
          loads::frame_in(pose, cut_, job_.design.carriers, service_.duty.rider, job_.design.steering));
    return *place;
  }

  RatedState& state_in(const Pose& pose) {
    const auto found = service_.states.find(pose);
    if (found != service_.states.end()) return found->second;
    RatedState state{memory_.solved(posed_trike(pose).frame(), pose.payload_kg, job_.duty.highest_frequency_hz,
                                    job_.duty.structural_damping)};
    return service_.states.emplace(pose, std::move(state)).first->second;
  }

  RatedLeg ready_leg(const Leg& leg) {
    check_rest(leg, limits_);
    RatedLeg r;
    r.leg = &leg;
    r.road = &row_named(service_.duty.roads, leg.road, "rating.unknown-road", leg);
    r.state = &state_in(leg.pose);
    r.answer = memory_.answer(r.state->trike, *r.road, leg, job_.duty.highest_frequency_hz,
                              job_.design.carriers.saddle_node);
    const double lift = r.answer->levels.lift_share.maxCoeff();
    r.leaves_ground = lift > job_.duty.lift_share_limit;
    if (r.leaves_ground)
      service_.notes.push_back(
          {"rating.wheel-lifts", {text("leg", leg.id), number("share", 100 * lift, "%")}});
    // The standard deviation of a wheel's load on the road, as a linear model has it, is as large as the load at rest.
    const double deviation_at_rest = std::erfc(1 / std::numbers::sqrt2) / 2;
    if (lift > deviation_at_rest)
      service_.beyond.push_back({"rating.beyond-contact", {text("leg", leg.id), number("share", 100 * lift, "%")}});
    const double road_hz = r.road->max_cycles_m * leg.speed_kmh / 3.6;
    // More than half of the road's waves come faster than anything is computed.
    if (road_hz > 2 * job_.duty.highest_frequency_hz)
      service_.beyond.push_back({"rating.beyond-speed",
                                 {text("leg", leg.id), number("speed", leg.speed_kmh, "km/h"), number("road", road_hz, "Hz"),
                                  number("highest", job_.duty.highest_frequency_hz, "Hz")}});
    else if (road_hz > job_.duty.highest_frequency_hz)
      service_.notes.push_back({"rating.road-cut-short",
                                {text("leg", leg.id), number("road", road_hz, "Hz"),
                                 number("highest", job_.duty.highest_frequency_hz, "Hz")}});
    if (r.road->pitch_amplitude_mm > 0) {
      const double hz = 1000 / r.road->pitch_mm * leg.speed_kmh / 3.6;
      if (hz > job_.duty.highest_frequency_hz || 1000 / r.road->pitch_mm > r.road->max_cycles_m)
        service_.notes.push_back({"rating.pitch-left-out", {text("leg", leg.id), number("pitch", hz, "Hz")}});
    }
    for (const loads::Rate& rate : leg.rates)
      if (const auto* o = obstacle(rate.id)) state_in(pose_of(*o, leg));
    return r;
  }

  static Pose pose_of(const loads::Obstacle& obstacle, const Leg& leg) {
    Pose pose = leg.pose;
    if (obstacle.steering_deg != 0) pose.steering_deg = obstacle.steering_deg;
    return pose;
  }

  const loads::Obstacle* obstacle(const std::string& id) const {
    for (const loads::Obstacle& o : service_.duty.obstacles)
      if (o.id == id) return &o;
    return nullptr;
  }

  // Throat stress: sqrt(across^2 + along^2) of in-phase ranges is at most |across| + |along|, so the sum with
  // the sign that correlates on the road is counted: never below the formula, at most 1.41 of it.
  void set_sign() {
    std::map<const RatedState*, std::pair<Eigen::MatrixXd, Eigen::MatrixXd>> on_basis;
    Eigen::VectorXd correlation = Eigen::VectorXd::Zero(main_.rows());
    for (const auto& trip : service_.trips)
      for (const RatedLeg& leg : trip) {
        auto& [across, along] = on_basis[leg.state];
        if (across.size() == 0) {
          const Eigen::MatrixXd forces =
              frame::section_force_map(leg.state->state.assembly) * leg.state->state.moving.shapes;
          across = main_ * forces;
          along = shear_ * forces;
        }
        correlation += (across * leg.answer->moments.m0).cwiseProduct(along).rowwise().sum();
      }
    sign_ = correlation.unaryExpr([](double c) { return c < 0 ? -1.0 : 1.0; });
  }

  Eigen::MatrixXd stress(const Eigen::MatrixXd& section_forces) const {
    Eigen::MatrixXd all =
        main_ * section_forces + sign_.asDiagonal() * Eigen::MatrixXd(shear_ * section_forces);
    sites::add_balanced(service_.sites, section_forces, all);
    return all;
  }

  void add_rows(const Pose& pose, RatedState& s) {
    s.rows = stress(frame::section_force_map(s.state.assembly) * s.state.moving.shapes).transpose();
    s.standing = stress(posed_trike(pose).standing_forces());
  }

  void add_loads(RatedLeg& r) {
    const Leg& leg = *r.leg;
    r.standing = r.state->standing;
    if (leg.cross_fall_percent != 0) {
      const loads::PosedTrike& p = posed_trike(leg.pose);
      r.standing += stress(p.section_forces(p.displacements(loads::corner_load(p, cross_fall_m_s2(leg)))));
    }
    if (leg.pedal_force_n > 0) add_pedalling(r);
    for (const loads::Rate& rate : leg.rates) {
      const double count = loads::times_in(leg, rate.per_km);
      if (count == 0) continue;
      if (const auto* o = obstacle(rate.id))
        r.passages.push_back(passage(*o, leg, count));
      else
        add_train(r, row_named(service_.duty.manoeuvres, rate.id, "rating.unknown-manoeuvre", leg), count);
    }
  }

  void add_pedalling(RatedLeg& r) {
    const Leg& leg = *r.leg;
    const loads::PosedTrike& p = posed_trike(leg.pose);
    const loads::Duty& d = job_.duty;
    Eigen::MatrixXd both(p.assembly().full_size, 2);
    const loads::Drive drive = loads::in_gear(d.drive, leg.sprocket_radius_mm);
    both << loads::pedal_load(p, job_.design.carriers, d.rider, drive, 1, leg.pedal_force_n, 0),
        loads::pedal_load(p, job_.design.carriers, d.rider, drive, -1, leg.pedal_force_n, 0);
    r.trains.push_back({{"pedalling", 2 * loads::times_in(leg, leg.turns_per_km), 0},
                        stress(p.section_forces(p.displacements(both))).transpose()});
    const loads::PedalReaction reaction = loads::pedal_reaction(leg.pedal_force_n, d.rider, d.drive);
    if (reaction.other_foot > 0)
      service_.notes.push_back({"rating.saddle-unloaded",
                                {text("leg", leg.id), number("force", leg.pedal_force_n, "N"),
                                 number("foot", reaction.other_foot, "N"),
                                 number("hands", reaction.near_hand + reaction.both_hands, "N")}});
  }

  void add_train(RatedLeg& r, const Manoeuvre& asked, double count) {
    const Leg& leg = *r.leg;
    const Manoeuvre m = capped_manoeuvre(asked, leg, job_.duty.drive, limits_, service_.notes);
    // Soden & Adeyefa, J. Biomechanics 12 (1979) 527: up to three times the body's weight when starting.
    const double bound = 3 * job_.duty.rider.mass_kg * gravity_m_s2;
    if (m.act == &loads::act::start && m.level > bound)
      service_.notes.push_back({"rating.beyond-pedal-bound",
                                {text("leg", leg.id), text("manoeuvre", m.id), number("force", m.level, "N"),
                                 number("bound", bound, "N")}});
    std::vector<double> sides{1};
    if (m.act->each_side)
      sides = m.side == Side::both   ? std::vector<double>{1, -1}
              : m.side == Side::left ? std::vector<double>{1}
                                     : std::vector<double>{-1};
    const Eigen::VectorXd before = posed_trike(leg.pose).standing_forces();
    RatedTrain train{{m.id, count, m.seconds},
                     Eigen::MatrixXd(static_cast<Eigen::Index>(sides.size()), main_.rows())};
    for (std::size_t k = 0; k < sides.size(); ++k) {
      const loads::PosedTrike& p = posed_trike(rating::pose_of(m, leg, sides[k]));
      const Eigen::VectorXd load = m.act->load(p, job_.design.carriers, job_.duty, m, sides[k]);
      const Eigen::VectorXd forces = p.section_forces(p.displacements(load)) + p.standing_forces() - before;
      train.peaks.row(static_cast<Eigen::Index>(k)) = stress(forces).transpose();
    }
    r.trains.push_back(std::move(train));
  }

  std::shared_ptr<const RatedPassage> passage(const loads::Obstacle& o, const Leg& leg, double count) {
    const double speed = (o.speed_kmh > 0 ? o.speed_kmh : leg.speed_kmh) / 3.6;
    const RatedState& state = state_in(pose_of(o, leg));
    Memory::Crossing crossing{o, {}, speed, job_.duty.sample_rate_hz, job_.duty.structural_damping, ride_steps};
    for (const frame::Wheel& wheel : cut_.wheels) crossing.radius_mm.push_back(wheel.radius_mm);
    const auto ride = memory_.ride(state.trike, crossing);
    if (told_.emplace(&state, o.id, speed).second) {
      check_tyres(o, *ride);
      service_.notes.push_back(
          {"rating.passage",
           {text("obstacle", o.id), number("payload", leg.pose.payload_kg, "kg"),
            number("speed", 3.6 * speed, "km/h"), number("force", ride->largest_force_n.maxCoeff(), "N"),
            number("factor", ride->largest_force_n.cwiseQuotient(state.state.static_wheel_load_n).maxCoeff(),
                   "")}});
    }
    return std::make_shared<RatedPassage>(RatedPassage{o.id, count, &state, ride});
  }

  // A tyre pressed flat hands the edge on to the rim, which no spring of a tyre tells of. Without its height nobody knows.
  void check_tyres(const loads::Obstacle& o, const loads::Ride& ride) {
    for (std::size_t w = 0; w < cut_.wheels.size(); ++w) {
      const frame::Wheel& wheel = cut_.wheels[w];
      if (!(wheel.section_radius_mm > 0)) {
        service_.beyond.push_back({"rating.beyond-tyre-unknown", {text("obstacle", o.id), text("wheel", wheel.id)}});
        return;
      }
      const double pressed_mm = ride.largest_force_n[static_cast<Eigen::Index>(w)] / wheel.radial_n_mm;
      if (pressed_mm <= 2 * wheel.section_radius_mm) continue;
      service_.beyond.push_back({"rating.beyond-tyre",
                                 {text("obstacle", o.id), text("wheel", wheel.id), number("pressed", pressed_mm, "mm"),
                                  number("tyre", 2 * wheel.section_radius_mm, "mm")}});
      return;
    }
  }

  void bound_by_loads() {
    if (service_.beyond.empty()) return;
    for (sites::Site& site : service_.sites) {
      site.at_least = true;
      for (const Message& why : service_.beyond) site.evidence.notes.push_back(why);
    }
  }

  const Job& job_;
  const frame::Frame& cut_;
  Memory& memory_;
  TipLimits limits_;
  Service service_;
  Eigen::SparseMatrix<double> main_, shear_;
  Eigen::VectorXd sign_;
  std::map<Pose, std::shared_ptr<const loads::PosedTrike>> posed_;
  std::set<std::tuple<const RatedState*, std::string, double>> told_;  // rides that a note told of
};

}  // namespace

JointsOfJob joints_of(const Job& job) {
  if (!job.joint_models) return {};
  const solid::FrameJoints all = sites::frame_joints(job.design);
  JointsOfJob out{solid::modelled_joints(all, *job.joint_models)};
  out.without = all.joints.size() - out.modelled.size();
  if (job.joint_models->unavailable) out.reasons.push_back(*job.joint_models->unavailable);
  for (const solid::FrameJoint& j : all.joints)
    if (const std::string* why = job.joint_models->why_failed(j.task)) out.reasons.push_back(solid::failed_message(j, *why));
  return out;
}

frame::Frame jointed_frame(const Job& job, const JointsOfJob& joints) {
  return solid::with_bodies(design::frame_with_cuts(job.design), joints.modelled);
}

std::vector<sites::Site> sites_of(const Job& job, const frame::Frame& cut, const rules::Published& published,
                                  const std::vector<solid::ModelledJoint>& joints, sites::Checks checks) {
  std::vector<sites::Site> all =
      sites::make_sites(job.design, cut, frame::assemble(cut, frame::Footing::tyres), job.rules, published, joints, checks);
  if (job.rules.load_bias != 1)
    for (sites::Site& site : all)
      for (sites::Row* row : {&site.row, &site.shear, &site.x_more, &site.k_more}) *row *= job.rules.load_bias;
  return all;
}

Service prepare(const Job& job, const frame::Frame& cut, std::vector<sites::Site> sites, double load_factor, Memory& memory) {
  return Preparation(job, cut, std::move(sites), load_factor, memory).run();
}

Service prepare(const Job& job, const frame::Frame& cut, std::vector<sites::Site> sites, double load_factor) {
  Memory memory;
  return prepare(job, cut, std::move(sites), load_factor, memory);
}

double seconds_of(const Leg& leg) { return leg.distance_km / leg.speed_kmh * 3600; }

}  // namespace seamwright::rating
