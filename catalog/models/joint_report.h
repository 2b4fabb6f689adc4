// SPDX-License-Identifier: GPL-3.0-or-later
// A joint's model as a result: what it says of each weld beside the equations.
#pragma once

#include <array>
#include <optional>

#include "engine/design/design.h"
#include "engine/solid/joint_models.h"

namespace seamwright::models {

/// Per load that makes 1 MPa of nominal stress in the brace: along it, bending in the plane of brace and chord, bending out of it.
/// Both ends of the chord are held, other tubes are free.
using ByLoad = std::array<double, 3>;

struct JointReport {
  struct ToePlace {
    bool on_chord = true;
    double angle_deg = 0;  ///< from the crown towards the chord's start
    bool is_there = true;
    ByLoad model{};                     ///< stress square to the toe, without the chord's own nominal stress; the larger way to read it
    std::optional<ByLoad> equations{};  ///< none where they give nothing
  };
  struct Section {
    std::string_view name;
    double least_mm = 0, most_mm = 0;  ///< its length around the seam
    ByLoad worst{};                    ///< membrane plus bending, largest by size
    ByLoad angle_deg{};                ///< where
  };
  struct RootPlace {
    double angle_deg = 0;  ///< as of a toe
    ByLoad model{};        ///< membrane plus bending in the section that has most of it, of throat and both legs
  };
  struct Seam {
    std::string weld, brace, chord;
    shape::Rung rung = shape::Rung::exact;
    bool fused = false, loaded = true;  ///< loaded: the brace goes on, so that it can bring a load
    std::vector<ToePlace> toes;
    std::vector<Section> sections;
    std::vector<RootPlace> root;  ///< at all angles
    ByLoad flexibility{};            ///< beyond beams: mm/N, rad/(N mm) twice
    std::optional<ByLoad> formula{};  ///< the same by the recalled formula
    double thinnest_mm = 0;
    double mesh_error = 0;  ///< relative: solid/mesh_error.h
  };
  std::string id;
  std::vector<std::string> nodes;
  std::vector<solid::Sawn> ends;
  double unknowns = 0, volume_ratio = 0, residual = 0, reaction = 0;
  std::vector<Seam> seams;
};

/// fixity: of the chord's ends in the equations.
JointReport joint_report(const design::Design& design, const solid::ModelledJoint& joint, double fixity);

}  // namespace seamwright::models
