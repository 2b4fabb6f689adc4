// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/kernel/shapes.h"

#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BinTools.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <GProp_GProps.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Solid.hxx>
#include <gp_Ax2.hxx>
#include <gp_Circ.hxx>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <sstream>
#include <stdexcept>

#include "engine/shape/fibre.h"
#include "engine/shape/kernel/kernel.h"
#include "engine/shape/pieces.h"

namespace seamwright::shape::kernel {

namespace {

gp_Dir direction(const Vec3& v) { return {v.x(), v.y(), v.z()}; }

// Round sections are wires too: a circle with its start at the seam.
TopoDS_Wire circle(const Vec3& centre, const Vec3& axis, const Vec3& seam, double radius) {
  const Vec3 square = seam - seam.dot(axis) * axis;
  const Vec3 start = square.norm() > 1e-6 ? Vec3(square.normalized()) : Vec3(axis.unitOrthogonal());
  const gp_Ax2 place(point(centre), direction(axis), direction(start));
  return BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(gp_Circ(place, radius)).Edge()).Wire();
}

// A rectangle of half sizes along `up` and across, its corners round.
TopoDS_Wire rectangle(const Vec3& centre, const Vec3& up, const Vec3& side, double half_up, double half_side,
                      double corner) {
  BRepBuilderAPI_MakeWire wire;
  const auto corner_point = [&](double u, double s) { return point(centre + u * up + s * side); };
  const double c = std::min({corner, half_up, half_side}), in = c * (1 - std::sqrt(0.5));
  const auto line = [&](const gp_Pnt& a, const gp_Pnt& b) {
    if (a.Distance(b) > 1e-6) wire.Add(BRepBuilderAPI_MakeEdge(a, b).Edge());
  };
  const double u = half_up, s = half_side;
  const double corners[4][2] = {{1, 1}, {-1, 1}, {-1, -1}, {1, -1}};
  for (int i = 0; i < 4; ++i) {
    const double a = corners[i][0], b = corners[i][1], a2 = corners[(i + 1) % 4][0], b2 = corners[(i + 1) % 4][1];
    const bool up_first = i % 2 == 0;  // this side runs along `up`
    const gp_Pnt begin = up_first ? corner_point(a * (u - c), b * s) : corner_point(a * u, b * (s - c));
    const gp_Pnt end = up_first ? corner_point(a2 * (u - c), b2 * s) : corner_point(a2 * u, b2 * (s - c));
    line(begin, end);
    if (c > 0) {
      const gp_Pnt next = up_first ? corner_point(a2 * u, b2 * (s - c)) : corner_point(a2 * (u - c), b2 * s);
      wire.Add(BRepBuilderAPI_MakeEdge(
                   GC_MakeArcOfCircle(end, corner_point(a2 * (u - in), b2 * (s - in)), next).Value())
                   .Edge());
    }
  }
  return wire.Wire();
}

// The contour of a section, smaller by `inset` all round.
struct Contour {
  Vec3 centre, axis, up, side, seam;
  double inset;
  TopoDS_Wire operator()(const frame::RoundTube& t) const {
    return circle(centre, axis, seam, t.diameter_mm / 2 - inset);
  }
  TopoDS_Wire operator()(const frame::SolidBar& b) const {
    return circle(centre, axis, seam, b.diameter_mm / 2 - inset);
  }
  TopoDS_Wire operator()(const frame::RectangularTube& t) const {
    return rectangle(centre, up, side, t.height_mm / 2 - inset, t.width_mm / 2 - inset,
                     std::max(0.0, t.corner_radius_mm - inset));
  }
  TopoDS_Wire operator()(const frame::FlatOvalTube& t) const {
    return rectangle(centre, up, side, t.height_mm / 2 - inset, t.width_mm / 2 - inset,
                     std::min(t.height_mm, t.width_mm) / 2 - inset);
  }
  TopoDS_Wire operator()(const frame::PlateStrip& p) const {
    return rectangle(centre, up, side, p.height_mm / 2 - inset, p.thickness_mm / 2 - inset, 0);
  }
};

TopoDS_Shape pushed(const Stretch& s, double wall, double inset, double before, double after, const Vec3& seam) {
  const Vec3 axis = along(s), from = s.from - before * axis, side = across(s);
  const auto wire = [&](double in) { return std::visit(Contour{from, axis, s.up, side, seam, in}, s.section); };
  BRepBuilderAPI_MakeFace face(wire(inset), true);
  if (wall > 0) face.Add(TopoDS::Wire(wire(wall).Reversed()));
  return BRepPrimAPI_MakePrism(face.Face(), vector((length_mm(s) + before + after) * axis)).Shape();
}

double wall_of(const frame::Section& section) {
  if (std::holds_alternative<frame::PlateStrip>(section)) return 0;
  const double bore = bore_radius_mm(section);
  return bore > 0 ? outer_radius_mm(section) - bore : 0;
}

template <class Operation>
TopoDS_Shape result_of(Operation& operation, const char* what) {
  if (!operation.IsDone() || operation.HasErrors()) throw std::runtime_error(std::string(what) + " failed");
  return operation.Shape();
}

}  // namespace

TopoDS_Shape hollow(const Stretch& s, double before, double after, const Vec3& seam) {
  return pushed(s, wall_of(s.section), 0, before, after, seam);
}

TopoDS_Shape filled(const Stretch& s, double shrunk, const Vec3& seam) {
  return pushed(s, 0, shrunk, 0, 0, seam);
}

