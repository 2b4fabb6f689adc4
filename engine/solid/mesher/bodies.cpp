// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/mesher/bodies.h"

#include <BRepAlgoAPI_BuilderAlgo.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_ListOfShape.hxx>
#include <cmath>
#include <stdexcept>

#include "engine/shape/kernel/kernel.h"
#include "engine/shape/kernel/shapes.h"
#include "engine/shape/kernel/weld_bodies.h"
#include "engine/solid/joined_legs.h"
#include "engine/solid/mesher/fused_ring.h"

namespace seamwright::solid::mesher {

namespace {

namespace kernel = shape::kernel;

struct Argument {
  TopoDS_Shape shape;
  int part = -1, seam = -1;  // both: a ring of the brace's end that is weld metal too
};

TopoDS_Shape part_body(const shape::Part& part) {
  const shape::Built built = kernel::build(part);
  if (built.body.empty()) throw std::runtime_error("part " + part.id + ": " + built.why);
  return kernel::shape_of(built.body);
}

BRepAlgoAPI_BuilderAlgo put_together(const std::vector<Argument>& arguments) {
  TopTools_ListOfShape list;
  for (const Argument& a : arguments) list.Append(a.shape);
  BRepAlgoAPI_BuilderAlgo together;
  together.SetArguments(list);
  together.SetFuzzyValue(1e-4);
  together.SetRunParallel(false);
  together.Build();
  if (together.HasErrors()) throw std::runtime_error("the bodies could not be joined");
  return together;
}

// The solids that became of one argument.
std::vector<TopoDS_Shape> images_of(BRepAlgoAPI_BuilderAlgo& together, const TopoDS_Shape& shape) {
  std::vector<TopoDS_Shape> out;
  const auto add_solids = [&](const TopoDS_Shape& s) {
    for (TopExp_Explorer e(s, TopAbs_SOLID); e.More(); e.Next()) out.push_back(e.Current());
  };
  for (TopExp_Explorer e(shape, TopAbs_SOLID); e.More(); e.Next()) {
    const TopTools_ListOfShape& images = together.Modified(e.Current());
    if (images.IsEmpty() && !together.IsDeleted(e.Current())) add_solids(e.Current());
    for (const TopoDS_Shape& image : images) add_solids(image);
  }
  return out;
}

}  // namespace

Bodies bodies_of(const JointTask& task) {
  for (const Seam& seam : task.seams) check_chord_is_straight(task, seam);
  Bodies out;
  std::vector<Argument> arguments;
  for (std::size_t i = 0; i < task.parts.size(); ++i) arguments.push_back({part_body(task.parts[i]), static_cast<int>(i), -1});
  const std::vector<Argument> parts = arguments;
  for (std::size_t i = 0; i < task.seams.size(); ++i) {
    const Seam& seam = task.seams[i];
    const kernel::WeldMetal metal = seam.bare ? kernel::WeldMetal{{}, shape::Rung::none} : kernel::weld_metal(seam.fillet, seam.cuts);
    out.welds.push_back(metal.rung);
    if (metal.body.IsNull()) continue;
    arguments.push_back({metal.body, -1, static_cast<int>(i)});
    // Rings come first: their pieces are theirs before they are the brace's.
    if (!seam.fused_in_part()) continue;
    const auto brace = static_cast<std::size_t>(seam.brace);
    const bool whole = seam.cuts.empty() && task.parts[brace].cuts.size() == 1;
    arguments.insert(arguments.begin(), {fused_ring(seam, parts[brace].shape, whole), seam.brace, static_cast<int>(i)});
  }
  BRepAlgoAPI_BuilderAlgo together = put_together(arguments);
  TopTools_IndexedMapOfShape taken, rings;
  for (const Argument& a : arguments) {
    double whole = kernel::volume_mm3(a.shape);
    for (const TopoDS_Shape& s : images_of(together, a.shape)) {
      const double volume = kernel::volume_mm3(s);
      whole -= volume;
      if (taken.Contains(s)) {  // weld metal may lie in its neighbour's, or in a tube: the first keeps it
        if (a.part >= 0 && volume > 1 && !rings.Contains(s)) throw std::runtime_error("part " + task.parts[static_cast<std::size_t>(a.part)].id + " lies in another");
        continue;
      }
      taken.Add(s);
      if (a.part >= 0 && a.seam >= 0) rings.Add(s);
      out.solids.push_back(s);
      out.part_of.push_back(a.part);
      out.seam_of.push_back(a.seam);
      out.planned_mm3 += volume;
    }
    if (std::abs(whole) > 1e-3 * kernel::volume_mm3(a.shape) + 0.1) throw std::runtime_error("a body was lost where it was joined to others");
  }
  return out;
}

}  // namespace seamwright::solid::mesher
