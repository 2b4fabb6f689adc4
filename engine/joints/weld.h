// SPDX-License-Identifier: GPL-3.0-or-later
// Joints and welds as the design states them: plain data.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::joints {

/// A joint's layout decides where its sites lie; the kind decides their details.
enum class Layout {
  tube_on_tube,   ///< round tube welded around its end onto a chord's side
  tube_end,       ///< round tube welded around its end onto something else: plate, tube in line, mitre
  slotted,        ///< round tube slotted over a plate, four weld lines along the tube
  plate_on_tube,  ///< plate standing along a chord, a weld line on each side
  unwelded,       ///< no rule holds: brazed
};

/// An inspection found this on the finished weld, and no size below stands for it.
struct Flaw {
  std::string imperfection;  ///< number of ISO 6520-1, or what was measured
  double mm = 0;
  bool rejects = false;  ///< planar or through the wall: no life until it is repaired
};

/// One member end, or a plate, welded at a node. Its id comes from the design.
struct Weld {
  std::string id;
  std::string member;    ///< the brace; "" for a plate that is not a member
  bool at_start = true;  ///< which end of the member
  std::string node;
  std::string joint;  ///< id of the joint it belongs to
  std::string kind;   ///< joint kind of catalog/published/joint_kinds.toml, e.g. "tube-tee"
  std::string chord;  ///< member welded onto; "" where the kind has none
  std::string through{};  ///< of the braces here this member is cut by none; "" = the largest
  Layout layout = Layout::tube_on_tube;
  double throat_mm = 0;      ///< of the fillet
  double leg_crown_mm = 0, leg_saddle_mm = 0;  ///< of the fillet around a brace, as drawn; 0 = from the throat (shape::default_leg_mm)
  bool root_proven = false;  ///< penetration proven by a macro section of the qualified procedure
  std::string root_proof;    ///< id of that record, "" = none
  double fusion_mm = 0;         ///< as drawn: how far the weld reaches from the brace's outer surface into its end face; 0 = to the root line
  bool fusion_proven = false;   ///< macro sections of the qualified procedure reach as deep as that
  int root_macros = 0;       ///< fused sections of that record: what share of roots they leave perhaps open
  Message root_doubt{};      ///< why a proof that is named does not hold; no id: it holds, or none is named
  std::string procedure;     ///< id, "" = none
  std::vector<std::string> positions{};  ///< ISO 6947, as welded; empty: not stated
  double attachment_length_mm = 0;       ///< along the chord, over the toes; 0 = from geometry
  /// Shares of the brace's axial force that a brace opposite (x) and a brace on the same side (k, the partner
  /// weld, at a gap between the toes) balance; the rest goes into the chord.
  /// The shares follow from the member forces of each load where none are given.
  bool shares_given = false;
  double x_share = 0, k_share = 0, gap_mm = 0;
  std::string partner{};
  bool stress_relieved = false;  ///< by heat after welding
  double offset_mm = 0;          ///< of the centre lines of the walls in a splice
  /// These are measured on the finished weld; 0 = as the design has it, or nothing found.
  double leg_mm = 0, undercut_mm = 0, cap_mm = 0, cap_width_mm = 0;
  std::vector<Flaw> flaws{};
  double other_wall_mm = 0;               ///< of the other tube in a splice; 0 = the same
  double filler_ultimate_mpa = 0;         ///< of the weld metal; 0 = not stated
  double plate_mm = 0;                    ///< thickness of the plate (slotted, plate on tube)
  double line_mm = 0;                     ///< length of each weld line (slotted, plate on tube)
  Eigen::Vector3d plate_normal{0, 0, 0};  ///< slotted: across the plate
  Eigen::Vector3d stands{0, 0, 0};        ///< plate on tube: from the chord's axis to the plate
  bool carries_load = true;               ///< plate on tube: whether anything bears on it
};

/// The depth of fusion that counts in a brace's wall, mm: none where it is not proven or the whole wall is fused, or below 0.3 of the wall,
/// where models show no gain yet, and never more than 0.85 of it, since a thinner slit is no body to mesh. Engineering choice of ours.
inline double counted_fusion_mm(const Weld& weld, double wall_mm) {
  constexpr double least = 0.3, most = 0.85;
  if (weld.root_proven || !weld.fusion_proven || !(weld.fusion_mm >= least * wall_mm)) return 0;
  return weld.fusion_mm < most * wall_mm ? weld.fusion_mm : most * wall_mm;
}

/// True where the weld joins a tube to another tube at an angle: what a brace carries flows unevenly around
/// such a seam, and its walls bend.
inline bool at_tube_node(const Weld& weld) {
  return weld.layout == Layout::tube_on_tube || weld.kind == "tube-mitre" || weld.kind == "platform-corner";
}

}  // namespace seamwright::joints
