// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "reports/render/json.h"
#include "reports/render/json_parts.h"

namespace seamwright::reports {

namespace {

Json json_of(const book::Record& r) {
  return {{"seq", r.entry.seq},           {"time", r.entry.time},
          {"author", r.entry.author},     {"kind", r.kind},
          {"content", r.content},         {"hash", r.entry.hash},
          {"replaced_by", r.replaced_by}, {"replaces", r.replaces}};
}

}  // namespace

std::string to_json(const book::Verified& v) {
  Json j = begin_json("verification");
  j["entries"] = v.entries;
  j["attachments"] = v.attachments;
  j["backwards"] = v.backwards;
  j["head"] = v.head;
  j["problems"] = Json::array();
  for (const book::Problem& p : v.problems) j["problems"].push_back({{"seq", p.seq}, {"what", p.what}});
  j["erased"] = Json::array();
  for (const book::Erased& e : v.erased) j["erased"].push_back({{"person", e.person}, {"by", e.by}});
  return j.dump(1) + "\n";
}

std::string to_json(const book::Book& book, const book::Trace& t) {
  Json j = begin_json("trace");
  j["serial"] = t.serial;
  j["head"] = book.head();
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

std::string to_json(const std::string& serial, const std::vector<book::Gap>& gaps) {
  Json j = begin_json("gaps");
  j["serial"] = serial;
  j["open"] = book::open_gaps(gaps).size();
  j["gaps"] = Json::array();
  for (const book::Gap& g : gaps)
    j["gaps"].push_back({{"weld", g.weld},
                         {"what", g.what.id},
                         {"key", g.key},
                         {"excepted_by", g.excepted_by},
                         {"reason", g.reason}});
  return j.dump(1) + "\n";
}

}  // namespace seamwright::reports
