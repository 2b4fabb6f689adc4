// SPDX-License-Identifier: GPL-3.0-or-later
// The common part of two bodies.
#include <BRepBndLib.hxx>
#include <Bnd_Box.hxx>
#include <Bnd_OBB.hxx>
#include <GProp_GProps.hxx>
#include <Eigen/Geometry>
#include <algorithm>

#include "engine/shape/kernel/kernel.h"
#include "engine/shape/kernel/shapes.h"

namespace seamwright::shape::kernel {

Common common(const Body& a, const Body& b) {
  const TopoDS_Shape one = shape_of(a), other = shape_of(b);
  Bnd_Box around_one, around_other;
  BRepBndLib::Add(one, around_one);
  BRepBndLib::Add(other, around_other);
  if (around_one.IsOut(around_other)) return {};
  const TopoDS_Shape shared = intersect(one, other);
  const Quantities q = quantities(shared);
  if (!(q.volume_mm3 > 0)) return {};
  Bnd_OBB box;
  BRepBndLib::AddOBB(shared, box, false, true, false);
  return {q.volume_mm3, 2 * std::min({box.XHSize(), box.YHSize(), box.ZHSize()}), q.centre_mm};
}

}  // namespace seamwright::shape::kernel
