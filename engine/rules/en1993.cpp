// SPDX-License-Identifier: GPL-3.0-or-later
// EN 1993-1-9: safety on stress, shear on a class of its own whose damage adds. Values from memory; which
// case of use takes which factor is an assumption of this project.
#include <algorithm>

#include "engine/rules/plate_surface.h"
#include "engine/rules/rule_sets.h"
#include "engine/rules/safety.h"

namespace seamwright::rules {

namespace {

// 8.3: the exponents 3 and 5 turn both uses of strength into damages, so they add.
double sum_of_damages(const TwoDamages& both) { return both.direct + both.shear; }

// 7.2.1 [from memory]: the part in tension and 0.6 of the part in compression.
double part_of_compression(double least, double most) {
  return std::max(0.0, most) - std::max(0.0, least) + 0.6 * (std::min(0.0, most) - std::min(0.0, least));
}

// Table 8.3 row 17 [from memory]: 1 + 6 e/t t^1.5/(t^1.5 + t2^1.5).
double whole_offset(const OffsetWalls& w) { return 1 + 6 * w.offset_mm / w.wall_mm * w.share; }

std::vector<Message> eurocode_notes(const Rules& asked, const Safety& safety, const GoverningLife&) {
  if (asked.partial_factor > 0) return {};
  return {partial_factor_assumed(en1993, safety)};
}

}  // namespace

constinit const RuleSet en1993{
    .name = "en1993",
    // Table 3.1 [from memory]: low consequence 1.00 inspected, 1.15 safe life; high 1.15 and 1.35.
    .partial_factor = ByConsequence{{1.0, 1.15}, {1.15, 1.35}, {1.15, 1.35}},
    .design_fatigue_factor = {},
    .damage_limit = 1,
    .joined_damage = sum_of_damages,
    .effective_range = part_of_compression,
    .throat = {{"en-1993-1-9", "5(6)"}, 0},
    .joins_torsion = false,
    .hole_class_is_net = true,
    .misalignment = {{"en-1993-1-9", "Table 8.3, row 17"}, whole_offset},
    // Annex B gives no points; those of the IIW are read [from memory].
    .hot_spot = {{"iiw-1823", "2.2.3.4, type a, fine mesh"}, plate_surface_points},
    .below_mean = 1.645,
    .scatter_log_n = 0.25,
    .notes = eurocode_notes,
};

}  // namespace seamwright::rules
