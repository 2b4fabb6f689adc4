// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/render/json_parts.h"

namespace seamwright::reports {

Json begin_json(const std::string& kind, int version) {
  return {{"format", "seamwright." + kind + "/" + std::to_string(version)}, {"program", "seamwright " SEAMWRIGHT_VERSION}};
}

std::string end_json_tightly(const Json& document) {
  return document.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string end_json(const Json& document) {
  return document.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

Json json_of(const Message& m) {
  Json j{{"id", m.id.text()}};
  for (const Argument& a : m.arguments) std::visit([&](const auto& v) { j[a.name] = v; }, a.value);
  return j;
}

Json json_of(const Evidence& e) {
  Json j{{"figure", e.figure},
         {"value", e.value},
         {"unit", e.unit},
         {"source", {{"key", e.source.key}, {"clause", e.source.clause}}},
         {"from_memory", e.from_memory},
         {"inputs", Json::array()},
         {"limits", Json::array()},
         {"coverage", name_of(e.coverage)},
         {"notes", Json::array()},
         {"because", Json::array()}};
  if (!e.subject.empty()) j["of"] = e.subject;
  for (const Input& i : e.inputs)
    j["inputs"].push_back({{"name", i.name}, {"value", i.value}, {"unit", i.unit}});
  for (const Limit& l : e.limits)
    j["limits"].push_back({{"name", l.name},
                           {"value", l.value},
                           {"unit", l.unit},
                           {"min", l.min},
                           {"max", l.max},
                           {"inside", l.inside}});
  for (const Message& m : e.notes) j["notes"].push_back(json_of(m));
  for (const Evidence& b : e.because) j["because"].push_back(json_of(b));
  return j;
}

}  // namespace seamwright::reports
