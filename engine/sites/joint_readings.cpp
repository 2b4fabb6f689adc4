// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/sites/joint_readings.h"

#include <algorithm>

#include "engine/rules/rule_sets.h"
#include "engine/shape/pieces.h"

namespace seamwright::sites {

namespace {

using ReadOut = decltype(rules::HotSpotRule::read_out);

// Each way once, though several sets have it.
std::vector<ReadOut> ways_to_read() {
  std::vector<ReadOut> out;
  for (const rules::RuleSet* set : rules::rule_sets)
    if (std::find(out.begin(), out.end(), set->hot_spot.read_out) == out.end()) out.push_back(set->hot_spot.read_out);
  return out;
}

std::vector<solid::Reading> readings_of(const shape::Stretch& brace, const shape::Stretch& chord) {
  std::vector<solid::Reading> out;
  for (const ReadOut read_out : ways_to_read()) {
    const auto points = [&](rules::ToePlace place) {
      std::vector<solid::ReadPoint> all;
      for (const rules::ReadOut& r :
           read_out({place, shape::outer_radius_mm(brace.section), shape::thickness_mm(brace.section),
                                   shape::outer_radius_mm(chord.section), shape::thickness_mm(chord.section)}))
        all.push_back({r.distance_mm, r.weight});
      return all;
    };
    out.push_back({points(rules::ToePlace::brace), points(rules::ToePlace::chord_crown), points(rules::ToePlace::chord_saddle)});
  }
  return out;
}

}  // namespace

// Elements as large as the thinner wall: forces through sections, which decide most places, hang little on the mesh
// (docs/methods/joints.md has the measurements).
solid::FrameJoints frame_joints(const design::Design& design) { return solid::frame_joints(design, {1.0, readings_of}); }

std::size_t reading_number(const rules::HotSpotRule& rule) {
  const std::vector<ReadOut> all = ways_to_read();
  return static_cast<std::size_t>(std::find(all.begin(), all.end(), rule.read_out) - all.begin());
}

}  // namespace seamwright::sites
