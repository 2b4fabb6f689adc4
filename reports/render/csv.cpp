// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <cmath>

#include "engine/rating/rate.h"
#include "reports/render/render.h"

namespace seamwright::reports {

namespace {

// Quoted; a text that a spreadsheet would take for a formula gets an apostrophe before it.
std::string quoted(const std::string& text) {
  std::string out("\"");
  if (!text.empty() && std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos)
    out.push_back('\'');
  for (const char c : text) {
    if (c == '"') out.push_back('"');
    out.push_back(c);
  }
  out.push_back('"');
  return out;
}

std::string number(double value) {
  return std::isfinite(value) ? fmt::format("{:.6g}", value) : std::string();
}

}  // namespace

std::string to_csv(const std::vector<rating::Rating>& ratings) {
  std::string out(
      "rules,method,weld,joint,member,chord,site,curve,damage,life_years,life_km,damage_unfactored,life_km_"
      "unfactored,"
      "largest_range_mpa,coverage,bound,verdict\n");
  for (const rating::Rating& r : ratings)
    for (const rating::WeldRating& w : r.welds)
      for (const rating::SiteRating& s : w.sites) {
        for (const std::string& text :
             {std::string(name_of(r.rules.set)), r.method, w.id, w.joint, w.member, w.chord, s.site, s.curve})
          out.append(quoted(text)).push_back(',');
        for (const double value : {s.damage, s.life_years, s.life_km, s.damage_unfactored,
                                   s.life_km_unfactored, s.largest_range_mpa})
          out.append(number(value)).push_back(',');
        out.append(name_of(s.coverage)).append(s.at_least ? ",at_least," : ",,").append(name_of(s.verdict)).append("\n");
      }
  return out;
}

}  // namespace seamwright::reports
