// SPDX-License-Identifier: GPL-3.0-or-later
// A record entered as it was welded and examined: what it proves is what the reader and the checks make of its text, and what is left out
// proves nothing. Ranges and examinations of ISO 15614-1:2017, level 2 [from memory].
#include "catalog/files/begin_record.h"

#include <algorithm>

#include "catalog/files/begin_procedure.h"
#include "tests/catalog/files/own_job.h"

using namespace seamwright;
using namespace own_job;
using qualification::Answer;

namespace {

struct Begun {
  OwnJob job;
  files::ProcedureFile procedure;
  std::string content;
  Begun() {
    files::NewProcedure wanted;
    wanted.id = "OWN";
    wanted.welds = job.welds(qualification::JointForm::branch, 8);
    const std::string path = files::begin_procedure(job.path, wanted);
    procedure = files::read_procedure(path, on);
    content = files::read_text(path);
  }
  // The piece as planned, welded in the middle of every band and found good.
  files::NewRecord good() const {
    files::NewRecord r = files::expected_record(job.path, procedure, on);
    r.signed_by = "examiner";
    r.record.hardness_hv10 = {210, 305, 320, 240, 310, 318, 215};
    r.chemistry = {{"C", 0.255}, {"Si", 0.25}, {"Mn", 0.75}, {"Cr", 1.05}, {"Mo", 0.225}};  // middle of 25CrMo4, EN 10305-1 [from memory]
    r.test.stated = {{"heat", "H-1"}, {"filler_batch", "F-1"}, {"witnessed_by", "examiner"}};
    for (const qualification::Run& run : procedure.sheet.runs)
      r.test.passes.push_back({run.amperes.least, run.volts.least, run.speed_mm_s.most});
    for (const char* method : {"VT", "PT", "RT"}) {
      qualification::Examination e;
      e.method = method;
      e.accepted = true;
      e.by = "laboratory";
      if (e.method == "VT") e.findings = {{"5011", 0}};
      r.test.examinations.push_back(e);
    }
    for (const char* place : {"crown", "crown", "saddle", "saddle"})
      r.test.macros.push_back({"M" + std::to_string(r.test.macros.size() + 1), true, place, 3.4, 2.5, "laboratory"});
    return r;
  }
  files::ProcedureFile read(const files::NewRecord& r) const {
    return files::procedure_of_text(procedure.path, files::text_with_record(content, procedure, r), on);
  }
  Answer answer(const files::NewRecord& r) const {
    const files::ProcedureFile p = read(r);
    const qualification::Check check = files::qualified(p, files::numbers_of(p));
    if (const auto* reason = qualification::first_reason(check)) UNSCOPED_INFO(reason->item << " " << reason->found << " / " << reason->covered);
    return verdict(check);
  }
};

}  // namespace

TEST_CASE("a whole record of the planned piece qualifies the procedure, and each part that is left out undoes it") {
  const Begun b;
  const files::NewRecord good = b.good();
  CHECK(b.answer(good) == Answer::yes);
  const files::ProcedureFile p = b.read(good);
  CHECK(p.sheet.record == good.id);
  CHECK(p.test.macros.size() == 4);
  CHECK(p.record->tested.heat_kj_mm == Approx(qualification::heats_of("141", good.test.passes).least).epsilon(1e-3));
  // The procedure's own lines stay as they were.
  for (const auto& line : {"gap = \"0.5 mm by spacers", "# [chemistry]"})
    CHECK(files::text_with_record(b.content, b.procedure, good).find(line) != std::string::npos);
  const auto without = [&](const std::function<void(files::NewRecord&)>& change) {
    files::NewRecord r = good;
    change(r);
    return b.answer(r);
  };
  CHECK(without([](auto& r) { r.signed_by.clear(); }) == Answer::no);
  CHECK(without([](auto& r) { r.record.hardness_hv10.clear(); }) != Answer::yes);
  CHECK(without([](auto& r) { r.chemistry.clear(); }) != Answer::yes);
  CHECK(without([](auto& r) { r.record.hardness_hv10[2] = 420; }) == Answer::no);  // limit 380 HV10 of group 5
  CHECK(without([](auto& r) { r.test.macros.clear(); }) != Answer::yes);
  CHECK(without([](auto& r) { r.test.macros.resize(2); }) != Answer::yes);  // none at a saddle
  CHECK(without([](auto& r) { r.test.stated.erase("heat"); }) != Answer::yes);
  CHECK(without([](auto& r) { r.test.stated.erase("witnessed_by"); }) != Answer::yes);
  CHECK(without([](auto& r) { r.test.examinations[0].findings.clear(); }) != Answer::yes);
  CHECK(without([](auto& r) { r.test.examinations[0].findings[0].value_mm = 1; }) == Answer::no);
  CHECK(without([](auto& r) { r.test.examinations[1].accepted = false; }) == Answer::no);
  for (std::size_t i = 0; i < 2; ++i)  // visual and surface testing; no radiograph is asked of a tube of 50 mm or less
    CHECK(without([&](auto& r) { r.test.examinations.erase(r.test.examinations.begin() + static_cast<std::ptrdiff_t>(i)); }) != Answer::yes);
  // A colder pass that is left out narrows the range: the sheet's lowest heat is then beyond it.
  CHECK(without([](auto& r) { r.test.passes = {{200, 11, 1.4}}; }) == Answer::no);
}

