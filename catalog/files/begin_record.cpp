// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/begin_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "catalog/files/patch.h"
#include "catalog/files/test_piece_plan.h"

namespace seamwright::files {

namespace {

using qualification::Examination;
using qualification::Macro;
using qualification::Range;
using qualification::Sheet;
using qualification::Span;
using qualification::Variables;

double middle_of(const Span& span) { return span.stated() ? (span.least + span.most) / 2 : 0; }

std::string list_of(const std::vector<double>& values) { return fmt::format("[{}]", fmt::join(values, ", ")); }

std::string list_of(const std::vector<std::string>& values) {
  std::string text;
  for (const std::string& v : values) text += (text.empty() ? "" : ", ") + toml_text(v);
  return "[" + text + "]";
}

// TableText of one table. What is not stated is left out, so that a reader never takes it for a value.
class TableText {
 public:
  explicit TableText(const char* header) : text_(fmt::format("\n{}\n", header)) {}
  void add(const char* key, const std::string& value) {
    if (!value.empty()) text_ += fmt::format("{} = {}\n", key, toml_text(value));
  }
  void add(const char* key, double value) {
    if (value > 0) text_ += fmt::format("{} = {}\n", key, value);
  }
  void add_number(const char* key, double value) { text_ += fmt::format("{} = {}\n", key, value); }
  template <typename T>
  void add_list(const char* key, const std::vector<T>& values) {
    if (!values.empty()) text_ += fmt::format("{} = {}\n", key, list_of(values));
  }
  const std::string& text() const { return text_; }

