// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/render/json.h"

#include <nlohmann/json.hpp>

namespace seamwright::reports {

namespace {

using Json = nlohmann::ordered_json;

Json arguments(const Message& m) {
  Json j{{"id", m.id}};
  for (const Argument& a : m.arguments) std::visit([&](const auto& v) { j[a.name] = v; }, a.value);
  return j;
}

Json evidence(const Evidence& e) {
  Json j{{"figure", e.figure}, {"value", e.value}, {"unit", e.unit}, {"source", {{"key", e.source.key}, {"clause", e.source.clause}}},
         {"from_memory", e.from_memory}, {"inputs", Json::array()}, {"limits", Json::array()}, {"coverage", name_of(e.coverage)},
         {"notes", Json::array()}, {"because", Json::array()}};
  for (const Input& i : e.inputs) j["inputs"].push_back({{"name", i.name}, {"value", i.value}, {"unit", i.unit}});
  for (const Limit& l : e.limits)
    j["limits"].push_back({{"name", l.name}, {"value", l.value}, {"unit", l.unit}, {"min", l.min}, {"max", l.max}, {"inside", l.inside}});
  for (const Message& m : e.notes) j["notes"].push_back(arguments(m));
  for (const Evidence& b : e.because) j["because"].push_back(evidence(b));
  return j;
}

Json identity(const rating::Identity& i) { return {{"name", i.name}, {"revision", i.revision}, {"sha256", i.sha256}}; }

}  // namespace

std::string to_json(const rating::Rating& r) {
  Json j{{"format", "seamwright.rating/1"}, {"program", "seamwright"}, {"catalog_sha256", r.catalog_sha256},
         {"design", identity(r.design)}, {"duty", identity(r.duty)}, {"rules", r.rules.set}, {"method", r.method},
         {"verdict", name_of(r.verdict)}, {"failure_probability", nullptr}, {"welds", Json::array()}};
  for (const rating::WeldRating& w : r.welds) {
    Json weld{{"id", w.id}, {"joint", w.joint}, {"verdict", name_of(w.verdict)}, {"governing_site", w.governing_site}, {"sites", Json::array()}};
    for (const rating::SiteRating& s : w.sites)
      weld["sites"].push_back({{"site", s.site}, {"kind", s.kind}, {"angle_deg", s.angle_deg}, {"curve", s.curve}, {"damage", s.damage},
                               {"life_years", s.life_years}, {"life_km", s.life_km}, {"coverage", name_of(s.coverage)},
                               {"verdict", name_of(s.verdict)}, {"evidence", evidence(s.evidence)}});
    j["welds"].push_back(weld);
  }
  return j.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace seamwright::reports
