// SPDX-License-Identifier: GPL-3.0-or-later
// The shape of a frame as a result: bodies with masses, and what is wrong with them.
#pragma once

#include "catalog/models/frame_solids.h"
#include "engine/design/design.h"

namespace seamwright::models {

struct ShapeReport {
  struct Piece {
    std::string id, steel;
    shape::Rung rung = shape::Rung::exact;
    double volume_mm3 = 0, surface_mm2 = 0, mass_kg = 0;
    double beam_kg = 0;  ///< of the member in the beam model; 0 for sleeves and plates
  };
  struct Seam {
    std::string id;
    shape::Rung rung = shape::Rung::exact;
    double volume_mm3 = 0;
    double root_mm = 0;  ///< length of the root curve, or of the weld lines; NaN where the brace misses its chord
    double least_deg = 0, most_deg = 0;  ///< between the walls, around a brace; 0 along plates
  };
  design::Identity design;
  std::vector<Piece> pieces;
  std::vector<Seam> seams;
  FrameMass mass;
  double beam_kg = 0;  ///< of all members, axis by axis
  std::vector<Message> findings;
  std::vector<Message> preparations;  ///< what a welder has to prepare
  std::vector<Message> open;  ///< what the drawing leaves open
};

/// Findings: of the welds by closed forms (shape::weld_findings), then of the bodies (frame_findings).
ShapeReport shape_report(Modeller& modeller, const design::Design& design, const rating::Progress& progress);

}  // namespace seamwright::models
