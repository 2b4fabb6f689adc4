// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/mesher/fused_ring.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "engine/shape/fibre.h"
#include "engine/shape/fillet.h"
#include "engine/shape/kernel/shapes.h"
#include "engine/shape/pieces.h"

namespace seamwright::solid::mesher {

namespace {

namespace kernel = shape::kernel;

// The ring ends below the brace's toes, so that a cut through the wall there goes through the brace alone.
double height_of(const Seam& seam) {
  double least = seam.fusion_mm;
  for (const shape::FilletSection& f : shape::fillet_sections(seam.fillet, 90)) {
    const Vec3 off = f.brace_toe - seam.fillet.chord.from, axis = shape::along(seam.fillet.chord);
    least = std::min(least, ((off - off.dot(axis) * axis).norm() - shape::outer_radius_mm(seam.fillet.chord.section)) / 4);
  }
  return least;
}

// The quadrature runs over angle and radius.
double ring_mm3(const Seam& seam, double height) {
  constexpr int angles = 180, radii = 8;
  const shape::TubePair low = shape::pair_of(seam.fillet);
  shape::TubePair high = low;
  high.chord_radius_mm += height;
  double sum = 0;
  for (int i = 0; i < angles; ++i)
    for (int j = 0; j < radii; ++j) {
      const double angle = 2 * std::numbers::pi * i / angles, radius = low.brace_radius_mm - seam.fusion_mm * (j + 0.5) / radii;
      const auto from = shape::reach_mm(low, angle, radius), to = shape::reach_mm(high, angle, radius);
      if (!from || !to) throw std::runtime_error("the brace misses the chord");
      sum += (*to - *from) * radius;
    }
  return sum * seam.fusion_mm / radii * 2 * std::numbers::pi / angles;
}

shape::Stretch filled_to(const shape::Stretch& tube, double radius_mm, double longer_mm) {
  const Vec3 further = longer_mm * shape::along(tube);
  return {frame::SolidBar{2 * radius_mm}, tube.from - further, tube.to + further, tube.up};
}

}  // namespace

TopoDS_Shape fused_ring(const Seam& seam, const TopoDS_Shape& brace, bool whole) {
  const shape::FilletAround& f = seam.fillet;
  const double chord_radius = shape::outer_radius_mm(f.chord.section), height = height_of(seam);
  if (!(height > 0)) throw std::runtime_error("the weld leaves no room for its depth of fusion");
  TopoDS_Shape ring = kernel::intersect(brace, kernel::filled(filled_to(f.chord, chord_radius + height, 0), 0, f.brace.from - f.brace.to));
  ring = kernel::cut(ring, kernel::filled(filled_to(f.brace, shape::outer_radius_mm(f.brace.section) - seam.fusion_mm, 2 * chord_radius), 0, f.crown));
  const double planned = ring_mm3(seam, height), found = kernel::volume_mm3(ring);
  if (!(found > 0 && found < 1.01 * planned && (!whole || found > 0.99 * planned)))
    throw std::runtime_error("the fused ring has " + std::to_string(found) + " mm3 in place of " + std::to_string(planned));
  return ring;
}

}  // namespace seamwright::solid::mesher
