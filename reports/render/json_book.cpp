// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "reports/content/book_blocks.h"
#include "reports/render/json.h"
#include "reports/render/json_parts.h"

namespace seamwright::reports {

namespace {

Json json_of(const book::Record& r) {
  return {{"seq", r.entry.seq},           {"time", r.entry.time},
          {"author", r.entry.author},     {"kind", r.kind},
          {"content", r.content},         {"hash", r.entry.hash},
          {"replaced_by", r.replaced_by}, {"replaces", r.replaces},
          {"malformed", r.malformed}};
}

Json json_of(const std::vector<book::Problem>& problems) {
  Json all = Json::array();
  for (const book::Problem& p : problems) {
    Json with = Json::object();
    for (const Argument& a : p.with) std::visit([&](const auto& value) { with[a.name] = value; }, a.value);
    all.push_back({{"seq", p.seq}, {"what", p.what.text()}, {"with", with}});
  }
  return all;
}

// This stands above a frame's record: see headline().
void put_state(Json& j, const book::FrameState& s) {
  j["headline"] = headline(s).verdict.name;
  j["rating"] = s.verdict.empty() ? Json() : Json(s.verdict);
  j["open"] = book::open_gaps(s.gaps).size();
  j["cracks"] = Json::array();
  for (const book::Record& r : s.cracks) j["cracks"].push_back(json_of(r));
}

}  // namespace

std::string to_json(const book::Verification& v) {
  Json j = begin_json("verification");
  j["entries"] = v.entries;
  j["attachments"] = v.attachments;
  j["backwards"] = v.backwards;
  j["head"] = v.head;
  j["headline"] = headline(v).verdict.name;
  j["problems"] = json_of(v.problems);
  j["refused"] = json_of(v.refused);
  j["erased"] = Json::array();
  for (const book::ErasedPerson& e : v.erased) j["erased"].push_back({{"person", e.person}, {"by", e.by}});
  return j.dump(1) + "\n";
}

std::string to_json(const book::Book& book, const book::Trace& t, const book::FrameState& state) {
  Json j = begin_json("trace");
  j["serial"] = t.serial;
  j["head"] = book.head();
  put_state(j, state);
  j["own"] = Json::array();
  j["behind"] = Json::array();
  for (const book::Record& r : t.own) j["own"].push_back(json_of(r));
  for (const book::Record& r : t.behind) j["behind"].push_back(json_of(r));
  return j.dump(1) + "\n";
}

std::string to_json(const book::Mark& what, const std::vector<book::Carrier>& carriers) {
  Json j = begin_json("recall");
  j["name"] = what.name;
  j["value"] = what.value;
  j["frames"] = Json::array();
  for (const book::Carrier& c : carriers)
    j["frames"].push_back({{"serial", c.serial},
                           {"order", c.order},
                           {"to", c.to},
                           {"shipped", c.shipped},
                           {"released", c.released},
                           {"km", c.km},
                           {"used", std::isnan(c.used) ? Json() : Json(c.used)},
                           {"used_by", c.by},
                           {"cracked", c.cracked}});
  return j.dump(1) + "\n";
}

std::string to_json(const book::FrameState& state) {
  Json j = begin_json("gaps");
  j["serial"] = state.serial;
  put_state(j, state);
  j["gaps"] = Json::array();
  for (const book::Gap& g : state.gaps)
    j["gaps"].push_back({{"weld", g.weld},
                         {"what", g.what.id.text()},
                         {"key", g.key},
                         {"excepted_by", g.excepted_by},
                         {"reason", g.reason}});
  return j.dump(1) + "\n";
}

}  // namespace seamwright::reports
