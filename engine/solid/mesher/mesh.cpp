// SPDX-License-Identifier: GPL-3.0-or-later
// Tetrahedra by gmsh: fine at toes and roots, coarser with the distance from them.
#include <gmsh.h>

#include <BRepGProp.hxx>
#include <BRep_Builder.hxx>
#include <GProp_GProps.hxx>
#include <TopoDS_Compound.hxx>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>

#include "engine/shape/fillet.h"
#include "engine/shape/kernel/shapes.h"
#include "engine/shape/pieces.h"
#include "engine/solid/mesher/bodies.h"

namespace seamwright::solid::mesher {

namespace {

// gmsh keeps its state globally: one model at a time, gone with this.
struct Session {
  Session() {
    gmsh::initialize(0, nullptr, false);
    const auto set = [](const char* name, double v) { gmsh::option::setNumber(name, v); };
    set("General.Terminal", 0);
    set("General.NumThreads", 1);
    set("Mesh.MeshSizeFromPoints", 0);
    set("Mesh.MeshSizeFromCurvature", 0);
    set("Mesh.MeshSizeExtendFromBoundary", 0);
    set("Mesh.ElementOrder", 2);
    set("Mesh.Algorithm3D", 1);
    set("Mesh.Optimize", 1);
    gmsh::model::add("joint");
  }
  ~Session() { gmsh::finalize(); }
  Session(const Session&) = delete;
  Session& operator=(const Session&) = delete;
};

double thickness_mm(const shape::Part& part) {
  return shape::thickness_mm(std::get<shape::Hollow>(part.body).stretches.front().section);
}

// The places where the mesh is fine, each with the thinner wall that meets there.
struct Fine {
  Vec3 at;
  double wall_mm;
};

std::vector<Fine> fine_places(const JointTask& task) {
  std::vector<Fine> all;
  for (const Seam& s : task.seams) {
    const double wall = std::min(thickness_mm(task.parts[static_cast<std::size_t>(s.brace)]),
                                 thickness_mm(task.parts[static_cast<std::size_t>(s.chord)]));
    for (const shape::FilletSection& f : shape::fillet_sections(s.fillet, 90))
      for (const Vec3& at : {f.root, f.brace_toe, f.chord_toe}) all.push_back({at, wall});
  }
  return all;
}

// Engineering choice of ours, by the measurements in docs/methods: fine within a wall of toes and roots, then growing by a
// share of the distance up to three walls.
double size_at(const std::vector<Fine>& fine, double size, const Vec3& at) {
  constexpr double growth = 0.3, coarsest = 3;
  double least = std::numeric_limits<double>::infinity();
  for (const Fine& f : fine) {
    const double beyond = std::max(0.0, (at - f.at).norm() - f.wall_mm);
    least = std::min(least, std::min(size * f.wall_mm + growth * beyond, coarsest * f.wall_mm));
  }
  return least;
}

// Finds the mesher's number of each solid.
std::vector<int> tags_of(const Bodies& bodies) {
  gmsh::vectorpair entities;
  gmsh::model::getEntities(entities, 3);
  if (entities.size() != bodies.solids.size()) throw std::runtime_error("bodies were lost on the way to the mesher");
  std::vector<int> tags;
  for (const TopoDS_Shape& s : bodies.solids) {
    // Volume and centre as the mesher integrates them are some hundredths off on faces along a spline, but the same on both sides.
    GProp_GProps own;
    BRepGProp::VolumeProperties(s, own);
    const gp_Pnt centre = own.CentreOfMass();
    const auto found = std::find_if(entities.begin(), entities.end(), [&](const std::pair<int, int>& e) {
      double volume = 0, x = 0, y = 0, z = 0;
      gmsh::model::occ::getMass(3, e.second, volume);
      gmsh::model::occ::getCenterOfMass(3, e.second, x, y, z);
      return std::abs(volume / own.Mass() - 1) < 1e-6 && gp_Pnt(x, y, z).Distance(centre) < 1e-3;
    });
    if (found == entities.end()) throw std::runtime_error("a body was changed on the way to the mesher");
    tags.push_back(found->second);
    entities.erase(found);
  }
  return tags;
}

constexpr int tet10_type = 11;
constexpr std::array<std::size_t, 10> from_gmsh{0, 1, 2, 3, 4, 5, 6, 7, 9, 8};

TetMesh mesh_read(const std::vector<int>& tags) {
  TetMesh mesh;
  std::vector<std::size_t> node_tags;
  std::vector<double> places, ignored;
  gmsh::model::mesh::getNodes(node_tags, places, ignored);
  std::map<std::size_t, int> number_of;
  std::vector<Eigen::Vector3d> nodes;
  std::map<std::size_t, std::size_t> at;
  for (std::size_t i = 0; i < node_tags.size(); ++i) at[node_tags[i]] = i;
  for (std::size_t piece = 0; piece < tags.size(); ++piece) {
    std::vector<std::size_t> elements, corners;
    gmsh::model::mesh::getElementsByType(tet10_type, elements, corners, tags[piece]);
    if (elements.empty()) throw std::runtime_error("a body was not meshed");
    for (std::size_t e = 0; e < elements.size(); ++e) {
      Tet tet{};
      for (std::size_t i = 0; i < 10; ++i) {
        const std::size_t tag = corners[10 * e + from_gmsh[i]];
        const auto [place, fresh] = number_of.try_emplace(tag, static_cast<int>(nodes.size()));
        if (fresh) nodes.emplace_back(Eigen::Map<const Eigen::Vector3d>(&places[3 * at.at(tag)]));
        tet[i] = place->second;
      }
      mesh.tets.push_back(tet);
      mesh.piece.push_back(static_cast<int>(piece));
    }
  }
  mesh.nodes.resize(3, static_cast<Eigen::Index>(nodes.size()));
  for (std::size_t i = 0; i < nodes.size(); ++i) mesh.nodes.col(static_cast<Eigen::Index>(i)) = nodes[i];
  return mesh;
}

// An element bent inside out by a curved face gets straight edges; all that share them agree, since the middles are theirs too.
void straighten(TetMesh& mesh) {
  for (int round = 0; round < 10; ++round) {
    bool changed = false;
    for (const Tet& t : mesh.tets) {
      const Corners places = corners_of(mesh, t);
      const double straight = (places.col(1) - places.col(0)).cross(places.col(2) - places.col(0)).dot(places.col(3) - places.col(0));
      if (least_jacobian(places) > 0.05 * straight) continue;
      for (std::size_t e = 0; e < tet_edges.size(); ++e)
        mesh.nodes.col(t[e + 4]) = (mesh.nodes.col(t[static_cast<std::size_t>(tet_edges[e].first)]) +
                                    mesh.nodes.col(t[static_cast<std::size_t>(tet_edges[e].second)])) / 2;
      changed = true;
    }
    if (!changed) return;
  }
}

MeshedJoint meshed(const JointTask& task, const Bodies& bodies, double size) {
  TopoDS_Compound all;
  BRep_Builder builder;
  builder.MakeCompound(all);
  for (const TopoDS_Shape& s : bodies.solids) builder.Add(all, s);
  gmsh::vectorpair ignored;
  const TopoDS_Shape& shape = all;
  gmsh::model::occ::importShapesNativePointer(&shape, ignored);
  gmsh::model::occ::synchronize();
  const std::vector<int> tags = tags_of(bodies);
  const std::vector<Fine> fine = fine_places(task);
  gmsh::model::mesh::setSizeCallback([&](int, int, double x, double y, double z) { return size_at(fine, size, {x, y, z}); });
  gmsh::model::mesh::generate(3);
  MeshedJoint out{mesh_read(tags), bodies.part_of, bodies.seam_of, bodies.welds, bodies.planned_mm3};
  straighten(out.mesh);
  return out;
}

}  // namespace

MeshedJoint mesh_of(const JointTask& task) {
  const Bodies bodies = bodies_of(task);
  // The mesher fails now and then on a face that it meshed a little askew; with elements of another size, or another way over the
  // faces (frontal, Delaunay, adapted: 6, 5, 1), it does not.
  std::string words;
  for (const auto& [times, way] : {std::pair(1.0, 6), {0.93, 5}, {1.08, 1}, {0.8, 6}, {0.7, 5}, {0.6, 6}}) {
    const Session session;
    gmsh::option::setNumber("Mesh.Algorithm", way);
    try {
      return meshed(task, bodies, times * task.size);
    } catch (const std::string& thrown) {  // gmsh throws these
      words = thrown;
    }
  }
  throw std::runtime_error("the mesher: " + words);
}

}  // namespace seamwright::solid::mesher
