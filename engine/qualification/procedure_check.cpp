// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/qualification/procedure_check.h"

#include <algorithm>
#include <cmath>

namespace seamwright::qualification {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

Source of_procedures(const char* text) { return {"iso-15614-1", text}; }

Answer same_item(const std::string& tested, const std::string& asked) {
  if (tested.empty() || asked.empty()) return Answer::cannot_decide;
  return tested == asked ? Answer::yes : Answer::no;
}

Item form_item(const Record& r, const Variables& a) {
  const Variables& t = r.tested;
  Answer answer = Answer::no;
  if (r.pre_production)
    answer = a.form == t.form ? Answer::yes : Answer::no;
  else if (t.form == JointForm::fillet)
    answer = a.form == JointForm::fillet ? Answer::yes : Answer::no;
  else if (a.form == JointForm::branch)
    answer = t.form == JointForm::branch || (t.diameter_mm > 0 && a.branch_angle_deg >= 60) ? Answer::yes
                                                                                            : Answer::no;
  else if (t.form == JointForm::butt || a.form == JointForm::fillet)
    answer = Answer::yes;
  return item_of("joint", name_of(a.form), name_of(t.form), answer,
                 r.pre_production ? Source{"iso-15613", "range"} : of_procedures("8.4.3"));
}

Item backing_item(const Variables& t, const Variables& a) {
  const auto sides_of = [](const Variables& v) {
    return std::string(v.both_sides   ? "both sides"
                       : v.backed     ? "one side, backed"
                       : v.gas_backed ? "one side, gas"
                                      : "one side");
  };
  const bool open = !t.both_sides && !t.backed;  // one side without backing covers with, and both sides
  const bool fine = open || (t.backed && (a.backed || a.both_sides)) || (t.both_sides && a.both_sides);
  return item_of("sides", sides_of(a), sides_of(t), fine ? Answer::yes : Answer::no, of_procedures("8.4.3"));
}

// A branch piece, also that of a pre-production test, covers its own angle and up, a butt test of tube from
// 60.
void add_walls(Check& check, const Record& r, const Variables& a) {
  const Variables& t = r.tested;
  const Reach reach = reach_of(r);
  check.push_back(item_of("wall", a.thickness_mm, reach.wall_mm, "mm", of_procedures("8.3.2.1, Tables 7 and 8")));
  if (a.other_thickness_mm > 0)
    check.push_back(item_of("other wall", a.other_thickness_mm, reach.other_wall_mm, "mm", of_procedures("8.3.2.1, Tables 7 and 8")));
  if (t.form == JointForm::fillet || a.form == JointForm::fillet)
    check.push_back(t.throat_mm > 0 ? item_of("throat", a.throat_mm, throat_range(t.throat_mm, t.single_run), "mm", of_procedures("8.3.2.2"))
                                    : item_of("throat", "", "", Answer::cannot_decide, of_procedures("8.3.2.2")));
  if (a.diameter_mm > 0) check.push_back(item_of("diameter", a.diameter_mm, reach.diameter_mm, "mm", of_procedures("Table 9")));
  if (a.other_diameter_mm > 0)
    check.push_back(item_of("main diameter", a.other_diameter_mm, reach.other_diameter_mm, "mm", of_procedures("Table 9")));
}

void add_heat(Check& check, const Record& r, const Variables& a) {
  const Variables& t = r.tested;
  check.push_back(item_of("preheat", a.preheat_c, {t.preheat_c, infinite}, "C", of_procedures("8.4.8")));
  check.push_back(item_of("interpass", a.interpass_c, {0, t.interpass_c}, "C", of_procedures("8.4.9")));
  const Range heat = heat_range(r);
  if (heat.least > 0 || std::isfinite(heat.most))
    check.push_back(item_of("heat input", a.heat_kj_mm, heat, "kJ/mm", of_procedures("8.4.7")));
}

}  // namespace

const char* name_of(JointForm form) {
  switch (form) {
    case JointForm::butt:
      return "butt";
    case JointForm::fillet:
      return "fillet";
    case JointForm::branch:
      return "branch";
  }
  return "branch";
}

