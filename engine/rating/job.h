// SPDX-License-Identifier: GPL-3.0-or-later
// What a rating starts from: design, duty, rules and the published data they call on. Plain data.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "engine/cycles/spectral.h"
#include "engine/fatigue/curve.h"
#include "engine/fatigue/mean_stress.h"
#include "engine/frame/frame.h"
#include "engine/joints/bolt.h"
#include "engine/joints/notch.h"
#include "engine/joints/weld.h"
#include "engine/loads/duty.h"
#include "engine/loads/state.h"
#include "engine/loads/steering.h"
#include "engine/rating/rules.h"

namespace seamwright::rating {

struct Identity {
  std::string name, revision, sha256;
};

/// A place that can crack without being a weld.
struct Notch {
  std::string id;
  std::string kind;  ///< joint kind: "shoulder", "hole", "thread", "seat", "clamp-slot"
  std::string member;
  double at_mm = 0;  ///< from the member's first node, along it
  joints::Shoulder shoulder;
  double hole_mm = 0;          ///< diameter
  frame::Vec3 faces{0, 0, 0};  ///< hole: from the member's axis to it
  joints::Thread thread;
  double factor = 0;          ///< stress concentration found elsewhere; 0 = none
  std::string factor_source;  ///< who found it, and how
};

/// Bolts on a circle that join a member's end to something else.
struct BoltCircle {
  std::string id;
  std::string member;
  bool at_start = true;
  joints::Thread thread;
  int count = 0;
  double circle_mm = 0;           ///< diameter
  double ultimate_mpa = 0;        ///< of the bolts
  bool brittle_in_shear = false;  ///< 4.8, 5.8, 6.8, 10.9
  double preload_n = 0;           ///< after tightening; 0 = none
  double loss_percent = 0;        ///< of the preload, by setting and use
  double prying = 1;              ///< factor on the tension
  double friction = 0,
         head_mm =
             0;  ///< of thread and head alike, and mean bearing diameter: for the torque; 0 = not stated
};

/// An end that is not welded, as the design declares it: why it is not rated, or which member of the same
/// tube it goes on as.
struct UnweldedEnd {
  std::string member, node;
  std::string because;    ///< "" where it goes on
  std::string continues;  ///< member; "" where it does not
};

/// A detail that the shop tested itself: its curve holds for these kinds, this place and these walls alone.
struct OwnDetail {
  std::string id, by;
  std::vector<std::string> kinds;
  std::string place;  ///< site kind
  fatigue::StressKind stress = fatigue::StressKind::nominal;
  double min_wall_mm = 0, max_wall_mm = 0;
  fatigue::Curve curve;
};

struct Design {
  Identity identity;
  frame::Frame frame;
  loads::Carriers carriers;
  loads::Steering steering;
  std::vector<joints::Weld> welds;
  std::vector<Notch> notches;
  std::vector<BoltCircle> bolts;
  std::vector<UnweldedEnd> unwelded_ends;
  std::vector<OwnDetail> own_details;
  bool flexible_joints = false;      ///< whether the chord's wall gives way under a brace
  bool joints_stated = false;        ///< the design says which
  std::vector<Message> assumptions;  ///< values the file left to their stated defaults
};

/// What a verdict stands for: a weld, a notch or a circle of bolts. Sites name it by its number: welds first,
/// then notches, then bolts.
struct Subject {
  std::string id, joint, kind, node, member, chord;
};
std::size_t subject_count(const Design& design);
Subject subject_of(const Design& design, std::size_t number);

/// A row of catalog/published/details: which curve of a set goes with which failure place of a joint kind.
struct Detail {
  std::string id;
  RuleSet set = RuleSet::dnv;
  std::string place;               ///< site kind ("chord-toe" ...)
  std::vector<std::string> kinds;  ///< joint kinds it holds for
  std::string curve;               ///< id; "" = the set has no row: not covered
  double max_attachment_mm = 0;    ///< upper bound of the attachment length for this row, 0 = none
  double size_exponent = 0, size_reference_mm = 0;  ///< rule for thickness or diameter; 0 = none
  double min_wall_mm = 0;                           ///< smallest wall the source covers, 0 = not stated
  fatigue::StressKind stress = fatigue::StressKind::nominal;
  Source source;
  bool from_memory = false;
};

/// Whether a stress may meet a kind of curve of a set.
enum class Pairing { permitted, engineering, refused };
/// A row of catalog/published/pairs: what is not listed is refused.
struct Pair {
  std::string id;
  RuleSet set = RuleSet::dnv;
  std::string
      from;  ///< where the stress comes from: "scf", "extrapolation", "nominal", "throat", "throat-shear"
  fatigue::StressKind stress = fatigue::StressKind::nominal;
  Pairing pairing = Pairing::permitted;
  Source source;
};

struct Published {
  std::string sha256;  ///< of all data files
  std::vector<fatigue::Curve> curves;
  std::vector<Detail> details;
  std::vector<Pair> pairs;
};
Pairing pairing_of(const Published& published, RuleSet set, const std::string& from,
                   fatigue::StressKind stress);

/// Whether the set has a class for a root that is proven to be fused, at a weld of this kind: else proof
/// changes nothing.
bool credits_proof(const Published& published, RuleSet set, const std::string& kind);

struct Job {
  Design design;
  Identity duty_identity;
  loads::Duty duty;
  cycles::RangeModel range_model = cycles::RangeModel::dirlik;
  Rules rules;
  std::vector<Message> assumptions;       ///< of the duty
  std::vector<Message> peak_assumptions;  ///< of its peak cases
};

}  // namespace seamwright::rating