TopoDS_Shape box(const HalfSpace& space, double reach) {
  const Vec3 side = space.away.unitOrthogonal(), other = space.away.cross(side);
  const gp_Ax2 place(point(space.point - reach * (side + other)), direction(space.away), direction(side));
  return BRepPrimAPI_MakeBox(place, 2 * reach, 2 * reach, reach).Shape();
}

TopoDS_Shape flat(const design::Plate& p) {
  const Vec3 normal = p.x.cross(p.y), low = p.origin_mm - p.thickness_mm / 2 * normal;
  const auto plate_point = [&](double x, double y) { return point(low + x * p.x + y * p.y); };
  BRepBuilderAPI_MakeWire wire;
  for (std::size_t i = 0; i < p.outline.size(); ++i) {
    const design::Corner &a = p.outline[i], &b = p.outline[(i + 1) % p.outline.size()];
    const gp_Pnt from = plate_point(a.x_mm, a.y_mm), to = plate_point(b.x_mm, b.y_mm);
    if (a.bulge == 0) {
      wire.Add(BRepBuilderAPI_MakeEdge(from, to).Edge());
      continue;
    }
    // The arc's middle lies off the chord's by its height, bulge times half the chord, to the right of the way.
    const double dx = b.x_mm - a.x_mm, dy = b.y_mm - a.y_mm;
    const gp_Pnt middle = plate_point((a.x_mm + b.x_mm) / 2 + a.bulge * dy / 2, (a.y_mm + b.y_mm) / 2 - a.bulge * dx / 2);
    wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(from, middle, to).Value()).Edge());
  }
  TopoDS_Shape plate =
      BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire.Wire(), true).Face(), vector(p.thickness_mm * normal))
          .Shape();
  for (const design::PlateHole& h : p.holes) {
    const gp_Ax2 place(point(low - normal + h.x_mm * p.x + h.y_mm * p.y), direction(normal), direction(p.x));
    plate = cut(plate, BRepPrimAPI_MakeCylinder(place, h.diameter_mm / 2, p.thickness_mm + 2).Shape());
  }
  return plate;
}

TopoDS_Shape cut(const TopoDS_Shape& from, const TopoDS_Shape& tool) {
  BRepAlgoAPI_Cut operation(from, tool);
  return result_of(operation, "cut");
}

TopoDS_Shape fuse(const TopoDS_Shape& a, const TopoDS_Shape& b) {
  BRepAlgoAPI_Fuse operation(a, b);
  return result_of(operation, "fuse");
}

TopoDS_Shape fuse_all(const std::vector<TopoDS_Shape>& shapes) {
  if (shapes.size() == 1) return shapes[0];
  TopTools_ListOfShape first, others;
  for (const TopoDS_Shape& s : shapes) (first.IsEmpty() ? first : others).Append(s);
  BRepAlgoAPI_Fuse operation;
  operation.SetArguments(first);
  operation.SetTools(others);
  operation.SetFuzzyValue(1e-4);
  operation.Build();
  return result_of(operation, "fuse");
}

TopoDS_Shape intersect(const TopoDS_Shape& a, const TopoDS_Shape& b) {
  BRepAlgoAPI_Common operation(a, b);
  return result_of(operation, "common");
}

TopoDS_Shape largest_solid(const TopoDS_Shape& shape) {
  TopoDS_Shape best;
  double most = 0;
  for (TopExp_Explorer e(shape, TopAbs_SOLID); e.More(); e.Next())
    if (const double volume = volume_mm3(e.Current()); volume > most) {
      most = volume;
      best = e.Current();
    }
  if (best.IsNull()) throw std::runtime_error("nothing is left");
  return best;
}

// Adaptive: with its usual fixed points the kernel is some percent off on faces along a spline.
constexpr double integration_error = 1e-5;

double volume_mm3(const TopoDS_Shape& shape) {
  GProp_GProps p;
  BRepGProp::VolumeProperties(shape, p, integration_error);
  return p.Mass();
}

Quantities quantities(const TopoDS_Shape& shape) {
  GProp_GProps volume, surface;
  BRepGProp::VolumeProperties(shape, volume, integration_error);
  BRepGProp::SurfaceProperties(shape, surface, integration_error);
  Quantities q;
  q.volume_mm3 = volume.Mass();
  q.surface_mm2 = surface.Mass();
  const gp_Pnt c = volume.CentreOfMass();
  q.centre_mm = {c.X(), c.Y(), c.Z()};
  const gp_Mat m = volume.MatrixOfInertia();  // about the centre
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j) q.inertia_mm5(i, j) = m.Value(i + 1, j + 1);
  return q;
}

std::string failure_of(const std::function<void()>& step) {
  try {
    step();
    return "";
  } catch (const Standard_Failure& failure) {
    const char* words = failure.GetMessageString();
    return words && *words ? words : failure.DynamicType()->Name();
  } catch (const std::exception& failure) {
    return *failure.what() ? failure.what() : "unknown";
  }
}

std::string text_of(const TopoDS_Shape& shape) {
  std::ostringstream out;
  BinTools::Write(shape, out, false, false, BinTools_FormatVersion_CURRENT);
  return out.str();
}

TopoDS_Shape shape_of(const std::string& text) {
  std::istringstream in(text);
  TopoDS_Shape shape;
  BinTools::Read(shape, in);
  if (shape.IsNull()) throw std::runtime_error("not a body");
  return shape;
}

}  // namespace seamwright::shape::kernel
