// SPDX-License-Identifier: GPL-3.0-or-later
// The frame as drawn: tubes and nodes, what it carries, and everything that can crack: welds, notches,
// circles of bolts. Plain data.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "engine/design/plate.h"
#include "engine/fatigue/curve.h"
#include "engine/frame/frame.h"
#include "engine/joints/bolt.h"
#include "engine/joints/notch.h"
#include "engine/joints/weld.h"
#include "engine/loads/carriers.h"
#include "engine/loads/steering.h"

namespace seamwright::design {

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
  std::string large_end;       ///< shoulder: the member's end that is large, "start" or "end"; "" = not stated
  double hole_mm = 0;          ///< diameter
  frame::Vec3 faces{0, 0, 0};  ///< hole and slot: from the member's axis to it
  double bore_mm = 0;          ///< seat: its diameter, from `at_mm` to the nearer end; 0 = not stated
  double slot_mm = 0;          ///< clamp slot: its width, from `at_mm` to the nearer end; 0 = not stated
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

/// The inside of the tubes: open to the air through vent holes, treated against rust, or closed for good.
enum class Inside { vented, treated, sealed };
inline constexpr std::array insides{Inside::vented, Inside::treated, Inside::sealed};
/// "vented", "treated", "sealed".
const char* name_of(Inside inside);

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
  std::vector<Plate> plates;
  std::vector<Sleeve> sleeves;
  Inside inside = Inside::vented;
  bool flexible_joints = false;      ///< whether the chord's wall gives way under a brace
  bool joints_stated = false;        ///< the design says which
  std::vector<Message> assumptions;  ///< values the file left to their stated defaults
};

/// A verdict stands for one of these: a weld, a notch or a circle of bolts. Sites name it by its number:
/// welds first, then notches, then bolts.
struct Subject {
  std::string id, joint, kind, node, member, chord;
};
std::size_t subject_count(const Design& design);
Subject subject_of(const Design& design, std::size_t number);

}  // namespace seamwright::design
