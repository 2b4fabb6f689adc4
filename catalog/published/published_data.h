// SPDX-License-Identifier: GPL-3.0-or-later
// Published data that ships with the program: each row with its source and how sure it is.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "catalog/published/built_in.h"
#include "engine/frame/material.h"
#include "engine/inspection/limits.h"
#include "engine/joints/weld.h"
#include "engine/rules/rule_tables.h"

namespace seamwright::published {

/// Every row carries these.
struct Provenance {
  Source source;
  bool from_memory = false;
  std::string note;
};

struct Steel {
  frame::Material material;  ///< id, E, nu, density, yield, ultimate
  std::string name, condition;
  Provenance provenance;
};

struct TubeSize {
  std::string id;  ///< "38.1x1.5"
  double diameter_mm = 0, wall_mm = 0;
  std::string series;
  Provenance provenance;
};

struct JointKind {
  std::string id;
  joints::Layout layout = joints::Layout::tube_on_tube;
  std::vector<std::string> places;  ///< site kinds
  bool needs_chord = false;
  Provenance provenance;
};

/// Imperfections of ISO 6520-1 that are planar or go through the wall, by how their numbers begin.
struct PlanarGroup {
  std::string id, begins, name;
  Provenance provenance;
};

struct RoadClass {
  std::string id;                                  ///< "A".."H"
  double lower_m3 = 0, mean_m3 = 0, upper_m3 = 0;  ///< G_d(n0), 0 = open
  double knee_rad_m = 0, power = 0;                ///< of the fit to the coherence of its tracks; 0 = none known
  Provenance provenance;
};

/// A measured surface: G_d(W) = gd_m3 (W / 1 rad/m)^-waviness, and the fit to the coherence of its tracks.
struct RoadSurface {
  std::string id;
  double gd_m3 = 0, waviness = 2;
  double knee_rad_m = 0, power = 0, reach = 1;
  Provenance provenance;
  /// The same spectrum by cycles, at 0.1 cycles/m, m3.
  double gd_n0_m3() const;
};

/// A fatigue case of a cycle standard, as a preset.
struct RigPreset {
  std::string id;
  std::string kind;  ///< "pedalling", "vertical-at-seat"; others do not fit a steered box axle
  double force_n = 0, back_n = 0, cycles = 0;
  Provenance provenance;
};

struct Reference {
  std::string key, title, edition, publisher;
};

struct Catalog {
  std::string sha256;
  std::vector<Steel> steels;
  std::vector<TubeSize> tubes;
  std::vector<JointKind> joint_kinds;
  std::vector<inspection::Imperfection> imperfections;
  std::vector<PlanarGroup> planar;
  std::vector<RoadClass> road_classes;
  std::vector<RoadSurface> road_surfaces;
  std::vector<RigPreset> rigs;
  std::vector<Reference> bibliography;
  std::vector<Provenance> curve_provenance, detail_provenance,
      pair_provenance;  ///< same order as data.curves, data.details, data.pairs
  rules::Published data;
};

/// The catalog built into the program, read once. Throws Fault "catalog.bad-row" if a row lacks source or
/// confidence, names an unknown key of the bibliography, or does not parse: a test walks all rows.
const Catalog& catalog();

/// The same reading from given files, for the tests of refusals.
Catalog read_catalog(const std::vector<DataFile>& files);

/// True when a flaw of this number of ISO 6520-1 rejects its weld whatever its size.
bool is_planar(const Catalog& catalog, std::string_view number);
const Steel* find_steel(const Catalog& catalog, std::string_view id);
const JointKind* find_joint_kind(const Catalog& catalog, std::string_view id);
const RigPreset* find_rig(const Catalog& catalog, std::string_view id);
const RoadClass* find_road_class(const Catalog& catalog, std::string_view id);
const RoadSurface* find_road_surface(const Catalog& catalog, std::string_view id);

}  // namespace seamwright::published
