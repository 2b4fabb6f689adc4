// SPDX-License-Identifier: GPL-3.0-or-later
// The whole service made ready for counting: the sites, the trike in every pose of the duty, and for every
// leg the stress that each load gives at every site.
#pragma once

#include <map>
#include <memory>

#include "engine/loads/manoeuvres.h"
#include "engine/loads/pulses.h"
#include "engine/rating/job.h"
#include "engine/rating/memory.h"
#include "engine/sites/sites.h"

namespace seamwright::rating {

/// A pose with its modes and the rows of all sites on its coordinates.
struct RatedState {
  std::shared_ptr<const SolvedTrike> trike;
  const loads::State& state = trike->state;
  const loads::Transfer& transfer = trike->transfer;
  Eigen::MatrixXd rows{};      ///< (modes + wheels + pushes) x sites, MPa per coordinate
  Eigen::VectorXd standing{};  ///< per site: stress at rest, MPa
};

/// A manoeuvre of a leg: its peaks in turn, on top of the leg's standing stress.
struct RatedTrain {
  loads::Train train;
  Eigen::MatrixXd peaks;  ///< kinds x sites, MPa
};

/// An obstacle of a leg, ridden over from rest to rest on a level road.
struct RatedPassage {
  std::string source;
  double count = 0;  ///< in the whole leg
  const RatedState* state = nullptr;
  std::shared_ptr<const loads::Ride> ride;  ///< at the duty's sample rate
};

struct RatedLeg {
  const loads::Leg* leg = nullptr;
  const loads::Road* road = nullptr;
  const RatedState* state = nullptr;
  Eigen::VectorXd standing;  ///< per site, with the cross fall, MPa
  std::vector<RatedTrain> trains;
  std::vector<std::shared_ptr<const RatedPassage>> passages;
  std::shared_ptr<const LegAnswer> answer;  ///< of the trike to the road
  bool leaves_ground = false;  ///< by Gaussian shares more often than the duty's limit: ridden in steps
};

struct Service {
  loads::Duty duty;  ///< with every manoeuvre capped at the tip-over limits
  std::vector<sites::Site> sites;
  std::map<loads::Pose, RatedState> states;
  std::vector<std::vector<RatedLeg>> trips;  ///< legs of each kind of trip, as in the duty
  std::vector<double> factors;               ///< per site, on stress: loads, size and thickness
  std::vector<double> size_factors;          ///< of these, size and thickness alone: the prediction has them too
  std::vector<Message> notes;                ///< on caps, lifting wheels and the like
  std::vector<Message> beyond;               ///< loads that the model cannot tell: every damage is at least what is computed
};

/// The job's joints that have models, how many have none, and why as far as is known; none of both where it asks for equations.
struct JointsOfJob {
  std::vector<solid::ModelledJoint> modelled;
  std::size_t without = 0;
  std::vector<Message> reasons{};
};
JointsOfJob joints_of(const Job& job);
/// The frame with its cuts and with these joints' bodies.
frame::Frame jointed_frame(const Job& job, const JointsOfJob& joints);
/// The sites of a job on its frame with cuts and with these joints' bodies: what can crack, as rows over section forces.
std::vector<sites::Site> sites_of(const Job& job, const frame::Frame& cut, const rules::Published& published,
                                  const std::vector<solid::ModelledJoint>& joints = {}, sites::Checks checks = sites::Checks::left_out);

/// Everything but the counting. load_factor is that of the rules; what is in the memory is not computed again. Throws Fault "rating.tips-at-rest",
/// "rating.unknown-road", "rating.unknown-manoeuvre" and all that the loads throw.
Service prepare(const Job& job, const frame::Frame& cut, std::vector<sites::Site> sites, double load_factor, Memory& memory);
Service prepare(const Job& job, const frame::Frame& cut, std::vector<sites::Site> sites, double load_factor);

/// Steps of a ride per sample of the histories: a wheel may lift within a sample.
inline constexpr Eigen::Index ride_steps = 5;

/// Seconds that a leg takes.
double seconds_of(const loads::Leg& leg);

}  // namespace seamwright::rating
