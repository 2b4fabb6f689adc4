// SPDX-License-Identifier: GPL-3.0-or-later
// A body's surface as triangles with normals, and its edges as lines.
#include <BRepAdaptor_Surface.hxx>
#include <BRepLProp_SLProps.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <Poly_PolygonOnTriangulation.hxx>
#include <Poly_Triangulation.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <cmath>

#include "engine/shape/kernel/shapes.h"

namespace seamwright::shape::kernel {

namespace {

void add(std::vector<float>& to, double x, double y, double z) {
  to.push_back(static_cast<float>(x));
  to.push_back(static_cast<float>(y));
  to.push_back(static_cast<float>(z));
}

void add_face(const TopoDS_Face& face, Mesh& out) {
  TopLoc_Location place;
  const Handle(Poly_Triangulation) t = BRep_Tool::Triangulation(face, place);
  if (t.IsNull()) return;
  BRepLProp_SLProps surface(BRepAdaptor_Surface(face), 1, 1e-6);
  const bool turned = face.Orientation() == TopAbs_REVERSED;
  const auto first = static_cast<std::uint32_t>(out.points.size() / 3);
  for (int i = 1; i <= t->NbNodes(); ++i) {
    const gp_Pnt p = t->Node(i).Transformed(place);
    surface.SetParameters(t->UVNode(i).X(), t->UVNode(i).Y());
    gp_Dir n = surface.IsNormalDefined() ? surface.Normal() : gp_Dir(0, 0, 1);
    if (turned) n.Reverse();
    add(out.points, p.X(), p.Y(), p.Z());
    add(out.normals, n.X(), n.Y(), n.Z());
  }
  for (int i = 1; i <= t->NbTriangles(); ++i) {
    int a, b, c;
    t->Triangle(i).Get(a, b, c);
    if (turned) std::swap(b, c);
    for (const int k : {a, b, c}) out.triangles.push_back(first + static_cast<std::uint32_t>(k - 1));
  }
}

// Edges between two faces; a seam lies within one face and is none.
void add_edge(const TopoDS_Edge& edge, const TopoDS_Face& face, Mesh& out) {
  TopLoc_Location place;
  const Handle(Poly_Triangulation) t = BRep_Tool::Triangulation(face, place);
  if (t.IsNull() || BRep_Tool::Degenerated(edge)) return;
  const Handle(Poly_PolygonOnTriangulation) line = BRep_Tool::PolygonOnTriangulation(edge, t, place);
  if (line.IsNull()) return;
  std::vector<float> points;
  for (int i = 1; i <= line->NbNodes(); ++i) {
    const gp_Pnt p = t->Node(line->Nodes().Value(i)).Transformed(place);
    add(points, p.X(), p.Y(), p.Z());
  }
  out.edges.push_back(std::move(points));
}

}  // namespace

Mesh mesh(const TopoDS_Shape& shape) {
  BRepTools::Clean(shape);
  const BRepMesh_IncrementalMesh made(shape, 0.1, false, 15 * 3.14159265358979 / 180, false);
  (void)made;
  Mesh out;
  for (TopExp_Explorer e(shape, TopAbs_FACE); e.More(); e.Next()) add_face(TopoDS::Face(e.Current()), out);
  TopTools_IndexedDataMapOfShapeListOfShape faces;
  TopExp::MapShapesAndAncestors(shape, TopAbs_EDGE, TopAbs_FACE, faces);
  for (int i = 1; i <= faces.Extent(); ++i) {
    const TopoDS_Edge edge = TopoDS::Edge(faces.FindKey(i));
    const TopoDS_Face face = TopoDS::Face(faces.FindFromIndex(i).First());
    if (!BRep_Tool::IsClosed(edge, face)) add_edge(edge, face, out);
  }
  return out;
}

}  // namespace seamwright::shape::kernel
