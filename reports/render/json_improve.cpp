// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/improved_job.h"
#include "reports/render/json.h"
#include "reports/render/json_parts.h"

namespace seamwright::reports {

namespace {

Json size_json(const frame::RoundTube& t) { return {{"diameter_mm", t.diameter_mm}, {"wall_mm", t.wall_mm}}; }

Json figures_json(const study::FrameFigures& f) {
  return {{"possible", f.possible},
          {"mass_kg", finite(f.mass_kg)},
          {"weld_kg", finite(f.weld_kg)},
          {"price", finite(f.price)},
          {"cracked_of_1000", finite(f.cracked_of_1000)},
          {"shortfall", finite(f.shortfall)},
          {"peak_use", finite(f.peak_use)},
          {"sizes", f.sizes},
          {"falling_short", f.falling_short},
          {"uncovered", f.uncovered},
          {"weld", f.weld}};
}

Json answer_json(const study::ImprovedFrame& f) {
  Json j{{"figures", figures_json(f.figures)}, {"changes", Json::array()}, {"other_rules", Json::array()}};
  for (const study::ImproveChange& c : f.changes) {
    Json change{{"tube", c.tube}, {"back", figures_json(c.back)}};
    if (c.throat)
      change["throat_times"] = c.multiple;
    else {
      change["from"] = size_json(c.from);
      change["to"] = size_json(c.to);
    }
    j["changes"].push_back(std::move(change));
  }
  for (const study::OtherRules& o : f.other_rules)
    j["other_rules"].push_back({{"set", o.set}, {"before", finite(o.before)}, {"after", finite(o.after)}, {"vanishes", o.vanishes}});
  return j;
}

}  // namespace

std::string to_json(const study::Improvement& found, const std::vector<files::WrittenAnswer>& written) {
  Json j = begin_json("improvement");
  j["aim"] = found.aim == study::Aim::price ? "price" : "mass";
  j["reached"] = found.reached;
  j["end"] = name_of(found.end);
  j["trials"] = found.trials;
  j["limits"] = found.limits;
  j["drawn"] = figures_json(found.drawn);
  j["kept"] = Json::array();
  for (const study::KeptTube& k : found.choices.kept) j["kept"].push_back({{"tube", k.tube}, {"size", size_json(k.size)}, {"why", k.why.text()}});
  j["answers"] = Json::array();
  for (std::size_t i = 0; i < found.answers.size(); ++i) {
    Json a = answer_json(found.answers[i]);
    if (i < written.size()) {
      a["folder"] = written[i].folder;
      if (written[i].confirmed) a["confirmed"] = {{"verdict", name_of(written[i].verdict)}, {"cracked_of_1000", finite(written[i].cracked_of_1000)}, {"weld", written[i].weld}};
    }
    j["answers"].push_back(std::move(a));
  }
  return end_json(j);
}

}  // namespace seamwright::reports
