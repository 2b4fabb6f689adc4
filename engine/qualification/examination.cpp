// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/qualification/examination.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "engine/procedure/heat.h"

namespace seamwright::qualification {

namespace {

constexpr double unbounded = std::numeric_limits<double>::infinity();
constexpr double longest_flaw_mm = 3, full_bend_deg = 180;
constexpr double tube_without_volume_test_mm = 50;  // up to this outside diameter of a branch
constexpr double heat_agrees = 0.02;                // rounding of what was written down

Source of_tests(const char* clause) { return {"iso-15614-1", clause}; }

const Examination* examination_of(const TestReport& report, std::initializer_list<const char*> methods) {
  const auto at = std::find_if(report.examinations.begin(), report.examinations.end(), [&](const Examination& e) {
    return std::find(methods.begin(), methods.end(), e.method) != methods.end();
  });
  return at == report.examinations.end() ? nullptr : &*at;
}

void add_examination(Check& check, const char* name, const Examination* e, const char* clause) {
  check.push_back(item_of(name, !e ? "" : e->accepted ? "accepted" : "rejected", "accepted",
                          !e            ? Answer::cannot_decide
                          : e->accepted ? Answer::yes
                                        : Answer::no,
                          of_tests(clause)));
}

// The whole section is fused: a test piece that is judged through its thickness.
bool is_fused_through(const Record& record, const TestReport& report) {
  return record.tested.form == JointForm::butt ||
         (record.tested.form == JointForm::branch && !report.macros.empty() &&
          std::all_of(report.macros.begin(), report.macros.end(), [](const Macro& m) { return m.fused; }));
}

// An examination that was not accepted is not outweighed by another, and counts whether the joint asks for it or not.
void add_rejected(Check& check, const TestReport& report) {
  for (const Examination& e : report.examinations)
    if (!e.accepted)
      check.push_back(item_of(e.method == "tensile" ? "tensile strength"
                              : e.method == "bend"  ? "flaw in bending"
                              : e.method == "VT"    ? "visual testing"
                              : e.method == "PT" || e.method == "MT" ? "surface testing"
                                                                     : "volumetric testing",
                              "rejected", "accepted", Answer::no, of_tests("7.5")));
}

void add_methods(Check& check, const Record& record, const TestReport& report) {
  add_examination(check, "visual testing", examination_of(report, {"VT"}), "Table 2");
  add_examination(check, "surface testing", examination_of(report, {"PT", "MT"}), "Table 2");
  if (!is_fused_through(record, report)) return;
  const Examination* through = examination_of(report, {"RT", "UT"});
  const double diameter = record.tested.diameter_mm;
  const bool small_branch =
      record.tested.form == JointForm::branch && diameter > 0 && diameter <= tube_without_volume_test_mm;
  if (!through && small_branch)
    check.push_back(item_of("volumetric testing", "", "none", Answer::yes, of_tests("Table 2, footnote on diameters up to 50 mm")));
  else
    add_examination(check, "volumetric testing", through, "Table 2");
}

// Imperfections 502, 503, 504 and 5214 are judged at level C, all others at B.
char level_for(const std::string& imperfection) {
  constexpr std::array at_c{"502", "503", "504", "5214"};
  return std::find(at_c.begin(), at_c.end(), imperfection) != at_c.end() ? 'C' : 'B';
}

Answer answer_for(inspection::Judgement judgement) {
  return judgement == inspection::Judgement::accepted   ? Answer::yes
         : judgement == inspection::Judgement::rejected ? Answer::no
                                                        : Answer::cannot_decide;
}

void add_findings(Check& check, const Record& record, const TestReport& report, const std::vector<inspection::Imperfection>& limits) {
  const Variables& t = record.tested;
  // Looking for something and not finding it is a value: 0 mm.
  const Examination* seen = examination_of(report, {"VT"});
  if (seen && seen->findings.empty())
    check.push_back(item_of("imperfection of the test piece", "", "stated", Answer::cannot_decide, of_tests("7.5")));
  // An open root in a butt weld is lack of penetration, which level B does not permit.
  if (t.form == JointForm::butt && std::any_of(report.macros.begin(), report.macros.end(), [](const Macro& m) { return !m.fused; }))
    check.push_back(item_of("imperfection of the test piece", "402", "none", Answer::no, {"iso-5817", "Table 1, level B"}));
  const inspection::Weld weld{t.thickness_mm, t.throat_mm, 0, t.form == JointForm::butt};
  for (const Examination& e : report.examinations)
    for (const Finding& f : e.findings) {
      const inspection::Imperfection* row = inspection::row_for(limits, f.imperfection, weld);
      const std::string found = f.imperfection + ": " + value_text(f.value_mm) + " mm";
      const char level = level_for(f.imperfection);
      const Source source{"iso-5817", std::string("Table 1, level ") + level};
      const auto bound = row ? inspection::bound_of(*row, level, weld) : std::nullopt;
      if (!bound) {
        check.push_back(item_of("imperfection of the test piece", found, "", Answer::cannot_decide, source));
        continue;
      }
      const std::string covered = bound->kind == inspection::LimitKind::at_most          ? text_of({0, bound->mm}, "mm")
                                  : bound->kind == inspection::LimitKind::at_least       ? text_of({bound->mm, unbounded}, "")
                                  : bound->kind == inspection::LimitKind::permitted      ? "any"
                                  : bound->kind == inspection::LimitKind::by_application ? "application"
                                                                                         : "none";
      check.push_back(item_of("imperfection of the test piece", found, covered, answer_for(inspection::judge(*bound, f.value_mm)), source));
    }
}

Item count_item(const char* name, std::size_t count, double least, const char* clause) {
  return item_of(name, static_cast<double>(count), {least, unbounded}, "", of_tests(clause));
}

void add_specimens(Check& check, const Record& record, const TestReport& report) {
  const bool butt = record.tested.form == JointForm::butt;
  check.push_back(count_item("macro sections", report.macros.size(), butt ? 1 : 2, "Table 2"));
  if (!butt) return;
  const Examination* tensile = examination_of(report, {"tensile"});
  const std::vector<double> strengths = tensile ? tensile->strength_mpa : std::vector<double>{};
  check.push_back(count_item("tensile specimens", strengths.size(), 2, "Table 2"));
  if (!strengths.empty()) {
    const double lowest = *std::min_element(strengths.begin(), strengths.end());
    check.push_back(tensile->least_strength_mpa > 0
                        ? item_of("tensile strength", lowest, {tensile->least_strength_mpa, unbounded}, "MPa", of_tests("7.4.2"))
                        : item_of("tensile strength", value_text(lowest) + " MPa", "", Answer::cannot_decide, of_tests("7.4.2")));
  }
  const Examination* bend = examination_of(report, {"bend"});
  const std::size_t bends = bend ? std::min(bend->bend_deg.size(), bend->flaw_mm.size()) : 0;
  check.push_back(count_item("bend specimens", bends, 4, "Table 2"));
  if (bends == 0) return;
  check.push_back(item_of("bend angle", *std::min_element(bend->bend_deg.begin(), bend->bend_deg.end()), {full_bend_deg, full_bend_deg},
                          "deg", of_tests("7.4.3")));
  const double flaw = *std::max_element(bend->flaw_mm.begin(), bend->flaw_mm.end());
  check.push_back(item_of("flaw in bending", value_text(flaw) + " mm", text_of({0, longest_flaw_mm}, "mm"),
                          flaw <= longest_flaw_mm ? Answer::yes : Answer::no, of_tests("7.4.3")));
}

void add_passes(Check& check, const Record& record, const TestReport& report) {
  if (report.passes.empty()) {
    check.push_back(item_of("passes as welded", "", "all", Answer::cannot_decide, of_tests("Annex: record")));
    return;
  }
  const Range heats = heats_of(record.tested.process, report.passes);
  const double stated = record.tested.heat_kj_mm;
  Item item = item_of("heat input of the record", stated, {heats.least, heats.most}, "kJ/mm", of_tests("8.4.7"));
  item.answer = stated >= heats.least * (1 - heat_agrees) && stated <= heats.most * (1 + heat_agrees) ? Answer::yes : Answer::no;
  check.push_back(std::move(item));
}

void add_trace(Check& check, const TestReport& report) {
  for (const char* name : {"heat", "filler_batch", "witnessed_by"}) {
    const auto at = report.stated.find(name);
    const bool stated = at != report.stated.end() && !at->second.empty();
    check.push_back(item_of(name == std::string("heat")           ? "heat of the test piece"
                            : name == std::string("filler_batch") ? "batch of the filler"
                                                                  : "witness",
                            stated ? at->second : "", "stated", stated ? Answer::yes : Answer::cannot_decide, of_tests("Annex: record")));
  }
}

}  // namespace

Range heats_of(const std::string& process, const std::vector<WeldedPass>& passes) {
  Range heats{unbounded, 0};
  for (const WeldedPass& p : passes) {
    const double heat = p.power_w > 0 ? procedure::heat_input_of_power(process, p.power_w, p.speed_mm_s).heat_kj_mm
                                      : procedure::heat_input(process, p.volts, p.amperes, p.speed_mm_s).heat_kj_mm;
    heats = {std::min(heats.least, heat), std::max(heats.most, heat)};
  }
  return heats;
}

Check examined(const Record& record, const TestReport& report, const std::vector<inspection::Imperfection>& limits) {
  Check check;
  add_rejected(check, report);
  add_methods(check, record, report);
  add_findings(check, record, report, limits);
  add_specimens(check, record, report);
  add_passes(check, record, report);
  add_trace(check, report);
  return check;
}

}  // namespace seamwright::qualification
