// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/procedure_reader.h"

#include <algorithm>
#include <set>

#include "catalog/files/parse.h"
#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/procedure/hardness.h"
#include "engine/procedure/heat.h"
#include "engine/qualification/hardness_check.h"
#include "engine/qualification/plausible.h"

namespace seamwright::files {

namespace {

using namespace qualification;

const std::vector<std::string> processes{"111", "114", "121", "125", "131", "132", "133", "135", "136",
                                         "138", "141", "142", "143", "145", "146", "15",  "311"};
const std::vector<std::string> positions_of_iso_6947{"PA", "PB", "PC", "PD",     "PE",    "PF",
                                                     "PG", "PH", "PJ", "H-L045", "J-L045"};
const std::vector<std::string> words{
    "material",    "delivery_condition", "preparation", "gap",      "cleaning",
    "tacking",     "sequence",           "weaving",     "torch",    "welding_order",
    "filler_size", "gas_flow",           "back_purge",  "tungsten", "post_heating",
    "fixture",     "filler_make",        "drying",      "nozzle",   "transfer",
    "stick_out",   "wire_feed",          "pulse",       "back_gouging"};
// These have to be told of the test piece years later.
const std::vector<std::string> test_words{"heat",      "other_heat",   "certificate", "filler_batch",
                                          "gas_batch", "witnessed_by", "laboratory",  "standard"};

// [least, most], or one number for both.
Span span_of(Reader& r, const std::string& key, Bounds bounds) {
  if (!r.has(key)) return {};
  const std::vector<double> values = r.reals(key, bounds);
  if (values.size() != 2 || values[0] > values[1])
    r.fail("file.out-of-range", key, number_as_typed(values.empty() ? 0 : values[0]), "[least, most]");
  return {values[0], values[1]};
}

Date date_of(Reader& r, const std::string& key, const std::string& text, Date today) {
  const auto date = read_date(text);
  if (!date) r.fail("file.out-of-range", key, text.substr(0, 40), "a day as 2025-03-10");
  if (*date > today) r.fail("file.out-of-range", key, text, "a day that is not in the future");
  return *date;
}

std::vector<Date> dates_of(Reader& r, const std::string& key, Date today) {
  std::vector<Date> dates;
  if (r.has(key))
    for (const std::string& text : r.texts(key)) dates.push_back(date_of(r, key, text, today));
  return dates;
}

JointForm form_of(Reader& r) {
  const std::string form = r.choice("form", {"butt", "fillet", "branch"});
  return form == "butt" ? JointForm::butt : form == "fillet" ? JointForm::fillet : JointForm::branch;
}

// Both parts' groups of ISO/TR 15608, each one that there is.
std::vector<std::string> groups_of(Reader& r) {
  const std::vector<std::string> groups = r.texts("groups");
  if (groups.size() != 2)
    r.fail("file.out-of-range", "groups", std::to_string(groups.size()), "two groups of ISO/TR 15608");
  for (const std::string& g : groups)
    if (!is_group(g))
      r.fail("file.unknown-id", "groups", g.substr(0, 40),
             "a group of ISO/TR 15608, such as " + published::nearest(g, steel_groups()));
  return groups;
}

std::vector<std::string> positions_of(Reader& r, const std::string& process) {
  std::vector<std::string> all = known_positions(r);
  for (const std::string& p : all)
    if (!can_weld(process, p))
      r.fail("file.out-of-range", "positions", p, "a position of process " + process);
  return all;
}

void read_sides(Reader& r, bool& both, bool& backed, bool& gas) {
  both = r.choice("sides", {"one", "both"}) == "both";
  const std::string backing = r.choice("backing", {"none", "material", "gas"});
  backed = backing == "material";
  gas = backing == "gas";
}

WeldedPass read_pass(Reader r) {
  WeldedPass p;
  p.speed_mm_s = r.real("speed_mm_s", {0.01, 1000});
  p.power_w = r.real_or_none("power_w", {0.1, 1e5});
  if (!(p.power_w > 0) || r.has("amperes") || r.has("volts")) {
    p.amperes = r.real("amperes", {0.1, 2000});
    p.volts = r.real("volts", {0.1, 100});
  }
  r.finish();
  return p;
}

Examination read_examination(Reader r, Date today) {
  Examination e;
  e.method = r.choice("method", {"VT", "PT", "MT", "RT", "UT", "tensile", "bend"});
  e.accepted = r.choice("result", {"accept", "reject"}) == "accept";
  e.by = r.text_or("by", "");
  e.file = r.text_or("file", "");
  if (r.has("date")) e.on = date_of(r, "date", r.text("date"), today);
  for (const toml::table* t : r.tables("finding")) {
    Reader f = r.sub_reader("finding", *t);
    e.findings.push_back({f.text("imperfection"), f.real("value_mm", {0, 1000})});
    f.finish();
  }
  if (e.method == "tensile") {
    e.strength_mpa = r.reals("strength_mpa", {1, 3000});
    e.least_strength_mpa = r.real("least_strength_mpa", {1, 3000});
  }
  if (e.method == "bend") {
    e.bend_deg = r.reals("bend_deg", {0, 180});
    e.flaw_mm = r.reals("flaw_mm", {0, 1000});
    if (e.bend_deg.size() != e.flaw_mm.size())
      r.fail("file.out-of-range", "flaw_mm", std::to_string(e.flaw_mm.size()), std::to_string(e.bend_deg.size()));
  }
  r.finish();
  return e;
}

Record read_record(Reader r, Date today, TestReport& test) {
  Record record;
  record.id = r.id("id");
  record.edition = static_cast<int>(r.real("edition", {2004, 2030}));
  record.level = static_cast<int>(r.real("level", {1, 2}));
  record.pre_production = r.has("route") && r.choice("route", {"15614-1", "15613"}) == "15613";
  record.signed_off = !r.text_or("signed_by", "").empty();
  record.date = date_of(r, "date", r.text("date"), today);
  if (r.has("hardness_hv10")) record.hardness_hv10 = r.reals("hardness_hv10", {80, 1000});
  record.hardness_tested = r.flag_or("hardness_tested", !record.hardness_hv10.empty());
  record.impact_tested = r.flag_or("impact_tested", false);
  Variables& v = record.tested;
  v.process = r.choice("process", processes);
  v.mechanisation = r.choice("mechanisation", {"manual", "partly-mechanised", "mechanised", "automatic"});
  const std::vector<std::string> groups = groups_of(r);
  v.first_group = groups[0];
  v.second_group = groups[1];
  v.first_yield_mpa = r.real_or_none("first_yield_mpa", {1, 3000});
  v.second_yield_mpa = r.real_or_none("second_yield_mpa", {1, 3000});
  v.form = form_of(r);
  v.single_run = r.choice("run_type", {"single", "multi"}) == "single";
  read_sides(r, v.both_sides, v.backed, v.gas_backed);
  v.thickness_mm = r.real("wall_mm", positive);
  v.other_thickness_mm = r.real_or_none("other_wall_mm", positive);
  v.diameter_mm = r.real_or_none("diameter_mm", positive);
  v.other_diameter_mm = r.real_or_none("other_diameter_mm", positive);
  v.branch_angle_deg = r.real_or_none("angle_deg", {1, 90});
  v.throat_mm = r.real_or_none("throat_mm", positive);
  v.filler = r.text("filler");
  v.gas = r.text("gas");
  v.current = r.text("current");
  v.positions = positions_of(r, v.process);
  v.preheat_c = r.real("preheat_c", {-50, 500});
  v.interpass_c = r.real("interpass_c", {0, 500});
  v.heat_kj_mm = r.real("heat_kj_mm", {1e-3, 10});
  for (const std::string& word : test_words) test.stated[word] = r.text_or(word, "");
  for (const toml::table* t : r.tables("pass")) test.passes.push_back(read_pass(r.sub_reader("pass", *t)));
  r.finish();
  return record;
}

Macro read_macro(Reader r) {
  Macro m;
  m.id = r.id("id");
  m.fused = r.choice("root", {"fused", "not-fused"}) == "fused";
  if (r.has("place")) m.place = r.choice("place", {"crown", "saddle"});
  m.leg_mm = r.real_or_none("leg_mm", positive);
  m.throat_mm = r.real_or_none("throat_mm", positive);
  m.penetration_mm = r.real_or_none("penetration_mm", positive);
  m.by = r.text_or("by", "");
  m.file = r.text_or("file", "");
  r.finish();
  return m;
}

procedure::Chemistry read_chemistry(Reader r) {
  procedure::Chemistry x;
  const std::pair<const char*, double procedure::Chemistry::*> elements[] = {
      {"C", &procedure::Chemistry::c},   {"Si", &procedure::Chemistry::si}, {"Mn", &procedure::Chemistry::mn},
      {"P", &procedure::Chemistry::p},   {"S", &procedure::Chemistry::s},   {"Cr", &procedure::Chemistry::cr},
      {"Mo", &procedure::Chemistry::mo}, {"Ni", &procedure::Chemistry::ni}, {"Cu", &procedure::Chemistry::cu},
      {"V", &procedure::Chemistry::v},   {"Nb", &procedure::Chemistry::nb}, {"Ti", &procedure::Chemistry::ti},
      {"B", &procedure::Chemistry::b}};
  // These five decide how hard a zone becomes: one that is left out would count as none.
  const std::set<std::string> needed{"C", "Si", "Mn", "Cr", "Mo"};
  for (const auto& [name, member] : elements)
    x.*member = needed.contains(name) ? r.real(name, {0, 30}) : r.real_or_none(name, {0, 30});
  r.finish();
  return x;
}

Sheet read_sheet(Reader& r) {
  Sheet s;
  s.id = r.id("id");
  s.revision = r.text_or("revision", "");
  s.name = r.text_or("name", "");
  s.maker = r.text_or("maker", "");
  s.record = r.text_or("record", "");
  s.process = r.choice("process", processes);
  s.mechanisation = r.text_or("mechanisation", "");
  s.form = form_of(r);
  s.single_run = r.choice("run_type", {"single", "multi"}) == "single";
  read_sides(r, s.both_sides, s.backed, s.gas_backed);
  if (r.has("groups")) s.groups = groups_of(r);
  s.first_yield_mpa = r.real_or_none("first_yield_mpa", {1, 3000});
  s.second_yield_mpa = r.real_or_none("second_yield_mpa", {1, 3000});
  s.wall_mm = span_of(r, "wall_mm", positive);
  s.other_wall_mm = span_of(r, "other_wall_mm", positive);
  s.diameter_mm = span_of(r, "diameter_mm", positive);
  s.other_diameter_mm = span_of(r, "other_diameter_mm", positive);
  s.angle_deg = span_of(r, "angle_deg", {1, 90});
  s.throat_mm = span_of(r, "throat_mm", positive);
  if (r.has("positions")) s.positions = positions_of(r, s.process);
  s.filler = r.text_or("filler", "");
  s.filler_kind = r.text_or("filler_kind", "");
  if (!s.filler.empty()) s.filler_group = static_cast<int>(r.real("filler_group", {1, 6}));
  s.gas = r.text_or("gas", "");
  s.current = r.text_or("current", "");
  s.preheat_c = r.real_or_none("preheat_c", {-50, 500});
  s.interpass_c = r.real_or_none("interpass_c", {0, 500});
  if (r.has("testing"))
    for (const std::string& method : r.texts("testing")) {
      if (method != "PT" && method != "MT" && method != "RT" && method != "UT")
        r.fail("file.out-of-range", "testing", method.substr(0, 40), "PT, MT, RT, UT; VT is always done");
      s.testing.push_back(method);
    }
  s.node_rule_waived = r.text_or("node_rule_waived", "");
  for (const std::string& word : words) s.stated_keys[word] = r.text_or(word, "");
  for (const toml::table* t : r.tables("run")) {
    Reader run = r.sub_reader("run", *t);
    s.runs.push_back({static_cast<int>(run.real("number", {1, 100})), span_of(run, "amperes", {0.1, 2000}),
                      span_of(run, "volts", {0.1, 100}), span_of(run, "speed_mm_s", {0.01, 1000}),
                      span_of(run, "power_w", {0.1, 1e5})});
    run.finish();
  }
  return s;
}

}  // namespace

std::vector<std::string> known_positions(Reader& r) {
  std::vector<std::string> all = r.texts("positions");
  for (const std::string& p : all)
    if (std::find(positions_of_iso_6947.begin(), positions_of_iso_6947.end(), p) ==
        positions_of_iso_6947.end())
      r.fail("file.unknown-id", "positions", p.substr(0, 40), published::nearest(p, positions_of_iso_6947));
  return all;
}

ProcedureFile read_procedure(const SourceFile& source, Date today) {
  const toml::table table = parse(source.name, read_text(source));
  Reader root(source, "procedure", table, nullptr, nullptr);
  root.choice("format", {"seamwright.procedure/1"});
  root.text_or("note", "");
  ProcedureFile file;
  file.path = source.name;
  file.sheet = read_sheet(root);
  file.hydrogen_ml = root.real_or_none("hydrogen_ml", {0.1, 50});
  for (const toml::table* t : root.tables("qualification"))
    file.record = read_record(root.sub_reader("qualification", *t), today, file.test);
  for (const toml::table* t : root.tables("chemistry"))
    file.steel = read_chemistry(root.sub_reader("chemistry", *t));
  for (const toml::table* t : root.tables("examination"))
    file.test.examinations.push_back(read_examination(root.sub_reader("examination", *t), today));
  for (const toml::table* t : root.tables("macro"))
    file.test.macros.push_back(read_macro(root.sub_reader("macro", *t)));
  root.finish();
  if (file.record && file.record->id != file.sheet.record)
    root.fail("file.unknown-id", "record", file.sheet.record, file.record->id);
  return file;
}

std::vector<ProcedureFile> read_procedures(const SourceFile& folder, Date today) {
  std::vector<ProcedureFile> all;
  for (const SourceFile& file : folder.files_in(".toml")) {
    all.push_back(read_procedure(file, today));
    for (std::size_t i = 0; i + 1 < all.size(); ++i)
      if (all[i].sheet.id == all.back().sheet.id)
        throw Fault{
            Message{"procedure.doubled",
                    {text("file", file.name), text("id", all.back().sheet.id), text("other", all[i].path)}}};
  }
  return all;
}

namespace {

// Cooling and hardness at a heat on a wall: the zone of a fillet is on a tee, that of a butt weld on a plate.
procedure::Hardness hardness_at(const ProcedureFile& file, double heat, double wall) {
  const double preheat = file.sheet.preheat_c;
  const double start = std::clamp(preheat > 0 ? preheat : 20, 0.0, 300.0);
  const char* shape = file.sheet.form == JointForm::butt ? "butt" : "fillet-tee";
  const procedure::Cooling c = procedure::cooling_time(heat, start, wall, procedure::shape_factors(shape));
  procedure::Hardness h = procedure::peak_hardness(*file.steel, c.seconds);
  h.evidence.because = {c.evidence};
  return h;
}

// Adds what can be told, and gives the hardness foretold where the zone is hardest.
std::optional<double> add_evidence(ProcedureNumbers& n, const ProcedureFile& file) {
  if (!file.steel) return std::nullopt;
  const Sheet& s = file.sheet;
  const procedure::Equivalent cet = procedure::cet(*file.steel);
  n.evidence = {procedure::ce_iiw(*file.steel).evidence, cet.evidence, procedure::pcm(*file.steel).evidence};
  const double thick = std::max(s.wall_mm.most, s.other_wall_mm.most), thin = s.wall_mm.least;
  if (!(n.lowest_heat > 0) || !(thin > 0)) return std::nullopt;
  const procedure::Hardness hard = hardness_at(file, n.lowest_heat, thick);
  n.evidence.push_back(hard.evidence);
  n.evidence.push_back(hardness_at(file, n.highest_heat, thin).evidence);
  if (file.hydrogen_ml > 0 && s.first_yield_mpa > 0)
    n.evidence.push_back(
        procedure::preheat_cet(cet.value, thick, file.hydrogen_ml, n.highest_heat, s.first_yield_mpa)
            .evidence);
  return hard.highest;
}

}  // namespace

ProcedureNumbers numbers_of(const ProcedureFile& file) {
  const Sheet& s = file.sheet;
  ProcedureNumbers n;
  for (const Run& run : s.runs) {
    const RunHeat heat = heat_of(s, run);
    n.runs.push_back(heat);
    if (!(heat.lowest > 0)) continue;
    n.lowest_heat = n.lowest_heat > 0 ? std::min(n.lowest_heat, heat.lowest) : heat.lowest;
    n.highest_heat = std::max(n.highest_heat, heat.highest);
  }
  const Record* record = file.record ? &*file.record : nullptr;
  const std::optional<double> foretold = add_evidence(n, file);
  n.hardness = {hardness_item(s, record, foretold)};
  n.plausibility = plausibility(s, record, file.steel ? &*file.steel : nullptr);
  n.node = node_rule(s, record, file.test.macros);
  if (record) n.examined = qualification::examined(*record, file.test, published::catalog().imperfections);
  return n;
}

Check qualified(const ProcedureFile& file, const ProcedureNumbers& n) {
  Check all;
  if (file.record) all = record_covers(*file.record, file.sheet, n.lowest_heat, n.highest_heat);
  for (const Check* more : {&n.examined, &n.hardness, &n.plausibility, &n.node})
    all.insert(all.end(), more->begin(), more->end());
  return all;
}

namespace {

// Two welds of route b, or the new piece of route a, each with its day and method; the name of the file that holds their records.
qualification::Prolongation read_prolongation(Reader r, Date today) {
  qualification::Prolongation p;
  p.on = date_of(r, "on", r.text("on"), today);
  const std::vector<Date> days = r.has("tested") ? dates_of(r, "tested", today) : std::vector<Date>{};
  const std::vector<std::string> methods = r.has("methods") ? r.texts("methods") : std::vector<std::string>{};
  if (days.size() != methods.size())
    r.fail("file.out-of-range", "methods", std::to_string(methods.size()), "one of RT, UT, destructive for each day in tested");
  for (std::size_t i = 0; i < days.size(); ++i) {
    if (methods[i] != "RT" && methods[i] != "UT" && methods[i] != "destructive")
      r.fail("file.out-of-range", "methods", methods[i].substr(0, 40), "RT, UT, destructive");
    p.tested.push_back({days[i], methods[i]});
  }
  p.attached = !r.text_or("file", "").empty();
  r.finish();
  return p;
}

}  // namespace

Certificates read_certificates(const SourceFile& file, Date today) {
  const toml::table table = parse(file.name, read_text(file));
  Reader root(file, "certificates", table, nullptr, nullptr);
  root.choice("format", {"seamwright.certificates/1"});
  root.text_or("note", "");
  Certificates out;
  out.employer = root.text("employer");
  for (const toml::table* t : root.tables("certificate")) {
    Reader r = root.sub_reader("certificate", *t);
    Certificate c;
    c.id = r.id("id");
    c.welder = r.text("welder");
    c.employer = r.text_or("employer", out.employer);
    const std::string designation = r.text("designation");
    try {
      c.designation = read_designation(designation);
    } catch (const Fault&) {
      r.fail("file.out-of-range", "designation", designation.substr(0, 120), "a designation of ISO 9606-1");
    }
    c.supplementary_fillet.welded = r.flag_or("supplementary_fillet", false);
    if (c.supplementary_fillet.welded && r.has("supplementary_fillet_mm"))
      c.supplementary_fillet.wall_mm = r.real("supplementary_fillet_mm", {0.5, 100});
    c.revoked = r.flag_or("revoked", false);
    c.tested = date_of(r, "tested", r.text("tested"), today);
    c.route = r.choice("route", {"a", "b", "c"})[0];
    c.confirmed = dates_of(r, "confirmed", today);
    for (const Date& day : dates_of(r, "prolonged", today)) c.prolonged.push_back({day});
    for (const toml::table* p : r.tables("prolongation")) c.prolonged.push_back(read_prolongation(r.sub_reader("prolongation", *p), today));
    if (r.has("job_knowledge")) c.job_knowledge = r.choice("job_knowledge", {"tested", "not-tested"});
    c.examiner = r.text_or("examiner", "");
    if (r.has("quality_programme")) c.quality_programme = r.choice("quality_programme", {"3834-2", "3834-3", "3834-4"});
    c.quality_record = r.text_or("quality_record", "");
    r.finish();
    for (const Certificate& other : out.all)
      if (other.id == c.id) r.fail("file.doubled-id", "id", c.id, "an id of its own");
    out.all.push_back(std::move(c));
  }
  for (const toml::table* t : root.tables("tool")) {
    Reader r = root.sub_reader("tool", *t);
    Tool tool{r.id("id"), r.text("name"), {}};
    const std::string due = r.text("due");
    const auto date = read_date(due);  // may well lie ahead
    if (!date) r.fail("file.out-of-range", "due", due.substr(0, 40), "a day as 2025-03-10");
    tool.due = *date;
    r.finish();
    out.tools.push_back(std::move(tool));
  }
  root.finish();
  return out;
}

JointSizes sizes_of(const design::Design& design, const joints::Weld& weld) {
  JointSizes s;
  s.throat_mm = weld.throat_mm;
  s.positions = weld.positions;
  const frame::Frame& f = design.frame;
  const frame::RoundTube* brace = weld.member.empty() ? nullptr : design::round_tube(f, weld.member);
  const frame::RoundTube* chord = weld.chord.empty() ? nullptr : design::round_tube(f, weld.chord);
  switch (weld.layout) {
    case joints::Layout::tube_on_tube:
      s.form = JointForm::branch;
      s.angle_deg = design::seat_of(f, weld).angle_deg;
      break;
    case joints::Layout::tube_end:
      s.form = weld.kind == "tube-splice" || weld.kind == "tube-mitre" || weld.kind == "platform-corner"
                   ? JointForm::butt
                   : JointForm::fillet;
      break;
    case joints::Layout::slotted:
    case joints::Layout::plate_on_tube:
    case joints::Layout::unwelded:
      s.form = JointForm::fillet;
      break;
  }
  const bool plate = weld.layout == joints::Layout::plate_on_tube;
  if (brace && !plate) {
    s.wall_mm = brace->wall_mm;
    s.diameter_mm = brace->diameter_mm;
  } else if (plate) {
    s.wall_mm = weld.plate_mm;
    s.diameter_mm = chord ? chord->diameter_mm : 0;
  }
  if (chord) {
    s.other_wall_mm = chord->wall_mm;
    if (!plate) s.other_diameter_mm = chord->diameter_mm;
  }
  return s;
}

}  // namespace seamwright::files
