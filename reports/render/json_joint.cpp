// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/joint_report.h"
#include "reports/render/json.h"
#include "reports/render/json_parts.h"

namespace seamwright::reports {

std::string to_json(const models::JointReport& r) {
  Json j = begin_json("joint");
  j["joint"] = r.id;
  j["nodes"] = r.nodes;
  j["ends"] = Json::array();
  for (const solid::Sawn& s : r.ends) j["ends"].push_back({{"member", s.member}, {"at_mm", s.at_mm}});
  j["unknowns"] = r.unknowns;
  j["volume_ratio"] = r.volume_ratio;
  j["residual"] = r.residual;
  j["reaction"] = r.reaction;
  j["welds"] = Json::array();
  for (const auto& s : r.seams) {
    Json weld{{"id", s.weld}, {"brace", s.brace}, {"chord", s.chord}, {"root_fused", s.fused}, {"mesh_error", s.mesh_error}};
    weld["toes"] = Json::array();
    for (const auto& p : s.toes) {
      Json place{{"side", p.on_chord ? "chord" : "brace"}, {"angle_deg", p.angle_deg}, {"exists", p.is_there}};
      if (p.is_there) place["model"] = p.model;
      if (p.equations) place["equations"] = *p.equations;
      weld["toes"].push_back(std::move(place));
    }
    weld["sections"] = Json::array();
    for (const auto& x : s.sections)
      weld["sections"].push_back({{"section", std::string(x.name)}, {"least_mm", x.least_mm}, {"most_mm", x.most_mm}, {"worst", x.worst}, {"angle_deg", x.angle_deg}});
    if (s.loaded) weld["flexibility"] = s.flexibility;
    if (s.formula) weld["flexibility_formula"] = *s.formula;
    j["welds"].push_back(std::move(weld));
  }
  return end_json(j);
}

}  // namespace seamwright::reports
