// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/assumed.h"

#include <algorithm>

namespace seamwright::study {

const std::vector<AssumedInput>& assumed_inputs() {
  static const std::vector<AssumedInput> all = [] {
    std::vector<AssumedInput> rows;
    for (const auto& part : {assumed_of_rider(), assumed_of_legs(), assumed_of_events(), assumed_of_drive(),
                             assumed_of_roads(), assumed_of_rules(), assumed_of_tyres(), assumed_of_design()})
      rows.insert(rows.end(), part.begin(), part.end());
    return rows;
  }();
  return all;
}

const std::vector<KeyWithoutEffect>& keys_without_effect() {
  static const std::vector<KeyWithoutEffect> all = [] {
    std::vector<KeyWithoutEffect> rows;
    const auto add = [&](MessageId reason, std::initializer_list<const char*> keys) {
      for (const char* key : keys) rows.push_back({key, reason});
    };
    add("unmoved.drawn", {"design.parameters.",
                          "design.node.",
                          "design.member.",
                          "design.tube.diameter_mm",
                          "design.tube.height_mm",
                          "design.tube.width_mm",
                          "design.tube.corner_radius_mm",
                          "design.tube.thickness_mm",
                          "design.hinge.",
                          "design.plate.",
                          "design.sleeve.",
                          "design.steering.",
                          "design.wheel.radius_mm",
                          "design.wheel.section_radius_mm",
                          "design.wheel.camber_deg",
                          "design.mass.position_mm",
                          "design.weld.plate_mm",
                          "design.weld.line_mm",
                          "design.weld.plate_normal",
                          "design.weld.stands",
                          "design.weld.offset_mm",
                          "design.weld.other_wall_mm",
                          "design.weld.attachment_length_mm",
                          "design.weld.leg_crown_mm", "design.weld.leg_saddle_mm", "design.weld.fusion_mm",
                          "design.weld.gap_mm",
                          "design.notch.at_mm",
                          "design.notch.large_mm",
                          "design.notch.small_mm",
                          "design.notch.fillet_mm",
                          "design.notch.hole_mm",
                          "design.notch.bore_mm", "design.notch.slot_mm",
                          "design.notch.faces",
                          "design.notch.thread_mm",
                          "design.notch.pitch_mm",
                          "design.bolts.thread_mm",
                          "design.bolts.pitch_mm",
                          "design.bolts.count", "design.bolts.circle_mm"});
    add("unmoved.torque", {"design.bolts.friction", "design.bolts.head_mm"});
    add("unmoved.cases", {"design.support.", "design.case."});
    add("unmoved.peaks", {"duty.peaks.", "design.weld.filler_ultimate_mpa", "design.steel."});
    add("unmoved.scales", {"duty.years", "duty.rules.target_reliability", "duty.rules.target_crack", "duty.rules.target_single_path"});
    add("unmoved.scatter", {"duty.rules.load_scatter", "duty.rules.use_share", "duty.rules.miner_scatter"});
    add("unmoved.decided",
        {"design.inside", "duty.rules.set", "duty.rules.consequence", "duty.rules.strategy", "duty.rules.look_every_km", "duty.rules.look_by",
         "duty.rules.design_fatigue_factor", "duty.rules.partial_factor", "duty.rules.damage_limit",
         "duty.rules.load_factor", "duty.rules.mean_stress_credit"});
    add("unmoved.recorded", {"duty.road.profile_step_m"});
    add("unmoved.numerical",
        {"duty.dynamics.sample_rate_hz", "duty.dynamics.highest_frequency_hz",
         "duty.dynamics.lift_share_limit", "duty.rules.most_batches", "duty.rules.confidence"});
    return rows;
  }();
  return all;
}

std::string without_ids(const std::string& key) {
  std::string out;
  bool inside = false;
  for (const char c : key) {
    if (c == '[') inside = true;
    if (!inside) out.push_back(c);
    if (c == ']') inside = false;
  }
  return out;
}

bool answers_for(const std::string& listed, const std::string& key) {
  return listed == key || (listed.ends_with('.') && key.starts_with(listed));
}

std::pair<double, double> ends_of(const AssumedInput& row, double as_is) {
  switch (row.kind) {
    case RangeKind::times:
      return {row.low * as_is, row.high * as_is};
    case RangeKind::plus:
      return {as_is + row.low, as_is + row.high};
    case RangeKind::between:
      return {row.low, row.high};
    case RangeKind::words:
      break;
  }
  const auto last = static_cast<double>(row.words.size()) - 1;  // the first and the last of the others
  return {as_is > 0 ? 0 : std::min(1.0, last), as_is < last ? last : std::max(0.0, last - 1)};
}

}  // namespace seamwright::study
