// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/shape_report.h"
#include "reports/render/json.h"
#include "reports/render/json_parts.h"

namespace seamwright::reports {

namespace {

const char* name_of(shape::Rung rung) {
  switch (rung) {
    case shape::Rung::exact:
      return "exact";
    case shape::Rung::shrunk:
      return "shrunk";
    case shape::Rung::ring:
      return "ring";
    case shape::Rung::none:
      return "none";
  }
  return "none";
}

Json three(const Eigen::Vector3d& v) { return {v.x(), v.y(), v.z()}; }

}  // namespace

std::string to_json(const models::ShapeReport& r) {
  Json j = begin_json("shape");
  j["design"] = {{"name", r.design.name}, {"revision", r.design.revision}, {"sha256", r.design.sha256}};
  j["findings"] = Json::array();
  for (const Message& m : r.findings) j["findings"].push_back(json_of(m));
  j["preparations"] = Json::array();
  for (const Message& m : r.preparations) j["preparations"].push_back(json_of(m));
  j["mass_kg"] = r.mass.mass_kg;
  j["weld_metal_kg"] = r.mass.weld_metal_kg;
  j["beam_mass_kg"] = r.beam_kg;
  j["surface_m2"] = r.mass.surface_m2;
  j["centre_mm"] = three(r.mass.centre_mm);
  j["inertia_kg_m2"] = Json::array();
  for (int i = 0; i < 3; ++i) j["inertia_kg_m2"].push_back(three(r.mass.inertia_kg_m2.row(i)));
  j["parts"] = Json::array();
  for (const auto& p : r.pieces)
    j["parts"].push_back({{"id", p.id}, {"steel", p.steel}, {"built", name_of(p.rung)}, {"volume_mm3", p.volume_mm3},
                          {"surface_mm2", p.surface_mm2}, {"mass_kg", p.mass_kg}, {"beam_mass_kg", p.beam_kg}});
  j["welds"] = Json::array();
  for (const auto& s : r.seams)
    j["welds"].push_back(
        {{"id", s.id}, {"built", name_of(s.rung)}, {"volume_mm3", s.volume_mm3}, {"root_mm", s.root_mm}, {"least_deg", s.least_deg}, {"most_deg", s.most_deg}});
  j["not_drawn"] = Json::array();
  for (const Message& m : r.open) j["not_drawn"].push_back(json_of(m));
  return end_json(j);
}

}  // namespace seamwright::reports
