// SPDX-License-Identifier: GPL-3.0-or-later
// Weld bodies from the plan.
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepLib.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRep_Builder.hxx>
#include <GeomAPI_Interpolate.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TColStd_HArray1OfReal.hxx>
#include <TColgp_HArray1OfPnt.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Shell.hxx>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "engine/shape/fibre.h"
#include "engine/shape/fillet.h"
#include "engine/shape/kernel/building.h"
#include "engine/shape/kernel/kernel.h"
#include "engine/shape/kernel/shapes.h"
#include "engine/shape/kernel/weld_bodies.h"
#include "engine/shape/pieces.h"

namespace seamwright::shape::kernel {

namespace {

// A closed curve through the points.
Handle(Geom_BSplineCurve) closed_curve(const std::vector<Vec3>& points) {
  const Handle(TColgp_HArray1OfPnt) array = new TColgp_HArray1OfPnt(1, static_cast<int>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) array->SetValue(static_cast<int>(i) + 1, point(points[i]));
  // The same parameters on each curve: rulings join points of one section.
  const Handle(TColStd_HArray1OfReal) places = new TColStd_HArray1OfReal(1, static_cast<int>(points.size()) + 1);
  for (int i = places->Lower(); i <= places->Upper(); ++i) places->SetValue(i, i - 1.0);
  GeomAPI_Interpolate through(array, places, true, 1e-6);
  through.Perform();
  if (!through.IsDone()) throw std::runtime_error("no curve");
  return through.Curve();
}

// Straight lines between two curves of the same knots.
Handle(Geom_BSplineSurface) ruled(const Handle(Geom_BSplineCurve)& a, const Handle(Geom_BSplineCurve)& b) {
  TColgp_Array2OfPnt poles(1, a->NbPoles(), 1, 2);
  for (int i = 1; i <= a->NbPoles(); ++i) {
    poles.SetValue(i, 1, a->Pole(i));
    poles.SetValue(i, 2, b->Pole(i));
  }
  TColStd_Array1OfReal ends(1, 2);
  ends.SetValue(1, 0);
  ends.SetValue(2, 1);
  TColStd_Array1OfInteger twice(1, 2);
  twice.Init(2);
  return new Geom_BSplineSurface(poles, a->Knots(), ends, a->Multiplicities(), twice, a->Degree(), 1, true, false);
}

TopoDS_Shape closed_solid(const std::vector<Handle(Geom_BSplineCurve)>& curves) {
  BRepBuilderAPI_Sewing sewing(1e-3);
  for (std::size_t i = 0; i < curves.size(); ++i)
    sewing.Add(BRepBuilderAPI_MakeFace(ruled(curves[i], curves[(i + 1) % curves.size()]), 1e-4).Face());
  sewing.Perform();
  if (sewing.SewedShape().ShapeType() != TopAbs_SHELL) throw std::runtime_error("not closed");
  TopoDS_Solid solid = BRepBuilderAPI_MakeSolid(TopoDS::Shell(sewing.SewedShape())).Solid();
  BRepLib::OrientClosedSolid(solid);
  return solid;
}

TopoDS_Shape swept(const FilletAround& fillet) {
  std::vector<Vec3> root, brace, chord;
  for (const FilletSection& s : fillet_sections(fillet, 72)) {
    root.push_back(s.root);
    brace.push_back(s.brace_toe);
    chord.push_back(s.chord_toe);
  }
  if (root.empty()) throw std::runtime_error("the brace misses the chord");
  return closed_solid({closed_curve(root), closed_curve(brace), closed_curve(chord)});
}

// The fillet with the corners of its triangle drawn on into both tubes: what lies in them is taken away afterwards, so that it ends
// on the tubes' own faces. A third of the usual sections will do: nothing but the free face depends on them.
TopoDS_Shape drawn_on(const FilletAround& fillet) {
  constexpr int sections = 24;
  constexpr double depth_mm = 0.2;
  std::vector<Vec3> root, brace, chord;
  for (const FilletSection& s : fillet_sections(fillet, sections)) {
    const Vec3 middle = (s.brace_toe + s.chord_toe) / 2, face = (s.brace_toe - s.chord_toe).normalized();
    root.push_back(s.root + depth_mm * (s.root - middle).normalized());
    brace.push_back(s.brace_toe + depth_mm * face);
    chord.push_back(s.chord_toe - depth_mm * face);
  }
  if (root.empty()) throw std::runtime_error("the brace misses the chord");
  return closed_solid({closed_curve(root), closed_curve(brace), closed_curve(chord)});
}

Stretch grown(const Stretch& s, double by_mm) {
  return {frame::SolidBar{2 * (outer_radius_mm(s.section) + by_mm)}, s.from, s.to, s.up};
}

// What both tubes, grown by the throat at the crown, share outside either, on the brace's side of the chord: a
// square in place of the triangle, of the same area where the walls stand at a right angle.
TopoDS_Shape ring(const FilletAround& f) {
  const TubePair pair = pair_of(f);
  const Vec3 away = f.brace.to - f.brace.from;
  const double throat = f.leg_crown_mm / std::sqrt(2.0);
  TopoDS_Shape body =
      intersect(filled(grown(f.brace, throat), 0, f.crown), filled(grown(f.chord, throat), 0, -away));
  body = cut(body, filled(f.brace, 0, f.crown));
  body = cut(body, filled(f.chord, 0, -away));
  const Vec3 out = (pair.brace - pair.brace.dot(pair.chord) * pair.chord).normalized();
  return cut(body, box({pair.foot, -out}, 1000));
}

TopoDS_Shape prism(const FilletAlong& line) {
  BRepBuilderAPI_MakePolygon triangle(point(line.from), point(line.from + line.leg_mm * line.one),
                                      point(line.from + line.leg_mm * line.other), true);
  return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(triangle.Wire(), true).Face(), vector(line.to - line.from))
      .Shape();
}

double prism_mm3(const FilletAlong& line) {
  return line.leg_mm * line.leg_mm / 2 * line.one.cross(line.other).norm() * (line.to - line.from).norm();
}

TopoDS_Shape trimmed(TopoDS_Shape body, const WeldBody& weld, const Vec3& middle) {
  for (const Cut& c : weld.cuts) body = cut(body, tool_of(c, middle, 1000, 0));
  if (!(volume_mm3(body) > 0)) throw std::runtime_error("nothing is left");
  return body;
}

Built build_around(const WeldBody& weld, const FilletAround& fillet) {
  const double planned = fillet_volume_mm3(fillet_sections(fillet, 720));
  const bool whole = weld.cuts.empty();
  Built out;
  std::string why = failure_of([&] {
    TopoDS_Shape body = swept(fillet);
    if (!is_sound(body, std::nan("")) || std::abs(volume_mm3(body) - planned) > 0.01 * planned)
      throw std::runtime_error("the swept fillet is not sound");
    body = trimmed(body, weld, fillet.brace.from);
    out = built(weld.id, body, Rung::exact, whole ? planned : std::nan(""));
  });
  if (why.empty()) return out;
  why = failure_of([&] {
    out = built(weld.id, trimmed(ring(fillet), weld, fillet.brace.from), Rung::ring, std::nan(""));
  });
  return why.empty() ? out : none(weld.id, planned, why);
}

// The triangle turned about the tube's axis.
Built build_ring(const std::string& id, const FilletRing& ring) {
  const double planned = ring_volume_mm3(ring);
  Built out;
  const std::string why = failure_of([&] {
    const Vec3 axis = along(ring.tube), corner = ring.tube.from + outer_radius_mm(ring.tube.section) * ring.tube.up;
    BRepBuilderAPI_MakePolygon triangle(point(corner), point(corner + ring.leg_mm * ring.tube.up),
                                        point(corner + ring.leg_mm * axis), true);
    const TopoDS_Shape body =
        BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(triangle.Wire(), true).Face(),
                              gp_Ax1(point(ring.tube.from), gp_Dir(vector(axis))))
            .Shape();
    if (!is_sound(body, planned)) throw std::runtime_error("volume " + std::to_string(volume_mm3(body)) + " mm3");
    out = built(id, body, Rung::exact, planned);
  });
  return why.empty() ? out : none(id, planned, why);
}

}  // namespace

