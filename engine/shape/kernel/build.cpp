// SPDX-License-Identifier: GPL-3.0-or-later
// Parts and weld bodies from the plan.
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepCheck_Analyzer.hxx>
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
#include "engine/shape/kernel/kernel.h"
#include "engine/shape/kernel/shapes.h"
#include "engine/shape/pieces.h"
#include "engine/shape/quadrature.h"

namespace seamwright::shape::kernel {

namespace {

constexpr double shrink_mm = 0.05;

// A tube's own seam: away from its `up`, where feet and copes like to stand.
Vec3 seam_of(const Stretch& s) { return std::cos(0.7) * s.up + std::sin(0.7) * across(s); }

TopoDS_Shape tube(const Hollow& hollow_part) {
  const std::vector<Stretch>& all = hollow_part.stretches;
  TopoDS_Shape whole;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const double beyond = 2 * outer_radius_mm(all[i].section);
    TopoDS_Shape piece = hollow(all[i], i > 0 ? beyond : 0, i + 1 < all.size() ? beyond : 0, seam_of(all[i]));
    if (i > 0) {
      HalfSpace before = mitre_of(all[i - 1], all[i]);
      before.away = -before.away;
      piece = cut(piece, box(before, 4 * beyond));
    }
    if (i + 1 < all.size()) piece = cut(piece, box(mitre_of(all[i], all[i + 1]), 4 * beyond));
    whole = whole.IsNull() ? piece : fuse(whole, piece);
  }
  return whole;
}

// Where the part that is cut lies, as seen from a tool: the tool's seam is put on the other side.
Vec3 middle_of(const Part& part) {
  if (const auto* h = std::get_if<Hollow>(&part.body))
    return (h->stretches.front().from + h->stretches.back().to) / 2;
  return std::get<Flat>(part.body).plate.origin_mm;
}

TopoDS_Shape tool_of(const Cut& c, const Vec3& middle, double reach, double shrunk) {
  if (const auto* space = std::get_if<HalfSpace>(&c.tool)) return box(*space, reach);
  const Stretch& s = std::get<Stretch>(c.tool);
  return filled(s, shrunk, s.from - middle);
}

double reach_of(const Part& part) {
  double reach = 100;
  if (const auto* h = std::get_if<Hollow>(&part.body))
    for (const Stretch& s : h->stretches) reach += length_mm(s) + outer_radius_mm(s.section);
  return reach;
}

double planned_volume(const Part& part) {
  if (const std::optional<Quantities> q = quadrature(part)) return q->volume_mm3;
  return std::nan("");
}

TopoDS_Shape cut_part(const Part& part, double shrunk) {
  TopoDS_Shape body = std::holds_alternative<Hollow>(part.body) ? tube(std::get<Hollow>(part.body))
                                                                : flat(std::get<Flat>(part.body).plate);
  const Vec3 middle = middle_of(part);
  const double reach = reach_of(part);
  for (const Cut& c : part.cuts) body = cut(body, tool_of(c, middle, reach, shrunk));
  return largest_solid(body);
}

bool is_sound(const TopoDS_Shape& body, double planned) {
  if (!BRepCheck_Analyzer(body).IsValid()) return false;
  return std::isnan(planned) || std::abs(volume_mm3(body) - planned) < std::max(1.0, planned / 1000);
}

Built built(const std::string& id, const TopoDS_Shape& body, Rung rung, double planned) {
  Built b;
  b.solid = {id, rung, quantities(body), planned, mesh(body)};
  b.body = text_of(body);
  return b;
}

Built none(const std::string& id, double planned, const std::string& why) {
  Built b;
  b.solid.id = id;
  b.solid.rung = Rung::none;
  b.solid.planned_mm3 = planned;
  b.why = why;
  return b;
}

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

TopoDS_Shape swept(const FilletAround& fillet) {
  std::vector<Vec3> root, brace, chord;
  for (const FilletSection& s : fillet_sections(fillet, 72)) {
    root.push_back(s.root);
    brace.push_back(s.brace_toe);
    chord.push_back(s.chord_toe);
  }
  if (root.empty()) throw std::runtime_error("the brace misses the chord");
  const Handle(Geom_BSplineCurve) curves[3] = {closed_curve(root), closed_curve(brace), closed_curve(chord)};
  BRepBuilderAPI_Sewing sewing(1e-3);
  for (int i = 0; i < 3; ++i)
    sewing.Add(BRepBuilderAPI_MakeFace(ruled(curves[i], curves[(i + 1) % 3]), 1e-4).Face());
  sewing.Perform();
  if (sewing.SewedShape().ShapeType() != TopAbs_SHELL) throw std::runtime_error("not closed");
  TopoDS_Solid solid = BRepBuilderAPI_MakeSolid(TopoDS::Shell(sewing.SewedShape())).Solid();
  BRepLib::OrientClosedSolid(solid);
  return solid;
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

Built build(const Part& part) {
  double planned = std::nan("");
  std::string why;
  for (const double shrunk : {0.0, shrink_mm}) {
    Built out;
    why = failure_of([&] {
      planned = planned_volume(part);
      const TopoDS_Shape body = cut_part(part, shrunk);
      if (!is_sound(body, planned)) throw std::runtime_error("volume " + std::to_string(volume_mm3(body)) + " mm3");
      out = built(part.id, body, shrunk > 0 ? Rung::shrunk : Rung::exact, planned);
    });
    if (why.empty()) return out;
  }
  return none(part.id, planned, why);
}

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

}  // namespace seamwright::shape::kernel
