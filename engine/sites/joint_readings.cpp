// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/sites/joint_readings.h"

#include "engine/rules/rule_sets.h"
#include "engine/shape/pieces.h"

namespace seamwright::sites {

namespace {

std::vector<solid::Reading> readings_of(const shape::Stretch& brace, const shape::Stretch& chord) {
  std::vector<solid::Reading> out;
  for (const rules::RuleSet* set : rules::rule_sets) {
    const auto points = [&](rules::ToePlace place) {
      std::vector<solid::ReadPoint> all;
      for (const rules::ReadOut& r :
           set->hot_spot.read_out({place, shape::outer_radius_mm(brace.section), shape::thickness_mm(brace.section),
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
  std::size_t number = 0;
  while (number + 1 < rules::rule_sets.size() && rules::rule_sets[number]->hot_spot.read_out != rule.read_out) ++number;
  return number;
}

}  // namespace seamwright::sites
