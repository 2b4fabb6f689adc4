// SPDX-License-Identifier: GPL-3.0-or-later
// A welding procedure as stated: ranges of the variables that decide, and the rest that ISO 15609-1 wants on
// it.
#pragma once

#include <map>

#include "engine/qualification/procedure_check.h"
#include "engine/qualification/welder.h"

namespace seamwright::qualification {

/// least 0 and most 0: not stated.
struct Span {
  double least = 0, most = 0;
  bool stated() const { return most > 0; }
};

struct Run {
  int number = 1;
  Span amperes, volts, speed_mm_s;
  Span power_w;  ///< mean instantaneous power of pulsed current: stands above amperes times volts
};

struct Sheet {
  std::string id, revision, name, maker, record;
  std::string process, mechanisation;
  JointForm form = JointForm::branch;
  bool single_run = true, both_sides = false, backed = false, gas_backed = false;
  std::vector<std::string> groups;  ///< of both parts
  double first_yield_mpa = 0, second_yield_mpa = 0;
  Span wall_mm, other_wall_mm, diameter_mm, other_diameter_mm, angle_deg, throat_mm;
  std::vector<std::string> positions;
  std::string filler, filler_kind, gas, current;
  int filler_group = 0;
  double preheat_c = 0, interpass_c = 0;
  std::vector<Run> runs;
  std::string node_rule_waived;  ///< reason why the shop's rule for tube nodes does not hold; "" = it holds
  std::vector<std::string> testing;  ///< beyond visual testing, which is always done: "PT", "MT", "RT", "UT"
  /// The rest in words: "material", "delivery_condition", "preparation", "gap", "cleaning", "tacking",
  /// "sequence", "filler_size", "gas_flow", "back_purge", "torch", "weaving", "post_heating", "welding_order"
  /// ...
  std::map<std::string, std::string> stated_keys;
};

/// Items of ISO 15609-1 [from memory] that are not stated, by name, in the order of a sheet.
std::vector<std::string> missing_items(const Sheet& sheet);

/// Heat input of a run, kJ/mm, lowest (least power, or least V and A, at the highest speed), in the middle,
/// and highest. Throws what heat_input() throws; a run without speed has none: NaN.
struct RunHeat {
  double lowest = 0, middle = 0, highest = 0;
};
RunHeat heat_of(const Sheet& sheet, const Run& run);

/// The record against the procedure's ranges: every item at both ends, the worse of the two. heat: lowest and
/// highest of all runs, kJ/mm, 0 = not known.
Check record_covers(const Record& record, const Sheet& sheet, double lowest_heat, double highest_heat);

/// A joint of the frame against the procedure's own ranges.
struct JointSizes {
  JointForm form = JointForm::branch;
  double wall_mm = 0, other_wall_mm = 0, diameter_mm = 0, other_diameter_mm = 0, angle_deg = 0, throat_mm = 0;
  std::vector<std::string> positions{};  ///< as the design states them; empty = every one of the procedure
};
/// The joint as it is welded by the sheet; heat: kJ/mm, 0 = not known.
Variables joint_by(const Sheet& sheet, const JointSizes& joint, double heat);
Check sheet_covers(const Sheet& sheet, const JointSizes& joint);

/// A welder meets these joints: one for each position of the weld, or of the sheet where it states none.
std::vector<Joint> joints_for(const Sheet& sheet, const JointSizes& joint);

/// A welder's test piece against a joint by this sheet, whenever it was welded: the worst over all its positions.
Check piece_covers(const Designation& test, const FilletPiece& piece, const Sheet& sheet, const JointSizes& joint);

/// A welder's certificate against a joint by this sheet: the worst over all its positions, and whether it
/// holds on both days. Where the weld states no position the item of the position says that every one of the
/// procedure was asked.
Check welder_covers(const Certificate& certificate, const Sheet& sheet, const JointSizes& joint, Date from,
                    Date to, const std::string& employer);

/// Positions that a process cannot weld: submerged arc but for PA and PB (common practice, no source).
bool can_weld(const std::string& process, const std::string& position);

}  // namespace seamwright::qualification