 private:
  std::string text_;
};

std::string examination_text(const Examination& e, const std::string& date) {
  TableText lines("[[examination]]");
  lines.add("method", e.method);
  lines.add("result", std::string(e.accepted ? "accept" : "reject"));
  lines.add("by", e.by);
  lines.add("file", e.file);
  lines.add("date", e.on ? qualification::text_of(*e.on) : date);
  lines.add_list("strength_mpa", e.strength_mpa);
  lines.add("least_strength_mpa", e.least_strength_mpa);
  lines.add_list("bend_deg", e.bend_deg);
  lines.add_list("flaw_mm", e.flaw_mm);
  std::string text = lines.text();
  for (const qualification::Finding& f : e.findings) {
    TableText finding("[[examination.finding]]");
    finding.add("imperfection", f.imperfection);
    finding.add_number("value_mm", f.value_mm);
    text += finding.text();
  }
  return text;
}

std::string macro_text(const Macro& m) {
  TableText lines("[[macro]]");
  lines.add("id", m.id);
  lines.add("root", std::string(m.fused ? "fused" : "not-fused"));
  lines.add("place", m.place);
  lines.add("leg_mm", m.leg_mm);
  lines.add("throat_mm", m.throat_mm);
  lines.add("penetration_mm", m.penetration_mm);
  lines.add("by", m.by);
  lines.add("file", m.file);
  return lines.text();
}

std::string sides_text(const Sheet& s) { return s.both_sides ? "both" : "one"; }
std::string backing_text(const Sheet& s) { return s.backed ? "material" : s.gas_backed ? "gas" : "none"; }

// Fixed by the procedure: the piece was welded by it.
void add_fixed(TableText& lines, const Sheet& s) {
  lines.add("process", s.process);
  lines.add("mechanisation", s.mechanisation);
  lines.add_list("groups", s.groups);
  lines.add("first_yield_mpa", s.first_yield_mpa);
  lines.add("second_yield_mpa", s.second_yield_mpa);
  lines.add("run_type", std::string(s.single_run ? "single" : "multi"));
  lines.add("sides", sides_text(s));
  lines.add("backing", backing_text(s));
  lines.add("filler", s.filler);
  lines.add("gas", s.gas);
  lines.add("current", s.current);
}

// Rounded inwards, so that the sheet never says more than the record.
void set_range(std::string& text, const std::string& file, const char* key, const Span& now, const Range& reach) {
  if (!now.stated() || !(reach.least > 0)) return;
  const double least = std::ceil(reach.least * 10 - 1e-6) / 10;
  const double most = std::isfinite(reach.most) ? std::floor(reach.most * 10 + 1e-6) / 10 : std::max(now.most, least);
  text = patched(file, text, key, std::vector<double>{least, most});
}

std::string record_text(const ProcedureFile& procedure, const NewRecord& wanted) {
  const qualification::Record& r = wanted.record;
  const Variables& t = r.tested;
  if (wanted.test.passes.empty()) throw Fault{Message{"record.no-pass", {text("id", procedure.sheet.id)}}};
  TableText lines("[qualification]");
  lines.add("id", wanted.id);
  lines.add_number("edition", r.edition);
  lines.add_number("level", r.level);
  if (r.pre_production) lines.add("route", std::string("15613"));
  lines.add("date", wanted.date);
  lines.add("signed_by", wanted.signed_by);
  lines.add_list("hardness_hv10", r.hardness_hv10);
  add_fixed(lines, procedure.sheet);
  lines.add("form", std::string(name_of(t.form)));
  lines.add("wall_mm", t.thickness_mm);
  lines.add("other_wall_mm", t.other_thickness_mm);
  lines.add("diameter_mm", t.diameter_mm);
  lines.add("other_diameter_mm", t.other_diameter_mm);
  lines.add("angle_deg", t.branch_angle_deg);
  lines.add("throat_mm", t.throat_mm);
  lines.add_list("positions", t.positions);
  lines.add_number("preheat_c", t.preheat_c);
  lines.add_number("interpass_c", t.interpass_c);
  lines.add_number("heat_kj_mm", std::round(qualification::heats_of(procedure.sheet.process, wanted.test.passes).least * 1e4) / 1e4);
  for (const auto& [key, value] : wanted.test.stated) lines.add(key.c_str(), value);
  std::string text = lines.text();
  for (const qualification::WeldedPass& p : wanted.test.passes) {
    TableText pass("[[qualification.pass]]");
    pass.add("amperes", p.amperes);
    pass.add("volts", p.volts);
    pass.add("speed_mm_s", p.speed_mm_s);
    pass.add("power_w", p.power_w);
    text += pass.text();
  }
  return text;
}

}  // namespace

NewRecord expected_record(const std::string& job, const ProcedureFile& procedure, qualification::Date today) {
  NewRecord expected;
  const Sheet& s = procedure.sheet;
  const TestPieceReport plan = test_piece_report(job, today);
  const auto piece = std::find_if(plan.procedures.pieces.begin(), plan.procedures.pieces.end(), [&](const auto& p) { return p.procedure == s.id; });
  Variables& t = expected.record.tested;
  if (piece != plan.procedures.pieces.end()) {
    expected.record = piece->record;
  } else {
    t.form = s.form;
    t.thickness_mm = middle_of(s.wall_mm);
    t.other_thickness_mm = middle_of(s.other_wall_mm);
    t.diameter_mm = middle_of(s.diameter_mm);
    t.other_diameter_mm = middle_of(s.other_diameter_mm);
    t.branch_angle_deg = s.angle_deg.least;
    t.throat_mm = middle_of(s.throat_mm);
    t.positions = s.positions;
  }
  expected.record.hardness_hv10.clear();
  expected.record.hardness_tested = false;
  t.preheat_c = s.preheat_c;
  t.interpass_c = s.interpass_c;
  expected.id = "Q-" + s.id;
  expected.date = qualification::text_of(today);
  return expected;
}

ProcedureFile procedure_of_text(const std::string& path, const std::string& content, qualification::Date today) {
  const FilesInMemory memory(std::map<std::string, std::string>{{path, content}});
  return read_procedure({memory, path}, today);
}

std::string text_with_record(const std::string& content, const ProcedureFile& procedure, const NewRecord& wanted) {
  if (procedure.record) throw Fault{Message{"record.exists", {text("id", procedure.sheet.id), text("record", procedure.record->id)}}};
  std::string text = patched(procedure.path, content, "record", wanted.id);
  if (wanted.takes_ranges) {
    const qualification::Reach reach = qualification::reach_of(wanted.record);
    const Sheet& s = procedure.sheet;
    for (const auto& [key, now, range] :
         {std::tuple("wall_mm", s.wall_mm, reach.wall_mm), std::tuple("other_wall_mm", s.other_wall_mm, reach.other_wall_mm),
          std::tuple("diameter_mm", s.diameter_mm, reach.diameter_mm), std::tuple("other_diameter_mm", s.other_diameter_mm, reach.other_diameter_mm),
          std::tuple("angle_deg", s.angle_deg, reach.angle_deg), std::tuple("throat_mm", s.throat_mm, reach.throat_mm)})
      set_range(text, procedure.path, key, now, range);
  }
  if (!text.empty() && text.back() != '\n') text += '\n';
  text += "\n# The test piece, as it was welded and examined.\n";
  if (!wanted.chemistry.empty() && !procedure.steel) {
    TableText steel("[chemistry]");
    for (const auto& [element, percent] : wanted.chemistry) steel.add_number(element.c_str(), percent);
    text += steel.text();
  }
  for (const Examination& e : wanted.test.examinations) text += examination_text(e, wanted.date);
  for (const Macro& m : wanted.test.macros) text += macro_text(m);
  return text + record_text(procedure, wanted);
}

}  // namespace seamwright::files
