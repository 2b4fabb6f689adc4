// SPDX-License-Identifier: GPL-3.0-or-later
// Sites of every weld, each as one linear row over the section forces of all elements: stress(t) = row .
// forces(t), MPa.
#pragma once

#include "engine/rules/rule_tables.h"
#include "engine/rules/rules.h"
#include "engine/sites/force_balance.h"
#include "engine/sites/place_kinds.h"
#include "engine/solid/joint_models.h"

namespace seamwright::sites {

struct Site {
  std::size_t weld = 0;  ///< number of its subject: welds, notches, bolts
  PlaceKind kind;
  double angle_deg = 0;
  const fatigue::Curve* curve = nullptr;  ///< null: not covered
  /// The rule leaves out something that makes it worse: the damage is at least as rated. It may fall short,
  /// but never meets.
  bool at_least = false;
  bool aside = false;  ///< a check: rated and printed beside the others, decides nothing
  double mesh_error = 0;  ///< of a stress from a model, relative; 0: from no mesh
  double thickness_mm = 0;
  Row row;    ///< stress per section force
  Row shear;  ///< another part of the stress, such as sqrt(0.2) tau_par of a root:
              ///< added with the sign that gives the larger spread
  /// The balance of the brace's axial force, where that decides the row, else null; and what the row gains
  /// when a brace opposite, or the partner, balances all of it.
  std::shared_ptr<const Balance> balance{};
  Row x_more{}, k_more{};
  double size_factor = 1;                ///< on stress: the set's own rule for thickness or diameter
  rules::EffectiveRange mean = nullptr;  ///< credit for compression, or null
  Evidence evidence;                     ///< what the row rests on
  /// Place of the site whose damage acts at the same point (stress along a throat beside that across it), or
  /// npos.
  std::size_t beside = std::string::npos;
};

/// "chord-toe@90"; "weld" for a weld that is not covered as a whole.
std::string name_of(const Site& site);

/// Checks beside a rating, which decide nothing (Site::aside).
enum class Checks { left_out, asked_for };

/// All sites of all welds. The assembly gives the elements' numbering. joints: those whose bodies the frame has, in their order.
std::vector<Site> make_sites(const design::Design& design, const frame::Frame& cut_frame,
                             const frame::Assembly& assembly, const rules::Rules& rules,
                             const rules::Published& published, const std::vector<solid::ModelledJoint>& joints = {},
                             Checks checks = Checks::left_out);

}  // namespace seamwright::sites