Built build(const WeldBody& weld) {
  if (const auto* around = std::get_if<FilletAround>(&weld.body)) return build_around(weld, *around);
  if (const auto* ring = std::get_if<FilletRing>(&weld.body)) return build_ring(weld.id, *ring);
  Built out;
  double planned = 0;
  const std::string why = failure_of([&] {
    TopoDS_Compound all;
    BRep_Builder builder;
    builder.MakeCompound(all);
    for (const FilletAlong& line : std::get<std::vector<FilletAlong>>(weld.body)) {
      builder.Add(all, prism(line));
      planned += prism_mm3(line);
    }
    out = built(weld.id, all, Rung::exact, planned);
  });
  return why.empty() ? out : none(weld.id, planned, why);
}


WeldMetal weld_metal(const FilletAround& fillet, const std::vector<Cut>& cuts) {
  const auto without_tubes = [&](TopoDS_Shape body) {
    body = cut(body, filled(fillet.brace, 0, fillet.crown));
    body = cut(body, filled(fillet.chord, 0, fillet.brace.from - fillet.brace.to));
    for (const Cut& c : cuts) body = cut(body, tool_of(c, fillet.brace.from, 1000, 0));
    if (!(volume_mm3(body) > 0)) throw std::runtime_error("nothing is left");
    return body;
  };
  WeldMetal out;
  std::string why = failure_of([&] {
    out.body = without_tubes(drawn_on(fillet));
    const double planned = fillet_volume_mm3(fillet_sections(fillet, 720)), found = volume_mm3(out.body);
    // The plan's triangle has its corner under the chord's curved wall: the body is up to some hundredths smaller.
    if (cuts.empty() && !(found > 0.8 * planned && found < 1.05 * planned)) throw std::runtime_error("the fillet is not sound");
  });
  if (why.empty()) return out;
  why = failure_of([&] { out = {without_tubes(ring(fillet)), Rung::ring}; });
  if (!why.empty()) out = {{}, Rung::none};
  return out;
}

}  // namespace seamwright::shape::kernel