Range wall_range_butt(double t, bool single) {
  if (t <= 3) return single ? Range{0.7 * t, 1.3 * t} : Range{0.7 * t, 2 * t};
  if (t <= 12) return single ? Range{std::max(0.5 * t, 3.0), 1.3 * t} : Range{3, 2 * t};
  if (t <= 100) return single ? Range{0.5 * t, 1.1 * t} : Range{0.5 * t, 2 * t};
  return {50, 2 * t};
}

Range wall_range_fillet(double t) {
  if (t <= 3) return {0.7 * t, 2 * t};
  if (t < 30) return {3, 2 * t};
  return {5, infinite};
}

Range throat_range(double a, bool single) { return single ? Range{0.75 * a, 1.5 * a} : Range{0, infinite}; }

Range tube_range(double d) { return {0.5 * d, infinite}; }

Range heat_range(const Record& r) {
  const double q = r.tested.heat_kj_mm;
  const bool hardness = r.hardness_tested || !r.hardness_hv10.empty();
  return {hardness ? 0.75 * q : 0, r.impact_tested ? 1.25 * q : infinite};
}

Reach reach_of(const Record& r) {
  const Variables& t = r.tested;
  const bool fillet = t.form == JointForm::fillet;
  const auto walls = [&](double tested) { return fillet ? wall_range_fillet(tested) : wall_range_butt(tested, t.single_run); };
  const auto tubes = [](double tested) { return tested > 0 ? tube_range(tested) : Range{500, infinite}; };
  Reach reach;
  reach.wall_mm = walls(t.thickness_mm);
  reach.other_wall_mm = walls(t.other_thickness_mm > 0 ? t.other_thickness_mm : t.thickness_mm);
  reach.diameter_mm = tubes(t.diameter_mm);
  reach.other_diameter_mm = tubes(t.other_diameter_mm > 0 ? t.other_diameter_mm : t.diameter_mm);
  reach.angle_deg = {t.branch_angle_deg > 0 ? t.branch_angle_deg : 60, 90};
  reach.throat_mm = !fillet ? Range{} : t.throat_mm > 0 ? throat_range(t.throat_mm, t.single_run) : Range{0, 0};
  return reach;
}

Check covers(const Record& r, const Variables& a) {
  const Variables& t = r.tested;
  Check check;
  if (r.level != 2)
    check.push_back(
        item_of("level", std::to_string(r.level), "2", Answer::cannot_decide, of_procedures("5")));
  if (!r.signed_off) check.push_back(item_of("acceptance", "", "signed", Answer::no, of_procedures("9")));
  check.push_back(
      item_of("process", a.process, t.process, same_item(t.process, a.process), of_procedures("8.4.1")));
  check.push_back(item_of("mechanisation", a.mechanisation, t.mechanisation,
                          same_item(t.mechanisation, a.mechanisation), of_procedures("8.4.1")));
  check.push_back(item_of("groups", a.first_group + "-" + a.second_group,
                          t.first_group + "-" + t.second_group, group_covered(t, a),
                          of_procedures("8.3.1, Table 5")));
  check.push_back(form_item(r, a));
  check.push_back(backing_item(t, a));
  if (a.form == JointForm::branch) check.push_back(item_of("branch angle", a.branch_angle_deg, reach_of(r).angle_deg, "deg", of_procedures("8.3.2.4")));
  add_walls(check, r, a);
  check.push_back(item_of("runs", a.single_run ? "single" : "multi", t.single_run ? "single" : "multi",
                          a.single_run == t.single_run ? Answer::yes : Answer::no, of_procedures("8.4.3")));
  check.push_back(
      item_of("filler", a.filler, t.filler, same_item(t.filler, a.filler), of_procedures("8.4.5")));
  check.push_back(item_of("gas", a.gas, t.gas, same_item(t.gas, a.gas), of_procedures("8.5.3")));
  check.push_back(
      item_of("current", a.current, t.current, same_item(t.current, a.current), of_procedures("8.4.6")));
  for (const std::string& p : a.positions)
    if ((p == "PG" || p == "J-L045") &&
        std::find(t.positions.begin(), t.positions.end(), p) == t.positions.end())
      check.push_back(item_of("position", p, "all but PG and J-L045", Answer::no, of_procedures("8.4.2")));
  if (a.positions.empty())
    check.push_back(item_of("position", "", "", Answer::cannot_decide, of_procedures("8.4.2")));
  add_heat(check, r, a);
  return check;
}

}  // namespace seamwright::qualification
