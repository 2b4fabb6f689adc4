// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/shape_report.h"

#include <algorithm>

#include "engine/design/weld_geometry.h"
#include "engine/shape/checks.h"
#include "engine/shape/fibre.h"
#include "engine/shape/fillet.h"
#include "engine/shape/plan.h"

namespace seamwright::models {

namespace {

const frame::Material* steel_of(const design::Design& d, const std::string& id) {
  const auto it = std::find_if(d.frame.materials.begin(), d.frame.materials.end(),
                               [&](const frame::Material& m) { return m.id == id; });
  return it == d.frame.materials.end() ? nullptr : &*it;
}

double beam_mass_kg(const design::Design& d, const frame::Member& m) {
  const frame::Tube& tube = design::tube_of(d.frame, m);
  const frame::Material* steel = steel_of(d, tube.material);
  if (!steel) return 0;
  return frame::section_properties(tube.section, steel->poisson).properties.area_mm2 *
         design::member_length_mm(d.frame, m) * steel->density_kg_m3 * 1e-9;
}

}  // namespace

ShapeReport shape_report(Modeller& modeller, const design::Design& d, const rating::Progress& progress) {
  const shape::Plan plan = shape::plan_of(d);
  const BuiltFrame solids = frame_solids(modeller, plan, progress);
  ShapeReport out;
  out.design = d.identity;
  out.open = plan.notes;
  std::vector<double> density;
  for (std::size_t i = 0; i < plan.parts.size(); ++i) {
    const frame::Material* steel = steel_of(d, plan.parts[i].steel);
    density.push_back(steel ? steel->density_kg_m3 * 1e-9 : 0);
    const shape::Solid& s = solids.parts[i].solid;
    const shape::Quantities& q = s.quantities;
    const double beam = plan.parts[i].member.empty()
                            ? 0
                            : beam_mass_kg(d, design::member_of(d.frame, plan.parts[i].member));
    out.pieces.push_back(
        {s.id, plan.parts[i].steel, s.rung, q.volume_mm3, q.surface_mm2, q.volume_mm3 * density.back(), beam});
    out.beam_kg += beam;
  }
  for (std::size_t i = 0; i < plan.welds.size(); ++i) {
    const shape::Solid& s = solids.welds[i].solid;
    out.seams.push_back({s.id, s.rung, s.quantities.volume_mm3, shape::seam_length_mm(plan.welds[i]), 0, 0});
    if (const auto* around = std::get_if<shape::FilletAround>(&plan.welds[i].body)) {
      const shape::Dihedrals walls = shape::dihedrals(shape::pair_of(*around));
      out.seams.back().least_deg = walls.least_deg;
      out.seams.back().most_deg = walls.most_deg;
    } else if (std::holds_alternative<shape::FilletRing>(plan.welds[i].body)) {
      out.seams.back().least_deg = out.seams.back().most_deg = 90;
    }
  }
  if (!density.empty()) out.mass = mass_of(solids, density);
  for (shape::WeldFinding f : shape::weld_findings(d))
    (f.preparation ? out.preparations : out.findings).push_back(std::move(f.message));
  for (Message& m : frame_findings(modeller, plan, solids, progress)) out.findings.push_back(std::move(m));
  return out;
}

}  // namespace seamwright::models
