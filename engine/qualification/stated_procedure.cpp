// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/qualification/stated_procedure.h"

#include <algorithm>

#include "engine/procedure/heat.h"

namespace seamwright::qualification {

namespace {

Source sheet_itself() { return {"iso-15609-1", "ranges of the procedure"}; }

Variables at_end(const Sheet& s, bool low, double heat) {
  const auto end = [low](const Span& span) { return low ? span.least : span.most; };
  Variables v;
  v.process = s.process;
  v.mechanisation = s.mechanisation;
  v.first_group = s.groups.empty() ? "" : s.groups[0];
  v.second_group = s.groups.size() > 1 ? s.groups[1] : v.first_group;
  v.first_yield_mpa = s.first_yield_mpa;
  v.second_yield_mpa = s.second_yield_mpa;
  v.form = s.form;
  v.single_run = s.single_run;
  v.both_sides = s.both_sides;
  v.backed = s.backed;
  v.gas_backed = s.gas_backed;
  v.thickness_mm = end(s.wall_mm);
  v.other_thickness_mm = end(s.other_wall_mm);
  v.diameter_mm = end(s.diameter_mm);
  v.other_diameter_mm = end(s.other_diameter_mm);
  v.branch_angle_deg = end(s.angle_deg);
  v.throat_mm = end(s.throat_mm);
  v.filler = s.filler;
  v.gas = s.gas;
  v.current = s.current;
  v.positions = s.positions;
  v.preheat_c = s.preheat_c;
  v.interpass_c = s.interpass_c;
  v.heat_kj_mm = heat;
  return v;
}

std::string sheet_words(const std::vector<std::string>& list) {
  std::string out;
  for (const std::string& w : list) out += (out.empty() ? "" : ", ") + w;
  return out;
}

void inside(Check& check, const char* name, double value, const Span& span, const char* unit) {
  if (span.stated())
    check.push_back(item_of(name, value, {span.least, span.most}, unit, sheet_itself()));
  else
    check.push_back(item_of(name, value_text(value) + " " + unit, "", Answer::cannot_decide, sheet_itself()));
}

}  // namespace

std::vector<std::string> missing_items(const Sheet& s) {
  std::vector<std::string> missing;
  const auto need = [&](const char* name, bool stated) {
    if (!stated) missing.emplace_back(name);
  };
  const auto needs_statement = [&](const char* name) {
    need(name, s.stated_keys.contains(name) && !s.stated_keys.at(name).empty());
  };
  need("maker", !s.maker.empty());
  need("revision", !s.revision.empty());
  need("record", !s.record.empty());
  for (const char* name : {"material", "delivery_condition"}) needs_statement(name);
  need("groups", s.groups.size() == 2);
  need("wall", s.wall_mm.stated());
  if (s.form == JointForm::branch) need("angle", s.angle_deg.stated());
  need("diameter", s.diameter_mm.stated());
  need("process", !s.process.empty());
  need("mechanisation", !s.mechanisation.empty());
  for (const char* name :
       {"preparation", "gap", "cleaning", "fixture", "tacking", "sequence", "weaving", "torch", "welding_order"})
    needs_statement(name);
  if (s.both_sides) needs_statement("back_gouging");
  need("position", !s.positions.empty());
  need("filler", !s.filler.empty());
  for (const char* name : {"filler_size", "filler_make", "drying"}) needs_statement(name);
  need("current", !s.current.empty());
  need("runs", !s.runs.empty());
  for (const Run& run : s.runs) {
    need("amperes of a run", run.amperes.stated());
    need("volts of a run", run.volts.stated() || run.power_w.stated());
    need("instantaneous power of a pulsed run", !s.current.starts_with("pulsed") || run.power_w.stated());
    need("travel speed of a run", run.speed_mm_s.stated());
  }
  need("gas", !s.gas.empty());
  for (const char* name : {"gas_flow", "back_purge"}) needs_statement(name);
  const bool tungsten = s.process.starts_with("14"), wire = s.process.starts_with("13");
  if (tungsten) needs_statement("tungsten");
  if (tungsten || wire) needs_statement("nozzle");
  if (wire)
    for (const char* name : {"transfer", "stick_out", "wire_feed"}) needs_statement(name);
  if (s.current.starts_with("pulsed")) needs_statement("pulse");
  need("preheat", s.preheat_c > 0);
  need("interpass", s.interpass_c > 0);
  needs_statement("post_heating");
  return missing;
}

RunHeat heat_of(const Sheet& s, const Run& run) {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  const bool power = run.power_w.stated() || (run.amperes.stated() && run.volts.stated());
  if (!power || !run.speed_mm_s.stated()) return {nan, nan, nan};
  const auto middle = [](const Span& span) { return 0.5 * (span.least + span.most); };
  if (run.power_w.stated())
    return {procedure::heat_input_of_power(s.process, run.power_w.least, run.speed_mm_s.most).heat_kj_mm,
            procedure::heat_input_of_power(s.process, middle(run.power_w), middle(run.speed_mm_s)).heat_kj_mm,
            procedure::heat_input_of_power(s.process, run.power_w.most, run.speed_mm_s.least).heat_kj_mm};
  return {
      procedure::heat_input(s.process, run.volts.least, run.amperes.least, run.speed_mm_s.most).heat_kj_mm,
      procedure::heat_input(s.process, middle(run.volts), middle(run.amperes), middle(run.speed_mm_s))
          .heat_kj_mm,
      procedure::heat_input(s.process, run.volts.most, run.amperes.most, run.speed_mm_s.least).heat_kj_mm};
}

Check record_covers(const Record& record, const Sheet& sheet, double lowest_heat, double highest_heat) {
  return worse_items(covers(record, at_end(sheet, true, lowest_heat)), covers(record, at_end(sheet, false, highest_heat)));
}

Check sheet_covers(const Sheet& s, const JointSizes& j) {
  Check check;
  check.push_back(item_of("joint", name_of(j.form), name_of(s.form),
                          j.form == s.form ? Answer::yes : Answer::no, sheet_itself()));
  inside(check, "wall", j.wall_mm, s.wall_mm, "mm");
  if (j.other_wall_mm > 0) inside(check, "other wall", j.other_wall_mm, s.other_wall_mm, "mm");
  if (j.diameter_mm > 0) inside(check, "diameter", j.diameter_mm, s.diameter_mm, "mm");
  if (j.other_diameter_mm > 0 && (j.form == JointForm::branch || s.other_diameter_mm.stated()))
    inside(check, "main diameter", j.other_diameter_mm, s.other_diameter_mm, "mm");
  if (j.form == JointForm::branch) inside(check, "branch angle", j.angle_deg, s.angle_deg, "deg");
  if (j.form != JointForm::butt || s.throat_mm.stated())
    inside(check, "throat", j.throat_mm, s.throat_mm, "mm");
  for (const std::string& p : j.positions)
    check.push_back(item_of(
        "position", p, sheet_words(s.positions),
        std::find(s.positions.begin(), s.positions.end(), p) != s.positions.end() ? Answer::yes : Answer::no,
        sheet_itself()));
  return check;
}

Variables joint_by(const Sheet& s, const JointSizes& j, double heat) {
  Variables v = at_end(s, true, heat);
  v.form = j.form;
  v.thickness_mm = j.wall_mm;
  v.other_thickness_mm = j.other_wall_mm;
  v.diameter_mm = j.diameter_mm;
  v.other_diameter_mm = j.other_diameter_mm;
  v.branch_angle_deg = j.angle_deg;
  v.throat_mm = j.throat_mm;
  if (!j.positions.empty()) v.positions = j.positions;
  return v;
}

std::vector<Joint> joints_for(const Sheet& s, const JointSizes& sizes) {
  std::vector<Joint> all;
  for (const std::string& position : sizes.positions.empty() ? s.positions : sizes.positions) {
    Joint j;
    j.process = s.process;
    j.tube = sizes.diameter_mm > 0;
    j.fillet = s.form == JointForm::fillet;
    j.filler_group = s.filler_group;
    j.filler_kind = s.filler_kind;
    j.thickness_mm = sizes.wall_mm;
    j.diameter_mm = sizes.diameter_mm;
    j.branch_angle_deg = s.form == JointForm::branch ? sizes.angle_deg : 0;
    j.position = position;
    j.side = s.both_sides ? "bs" : "ss";
    j.backing = s.backed ? "mb" : s.gas_backed ? "gb" : "nb";
    j.layers = s.single_run ? "sl" : "ml";
    all.push_back(std::move(j));
  }
  return all;
}

Check piece_covers(const Designation& test, const FilletPiece& piece, const Sheet& sheet, const JointSizes& joint) {
  Check worst;
  for (const Joint& asked : joints_for(sheet, joint)) {
    Check check = covers(test, asked, piece);
    if (worst.empty() || worse_of(verdict(worst), verdict(check)) != verdict(worst)) worst = std::move(check);
  }
  if (worst.empty())
    worst.push_back(
        item_of("position", "", "", Answer::cannot_decide, {"iso-9606-1", "5.8, Tables 9 and 10"}));
  return worst;
}

Check welder_covers(const Certificate& certificate, const Sheet& sheet, const JointSizes& joint, Date from,
                    Date to, const std::string& employer) {
  Check worst = piece_covers(certificate.designation, certificate.supplementary_fillet, sheet, joint);
  for (Item& item : worst)
    if (item.item == "position" && item.note.id.empty() && joint.positions.empty() &&
        sheet.positions.size() > 1)
      item = with_note(std::move(item), "welders.every-position",
                       {text("positions", sheet_words(sheet.positions))});
  const std::vector<Date> days = from == to ? std::vector{from} : std::vector{from, to};
  for (const Date day : days)
    for (Item& item : valid_on(certificate, day, employer)) worst.push_back(std::move(item));
  return worst;
}

bool can_weld(const std::string& process, const std::string& position) {
  return !process.starts_with("12") || position == "PA" || position == "PB";
}

}  // namespace seamwright::qualification
