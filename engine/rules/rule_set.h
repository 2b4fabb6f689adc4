// SPDX-License-Identifier: GPL-3.0-or-later
// A set of rules as one object: all that it decides, whole in itself. Its curves, details and pairs stand in
// the published tables under its name, and with them its environments, its rule for size, its class for a
// proven root and which stress may meet which curve; all else stands here. No member has a standard value: a
// set that leaves one out does not compile, so that none takes over another's safety.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::rules {

struct Rules;
struct Safety;

/// A rule stands there: key of the bibliography and clause.
struct Clause {
  const char *key, *clause;
  Source source() const { return {key, clause}; }
};

/// A set asks for these by strategy and by consequence.
struct ByStrategy {
  double inspected, safe_life;
};
struct ByConsequence {
  ByStrategy secondary_part, whole_frame, people;
};

/// The range that counts, MPa, of a cycle between least and most, least <= most.
using EffectiveRange = double (*)(double least_mpa, double most_mpa);

/// A root rated through the throat. The share of the square along the throat that joins the square across it
/// in one stress; 0: the part along is rated on a shear class of its own.
struct ThroatRule {
  Clause clause;
  double along;
};

/// Damage of direct stress and of shear at one point, each by its own curve; the largest ranges, MPa, and the
/// limiting sum that holds for both.
struct TwoDamages {
  double direct, shear;
  double largest_direct_mpa, largest_shear_mpa;
  double limit;
};

/// A butt weld of two walls whose centre lines do not meet: the thinner wall and the offset, mm, and the
/// share t^1.5/(t^1.5 + t2^1.5) of the bending that the thinner one takes.
struct OffsetWalls {
  double wall_mm, offset_mm, share;
};
struct MisalignmentRule {
  Clause clause;
  double (*factor)(const OffsetWalls& walls);  ///< on the stress of the thinner wall
};

/// A toe of a tube on a tube and the side whose surface is read; radii are outer ones, all mm.
enum class ToePlace { brace, chord_crown, chord_saddle };
struct Toe {
  ToePlace place;
  double brace_radius_mm, brace_wall_mm, chord_radius_mm, chord_wall_mm;
};
/// A point at which the surface stress is read: its distance from the toe, and its weight in the stress at
/// the toe. The weights of a toe add to 1.
struct ReadOut {
  double distance_mm, weight;
};
struct HotSpotRule {
  Clause clause;
  std::vector<ReadOut> (*read_out)(const Toe& toe);
};

/// The most damaged weld that has a curve, for the notes; empty where there is none.
struct GoverningLife {
  std::string weld;
  double damage, life_km;
};

struct RuleSet {
  const char* name;  ///< as files, options and the published tables name it

  std::optional<ByConsequence> partial_factor;         ///< on stress ranges, where the set has one
  std::optional<ByConsequence> design_fatigue_factor;  ///< on damage, where the set has one
  double damage_limit;                                 ///< of the damage with factors

  double (*joined_damage)(const TwoDamages& both);
  EffectiveRange effective_range;  ///< of direct stress in what is not welded, or relieved by heat; null: no
                                   ///< credit for compression

  ThroatRule throat;
  bool joins_torsion;      ///< torsion at a notch adds to the direct stress; else it has a shear class
  bool hole_class_is_net;  ///< the class of a hole holds for the net section, the edge's peak within it
  MisalignmentRule misalignment;
  HotSpotRule hot_spot;

  double below_mean;     ///< by how many deviations the set's curves lie below their mean
  double scatter_log_n;  ///< standard deviation of log10 N of a curve that gives none itself

  /// A rating by the set must say these, from what the job asks for and what that came to.
  std::vector<Message> (*notes)(const Rules& asked, const Safety& safety, const GoverningLife& governing);
};

/// The name that files, options and curves use.
inline const char* name_of(const RuleSet* set) { return set->name; }

}  // namespace seamwright::rules