TEST_CASE("a record that does not stand is refused with its reason, and no file changes") {
  const Begun b;
  const auto refused = [&](const std::function<void(files::NewRecord&)>& change) {
    files::NewRecord r = b.good();
    change(r);
    return fault_of([&] { b.read(r); });
  };
  CHECK(refused([](auto& r) { r.test.passes.clear(); }) == "record.no-pass");
  CHECK(refused([](auto& r) { r.test.passes[0].speed_mm_s = 0; }) != "");
  CHECK(refused([](auto& r) { r.chemistry.pop_back(); }) != "");  // what is left out would count as none
  CHECK(refused([](auto& r) { r.date = "2199-01-01"; }) != "");
  CHECK(refused([](auto& r) { r.date = "yesterday"; }) != "");
  CHECK(refused([](auto& r) { r.id = "a b"; }) != "");
  CHECK(refused([](auto& r) { r.id.clear(); }) != "");
  CHECK(refused([](auto& r) { r.record.tested.positions = {"PX"}; }) != "");
  CHECK(refused([](auto& r) { r.record.tested.thickness_mm = 0; }) != "");
  CHECK(refused([](auto& r) { r.record.hardness_hv10 = {5}; }) != "");
  CHECK(refused([](auto& r) { r.test.stated["heat"] = "two\nlines and a \" mark"; }) == "");  // a text like any other
  CHECK(files::read_text(b.procedure.path) == b.content);
  // A second record never stands beside the first.
  const files::ProcedureFile with = b.read(b.good());
  CHECK(fault_of([&] { files::text_with_record(files::text_with_record(b.content, b.procedure, b.good()), with, b.good()); }) == "record.exists");
}

TEST_CASE("sizes of a procedure may become what its record reaches, and never more") {
  const Begun b;
  files::NewRecord r = b.good();
  r.takes_ranges = true;
  const files::ProcedureFile p = b.read(r);
  const qualification::Reach reach = qualification::reach_of(*p.record);
  CHECK(p.sheet.wall_mm.least >= reach.wall_mm.least);
  CHECK(p.sheet.wall_mm.most <= reach.wall_mm.most);
  CHECK(p.sheet.wall_mm.least < b.procedure.sheet.wall_mm.most);
  CHECK(p.sheet.angle_deg.least >= reach.angle_deg.least);
  CHECK(p.sheet.diameter_mm.least >= reach.diameter_mm.least);
  CHECK(b.answer(r) == Answer::yes);
  // Table 7 of ISO 15614-1:2017, several passes, up to 3 mm [from memory]: 0.7 t to 2 t.
  const double t = p.record->tested.thickness_mm;
  REQUIRE(t <= 3);
  CHECK(reach.wall_mm.least == Approx(0.7 * t));
  CHECK(reach.wall_mm.most == Approx(2 * t));
}
