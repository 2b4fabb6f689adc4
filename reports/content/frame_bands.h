// SPDX-License-Identifier: GPL-3.0-or-later
// Bands around tubes at their welds, cut out of the tubes' own surfaces: wider with the life used.
#pragma once

#include "reports/content/frame_mesh.h"
#include "reports/content/frame_picture.h"

namespace seamwright::reports {

/// A band has a shape of its own for each answer, so that it is read without colour.
enum class BandShape {
  plain,   ///< meets: an even band
  teeth,   ///< falls short: its edge is a row of wedges
  hatched  ///< not covered: slanting lines
};
struct BandPoint {
  float place[3], normal[3], move[3];
  float around;  ///< 0..1 about the tube
  float across;  ///< 0 at the weld, 1 at the outer edge
  float level;   ///< of the scale of life used
  float shape;   ///< a BandShape
};
struct FrameBands {
  struct Band {
    std::size_t flag = 0, first = 0, points = 0;
    Eigen::Vector3f least{0, 0, 0}, most{0, 0, 0};
  };
  std::vector<Band> bands;
  std::vector<BandPoint> points;  ///< three for each triangle
};
/// One for each flag that a rating speaks of.
FrameBands frame_bands(const FrameDrawing& drawing, const FrameMesh& mesh, const FrameLook& look);
/// The width from the weld along the tube.
double band_width_mm(double diameter_mm, double level);

}  // namespace seamwright::reports
