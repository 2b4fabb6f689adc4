// SPDX-License-Identifier: GPL-3.0-or-later
// Hidden-line views.
#include <BRepAdaptor_Curve.hxx>
#include <BRepLib.hxx>
#include <GCPnts_QuasiUniformDeflection.hxx>
#include <HLRAlgo_Projector.hxx>
#include <HLRBRep_Algo.hxx>
#include <HLRBRep_HLRToShape.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <gp_Ax2.hxx>
#include <Eigen/Geometry>
#include <cmath>

#include "engine/evidence/constants.h"
#include "engine/shape/kernel/kernel.h"
#include "engine/shape/kernel/shapes.h"

namespace seamwright::shape::kernel {

namespace {

void add_lines(const TopoDS_Shape& edges, const ViewLine& like, std::vector<ViewLine>& out) {
  if (edges.IsNull()) return;
  BRepLib::BuildCurves3d(edges);
  for (TopExp_Explorer e(edges, TopAbs_EDGE); e.More(); e.Next()) {
    const BRepAdaptor_Curve curve(TopoDS::Edge(e.Current()));
    const GCPnts_QuasiUniformDeflection points(curve, 0.05);
    if (!points.IsDone()) continue;
    ViewLine line = like;
    for (int i = 1; i <= points.NbPoints(); ++i) line.points.emplace_back(points.Value(i).X(), points.Value(i).Y());
    out.push_back(std::move(line));
  }
}

}  // namespace

std::vector<ViewLine> view(const std::vector<NamedBody>& bodies, const Vec3& towards, const Vec3& up) {
  const Vec3 side = towards.cross(up).normalized();
  // A little off the axes of the frame: about the side, then about what is up.
  const double tilt = std::tan(0.1 * degree);
  const Vec3 eye = -(towards.normalized() + tilt * side + 0.7 * tilt * side.cross(towards).normalized());
  const Vec3 right = (side - side.dot(eye) * eye / eye.squaredNorm()).normalized();
  const gp_Ax2 plane(gp_Pnt(0, 0, 0), gp_Dir(eye.x(), eye.y(), eye.z()), gp_Dir(right.x(), right.y(), right.z()));
  const Handle(HLRBRep_Algo) lines = new HLRBRep_Algo();
  std::vector<TopoDS_Shape> shapes;
  for (const NamedBody& b : bodies) {
    shapes.push_back(shape_of(b.body));
    lines->Add(shapes.back());
  }
  lines->Projector(HLRAlgo_Projector(plane));
  lines->Update();
  lines->Hide();
  HLRBRep_HLRToShape found(lines);
  std::vector<ViewLine> out;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    const std::string& id = bodies[i].id;
    add_lines(found.VCompound(shapes[i]), {id, true, false, {}}, out);
    add_lines(found.OutLineVCompound(shapes[i]), {id, true, true, {}}, out);
    add_lines(found.HCompound(shapes[i]), {id, false, false, {}}, out);
    add_lines(found.OutLineHCompound(shapes[i]), {id, false, true, {}}, out);
  }
  return out;
}

}  // namespace seamwright::shape::kernel
