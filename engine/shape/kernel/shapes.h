// SPDX-License-Identifier: GPL-3.0-or-later
// Steps that the kernel's sources share.
#pragma once

#include <TopoDS_Shape.hxx>
#include <gp_Pnt.hxx>
#include <gp_Vec.hxx>
#include <string>
#include <vector>

#include "engine/shape/part.h"
#include "engine/shape/solid.h"

namespace seamwright::shape::kernel {

inline gp_Pnt point(const Vec3& v) { return {v.x(), v.y(), v.z()}; }
inline gp_Vec vector(const Vec3& v) { return {v.x(), v.y(), v.z()}; }

/// A stretch as a solid, hollow or filled, longer by so much at each end; the seam of a round one towards
/// `seam`. A filled one is smaller by `shrunk_mm` all round.
TopoDS_Shape hollow(const Stretch& stretch, double before_mm, double after_mm, const Vec3& seam);
TopoDS_Shape filled(const Stretch& stretch, double shrunk_mm, const Vec3& seam);
/// The half space as a box that reaches this far from its point.
TopoDS_Shape box(const HalfSpace& space, double reach_mm);
TopoDS_Shape flat(const design::Plate& plate);

/// Throw std::runtime_error where the kernel finds no valid result.
TopoDS_Shape cut(const TopoDS_Shape& from, const TopoDS_Shape& tool);
TopoDS_Shape fuse(const TopoDS_Shape& a, const TopoDS_Shape& b);
/// All at once, faces within a ten-thousandth of a millimetre as one: one by one the time grows with the square of their number.
TopoDS_Shape fuse_all(const std::vector<TopoDS_Shape>& shapes);
TopoDS_Shape intersect(const TopoDS_Shape& a, const TopoDS_Shape& b);
/// The largest solid; what is cut off beside it falls to the floor.
TopoDS_Shape largest_solid(const TopoDS_Shape& shape);

double volume_mm3(const TopoDS_Shape& shape);
Quantities quantities(const TopoDS_Shape& shape);
/// Chords stay within 0.1 mm and 15 degrees of the surface.
Mesh mesh(const TopoDS_Shape& shape);

std::string text_of(const TopoDS_Shape& shape);
TopoDS_Shape shape_of(const std::string& text);

}  // namespace seamwright::shape::kernel
