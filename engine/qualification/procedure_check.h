// SPDX-License-Identifier: GPL-3.0-or-later
// Does a qualification record cover a procedure, or a joint: ISO 15614-1:2017, level 2, by the decision it
// makes item by item. All rules from memory but for the diameter of tubes. Level 1 and what is missing here
// answer "cannot decide".
#pragma once

#include <optional>

#include "engine/qualification/calendar.h"
#include "engine/qualification/ranges.h"

namespace seamwright::qualification {

enum class JointForm { butt, fillet, branch };
const char* name_of(JointForm form);

/// The variables that decide, as they were welded and tested, or as a procedure or a weld asks for them. 0 or
/// "" = not stated.
struct Variables {
  std::string process, mechanisation;  ///< ISO 4063; "manual", "partly-mechanised", "mechanised", "automatic"
  std::string first_group, second_group;  ///< ISO/TR 15608, "5.1"
  double first_yield_mpa = 0, second_yield_mpa = 0;
  JointForm form = JointForm::branch;
  bool single_run = true;
  bool both_sides = false, backed = false, gas_backed = false;
  double thickness_mm = 0, other_thickness_mm = 0;  ///< walls: branch and main
  double diameter_mm = 0, other_diameter_mm = 0;    ///< 0 = plate
  double branch_angle_deg = 0;
  double throat_mm = 0;
  std::string filler, gas,
      current;  ///< designation; ISO 14175 symbol; "DCEN", "DCEP", "AC", "pulsed DCEN" ...
  std::vector<std::string> positions;
  double preheat_c = 0, interpass_c = 0;
  double heat_kj_mm = 0;
};

struct Record {
  std::string id;
  int level = 2, edition = 2017;
  bool pre_production = false;  ///< ISO 15613: ranges of ISO 15614-1, for the kind of joint that was tested
  std::optional<Date> date;     ///< of the test
  bool signed_off = false;
  bool hardness_tested = false, impact_tested = false;
  std::vector<double>
      hardness_hv10;  ///< single values of the test, all zones; a test without values decides nothing
  Variables tested;
};

/// Ranges of ISO 15614-1:2017, level 2: wall of butt welds, of fillet welds, throat of a single run, outside
/// diameter, heat input.
Range wall_range_butt(double tested_mm, bool single_run);
Range wall_range_fillet(double tested_mm);
Range throat_range(double tested_mm, bool single_run);
Range tube_range(double tested_mm);
Range heat_range(const Record& record);

/// The sizes that a record reaches, for the kind of joint that was tested: a measure that was not stated reaches nowhere ({0, 0}), and where
/// the standard asks for no test of it, everywhere.
struct Reach {
  Range wall_mm, other_wall_mm, diameter_mm, other_diameter_mm, angle_deg, throat_mm;
};
Reach reach_of(const Record& record);

/// Groups and sub-groups of steels of ISO/TR 15608 [from memory].
const std::vector<std::string>& steel_groups();
bool is_group(const std::string& group);
/// Answers by the table of groups if a record covers the groups of a joint. No for what is no group.
Answer group_covered(const Variables& tested, const Variables& asked);

/// Every item, in the order of the decision. A pre-production test of ISO 15613 has the ranges of ISO 15614-1
/// but covers the kind of joint that was tested and no other [from memory].
Check covers(const Record& record, const Variables& asked);

}  // namespace seamwright::qualification
