// SPDX-License-Identifier: GPL-3.0-or-later
// Design x duty -> for each site of each weld: cycles, damage, life, coverage, verdict, evidence.
#pragma once

#include <limits>
#include <map>
#include <string>
#include <vector>

#include "engine/fatigue/prediction.h"
#include "engine/loads/state.h"
#include "engine/rating/job.h"
#include "engine/rating/load_paths.h"
#include "engine/rating/part.h"
#include "engine/rating/progress.h"
#include "engine/rating/reliability.h"

namespace seamwright::rating {

class CountStore;
class Memory;

enum class Verdict { meets, not_covered, falls_short };  ///< worse is larger
const char* name_of(Verdict verdict);

enum class Method { time, spectral };

struct SiteRating {
  double used() const { return damage_unfactored / allowed_damage; }  ///< above 1 it falls short; NaN: not judged
  std::string site;  ///< "chord-toe@90"
  std::string kind;
  double angle_deg = 0;
  std::string curve;                   ///< "" when not covered
  double damage = 0;                   ///< over the service, with all factors; NaN when not covered
  double damage_unfactored = 0;        ///< without load factor and design fatigue factor
  /// So much of damage_unfactored leaves the chance of a crack at the target of its weld; NaN: nothing is held against it.
  double allowed_damage = std::numeric_limits<double>::quiet_NaN();
  double life_years = 0, life_km = 0;  ///< with factors; infinite when no damage
  double life_years_unfactored = 0, life_km_unfactored = 0;
  double life_km_predicted = 0;  ///< by the median curve and the median Miner sum; the place as it should be
  double damage_spread = 0;  ///< half width of the mean's 95 % interval over the seeds, relative; NaN for one
  double largest_range_mpa = 0;
  Coverage coverage = Coverage::inside;
  /// Something that makes it worse is not in the number: damage at least, life at most. Falls short when that
  /// does, else not covered.
  bool at_least = false;
  Verdict verdict = Verdict::meets;
  /// Share of each of the rating's parts, each counted alone, with factors; they sum to 1, or all are 0.
  std::vector<double> damage_share;
  /// Damage by the road with all modes over damage with the body's modes alone (quasi-static), at a weld's
  /// governing site; else NaN.
  double elastic_over_quasi_static = std::numeric_limits<double>::quiet_NaN();
  Evidence evidence;
};

/// The frame has a crack in the service with this likelihood. Without covered places all NaN.
struct RatingLikelihood {
  fatigue::FrameLikelihood frame;
  std::vector<LimitState> limit_states;  ///< empty without covered places
  Budget budget;                         ///< of the governing place
  double target_index = 0, target_probability = 0;
  fatigue::SimulatedChance simulated;                             ///< where the job asks for samples
  std::size_t places = 0;                                         ///< governing sites it is made of
  std::size_t uncovered =
      0;  ///< welds, notches and bolts of which something is not in it: at least so likely
};

/// A crack around the brace from where it is through the wall to what the rest no longer carries.
struct CrackGrowth {
  double from_mm = 0, to_mm = 0;  ///< along the girth
  double km = std::numeric_limits<double>::quiet_NaN();  ///< NaN: not known
  std::string site{};             ///< the check that it follows from
};

/// It falls short when a crack is likelier than its target: that of a single load path, or of any crack where something
/// else carries for it. The site that is predicted to live shortest stands first; then those without a number; then the others, the most damaged
/// first.
struct WeldRating {
  std::string id, joint, kind, node, member, chord;
  Verdict verdict = Verdict::meets;
  std::string governing_site;  ///< the first
  std::vector<SiteRating> sites;
  std::vector<SiteRating> checks;  ///< the worst of each kind of check beside the rating: they decide nothing
  bool at_most = false;   ///< the first site's life is a bound: something of the weld is not in it
  bool rejected = false;  ///< a planar flaw or one through the wall was found: no life until it is repaired
  double crack_probability =
      std::numeric_limits<double>::quiet_NaN();  ///< at the governing site, in the service
  LoadPath path;                   ///< what carries when it has cracked through
  CrackGrowth growth;
  double missed_share = 1;         ///< of the cracks that can be seen in time, so many are missed
  fatigue::Prediction predicted;   ///< of the governing site, in services
};

struct LegReport {
  std::string trip, id, road;
  loads::Pose pose;
  double speed_kmh = 0, distance_km = 0;
  loads::LegLevels levels;
  double box_acceleration_rms_m_s2 =
      0;  ///< vertical, at the box node nearest the payload's centre; NaN without a box
  double counted_lift_share = std::numeric_limits<double>::quiet_NaN();  ///< where it was ridden in steps
};

struct StateReport {
  loads::Pose pose;
  double total_mass_kg = 0;
  Eigen::VectorXd static_wheel_load_n;
  std::vector<double> mode_frequency_hz;
  double residual = 0, held_reaction_n = 0;
};

/// The first weld answers; lives in services, with all loads at the 90 and the 10 % points of their scatter.
struct LoadQuestion {
  std::string weld{};
  double unmeasured = 0;  ///< share of the damage by loads that nobody measured
  Part largest{};         ///< of these
  double largest_share = 0;
  double life_low = fatigue::not_predicted, life_high = fatigue::not_predicted;
};

/// A rider rolls between two bounds: a trunk on a spring, as the duty may have it, and rigid with the saddle, which moves the frame more.
struct RiderBound {
  double frequency_hz = 0;  ///< sideways, of the rating; 0: it is rigid itself, and nothing else is said
  Verdict verdict = Verdict::meets;
  std::string weld{};       ///< the first of the rating with the rigid rider, by spectra
  double life_km = std::numeric_limits<double>::quiet_NaN();  ///< predicted
};

struct Rating {
  design::Identity design, duty;
  rules::Rules rules;
  std::string method;  ///< "time" or "spectral"
  std::string catalog_sha256;
  Verdict verdict = Verdict::meets;
  std::string governing_weld;
  std::vector<WeldRating> welds;  ///< worst first
  RatingLikelihood likelihood;
  fatigue::Prediction predicted;  ///< of the frame, in services
  LoadQuestion loads;             ///< empty without covered places
  RiderBound rider;
  std::vector<design::UnweldedEnd> unwelded_ends;  ///< nothing of them is rated: something else holds them
  std::vector<Part> parts;
  std::vector<LegReport> legs;
  std::vector<StateReport> states;
  std::vector<Message> shape;  ///< what is wrong with the frame's shape; with any of it no frame meets
  std::vector<Message> beyond;  ///< loads that the model cannot tell, which bounds every damage from below
  std::vector<Message> notes;   ///< on validity, and the assumptions made
  double km_per_year = 0, service_years = 0, service_km = 0;
  std::string range_model;       ///< of the parts, and of the spectral method
  std::size_t realisations = 0;  ///< trips of random road that were counted; 1 for the spectral method
  double confidence = 0;  ///< half width of the governing damage's 95 % interval, relative; NaN for one
};

/// Evidence of so many welds, worst first, goes down to the channels and the cycles.
inline constexpr std::size_t detailed_welds = 5;
/// These were computed before and need not be again, where there are any: histories counted, and parts of like jobs.
struct Known {
  CountStore* counts = nullptr;
  Memory* memory = nullptr;
};

/// Rates every weld; the one named by `explained` is told in detail too. Throws Fault for an impossible job,
/// and RatingStopped when asked to stop.
Rating rate(const Job& job, const rules::Published& published, Method method, const Progress& progress,
            const std::string& explained = {}, Known known = {});

/// Studies of many variants compare this of a rating: its welds as in Rating, without shares and what explains them.
struct BriefRating {
  Verdict verdict = Verdict::meets;
  std::vector<WeldRating> welds;
  RatingLikelihood likelihood;
};
/// The chances are left out where lives alone are asked for: welds and sites then stand as the set's own format orders and
/// judges them, and the likelihood is empty.
enum class Chance { left_out, asked_for };
/// Throws what rate() throws.
BriefRating rate_briefly(const Job& job, const rules::Published& published, Method method, Memory& memory,
                         Chance chance = Chance::asked_for);

}  // namespace seamwright::rating
