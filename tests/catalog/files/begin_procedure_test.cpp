// SPDX-License-Identifier: GPL-3.0-or-later
// Procedures and certificates begun from a few words: they cover what they are for, claim nothing, and a fault leaves the folder as it was.
#include "catalog/files/begin_procedure.h"

#include <algorithm>

#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/test_piece_plan.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"
#include "tests/catalog/files/own_job.h"

using namespace seamwright;
using namespace own_job;

TEST_CASE("a procedure covers the welds that it is begun for, and claims nothing") {
  const OwnJob job;
  for (const files::ProcedureStart& start : files::procedure_starts) {
    INFO(start.id);
    files::NewProcedure wanted;
    wanted.id = std::string("OWN-") + start.id;
    wanted.name = "with \"quotes\" and \\";
    wanted.filler = "ER70S-2";
    wanted.like = start.id;
    wanted.welds = job.welds(qualification::JointForm::branch, 12);
    REQUIRE(wanted.welds.size() == 12);
    const std::string path = files::begin_procedure(job.path, wanted);
    const files::ProcedureFile file = files::read_procedure(path, on);
    CHECK(file.sheet.id == wanted.id);
    CHECK(file.sheet.name == wanted.name);
    CHECK(file.sheet.filler == "ER70S-2");
    CHECK_FALSE(file.record);
    CHECK(qualification::missing_items(file.sheet) == std::vector<std::string>{"record"});  // all else is stated
    for (const std::string& id : wanted.welds)
      CHECK(verdict(qualification::sheet_covers(file.sheet, files::sizes_of(job.design, files::weld_of(job.design, id)))) == qualification::Answer::yes);
    // Usual values: the settings of a start are none that the program itself calls unusual on these walls.
    CHECK(verdict(files::numbers_of(file).plausibility) != qualification::Answer::no);
    CHECK(fault_of([&] { files::begin_procedure(job.path, wanted); }) == "procedure.doubled");
  }
}

TEST_CASE("what cannot be a procedure is refused, and nothing is written") {
  const OwnJob job;
  const auto files_there = [&] { return std::distance(std::filesystem::directory_iterator(job.path + "/procedures"), {}); };
  const auto before = files_there();
  files::NewProcedure wanted;
  wanted.id = "OWN";
  CHECK(fault_of([&] { files::begin_procedure(job.path, wanted); }) == "start.no-weld");
  wanted.welds = {"W999"};
  CHECK(fault_of([&] { files::begin_procedure(job.path, wanted); }) == "rating.unknown-weld");
  wanted.welds = job.welds(qualification::JointForm::branch, 1);
  wanted.like = "none";
  CHECK(fault_of([&] { files::begin_procedure(job.path, wanted); }) == "start.unknown");
  wanted.like = "tig-thin";
  wanted.id = "../OWN";
  CHECK_FALSE(fault_of([&] { files::begin_procedure(job.path, wanted); }).empty());
  wanted.id = "a b";
  CHECK_FALSE(fault_of([&] { files::begin_procedure(job.path, wanted); }).empty());
  wanted.id = "OWN";
  wanted.name = "two\nlines";
  CHECK_FALSE(fault_of([&] { files::begin_procedure(job.path, wanted); }).empty());
  CHECK(files_there() == before);
}

TEST_CASE("a certificate is added as it was typed, or the file stays as it was") {
  const OwnJob job;
  const std::string path = job.path + "/certificates.toml", before = files::read_text(path);
  files::NewCertificate wanted{"C-1", "W \"x\"", "ISO 9606-1 141 T BW FM1 S s2 D38 H-L045 ss nb", "2026-05-04", "b", ""};
  for (const auto& [member, wrong] : {std::pair(&files::NewCertificate::designation, "141 whatever"), std::pair(&files::NewCertificate::tested, "4 May"),
                                      std::pair(&files::NewCertificate::route, "d"), std::pair(&files::NewCertificate::id, "C 1")}) {
    files::NewCertificate bad = wanted;
    bad.*member = wrong;
    CHECK_FALSE(fault_of([&] { files::add_certificate(job.path, bad); }).empty());
    CHECK(files::read_text(path) == before);
  }
  files::add_certificate(job.path, wanted);
  const auto all = files::read_certificates(path, on).all;
  REQUIRE(all.size() == 1);
  CHECK(all[0].welder == "W \"x\"");
  CHECK_FALSE(fault_of([&] { files::add_certificate(job.path, wanted); }).empty());  // the id is taken
  const auto due = files::due_rows(job.path, on, on);
  REQUIRE(due.size() == 2);
  CHECK(qualification::text_of(due[0].on) == "2026-11-04");
  CHECK(due[0].lapsed);
  CHECK(due[0].days == -16);
}

TEST_CASE("the plan of test pieces covers every weld of a new job, but for welders the flat branches") {
  const OwnJob job;
  const files::TestPieceReport r = files::test_piece_report(job.path, on);
  CHECK(r.welds.size() == job.design.welds.size());
  CHECK(r.procedures.open.empty());
  // A butt test of tube covers branches from 60 degrees on: what is left open are the flatter ones [ISO 9606-1, from memory].
  for (const auto& w : r.welders.open) {
    CHECK(w.reason.item == "weld");
    CHECK(files::sizes_of(job.design, job.design.welds[w.weld]).angle_deg < 60);
  }
  CHECK(r.procedures.proven);
  std::vector<bool> covered(r.welds.size());
  for (const auto& p : r.procedures.pieces)
    for (const std::size_t i : p.welds) covered[i] = true;
  CHECK(std::all_of(covered.begin(), covered.end(), [](bool c) { return c; }));
  CHECK(r.procedures.pieces.size() <= 6);
  CHECK(r.welders.pieces.size() <= 4);
}
