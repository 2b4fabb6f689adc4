// SPDX-License-Identifier: GPL-3.0-or-later
// May this be welded so, and by whom: qualified JOB PROCEDURE WELD CERTIFICATE DAY. The rules are asked one
// by one, then all together as the files of the job state them.
#include <cstdio>

#include "catalog/files/job_checks.h"
#include "catalog/files/procedure_reader.h"
#include "engine/qualification/calendar.h"
#include "engine/qualification/procedure_check.h"
#include "engine/qualification/ranges.h"
#include "engine/qualification/welder.h"

using namespace seamwright;

int main(int, char** arguments) {
  const qualification::Designation test =
      qualification::read_designation("ISO 9606-1 141 T BW FM1 S s1.5 D28.6 H-L045 ss nb");
  qualification::Joint branch;
  branch.process = "141";
  branch.thickness_mm = 2;
  branch.diameter_mm = 25;
  branch.branch_angle_deg = 90;
  branch.position = "PH";
  const qualification::Check covered = qualification::covers(test, branch);
  std::printf("a branch of 25 x 2 mm: %s\n", name_of(qualification::verdict(covered)));
  const qualification::Range walls = qualification::wall_range_butt(1.5, true);
  std::printf("a procedure tested at 1.5 mm, single pass: %s\n", qualification::text_of(walls, "mm").c_str());

  const qualification::Date day = qualification::read_date(arguments[5]).value();
  const files::Certificates people =
      files::read_certificates(files::path_beside_job(arguments[1], "certificates.toml"), day);
  for (const qualification::Certificate& certificate : people.all)
    std::printf("%s holds to %s\n", certificate.id.c_str(),
                qualification::text_of(qualification::holds_to(certificate)).c_str());

  const files::ProcedureReport report = files::procedure_report({.file = arguments[2],
                                                                 .job = arguments[1],
                                                                 .weld = arguments[3],
                                                                 .certificate = arguments[4],
                                                                 .on = day,
                                                                 .today = day});
  for (const qualification::RunHeat& run : report.numbers.runs)
    std::printf("heat from %.6g to %.6g kJ/mm\n", run.lowest, run.highest);
  for (const qualification::Item& item : files::all_checks_of(report))
    if (item.answer != qualification::Answer::yes)
      std::printf("%s: %s (found %s, covered %s)\n", item.item.c_str(), name_of(item.answer),
                  item.found.c_str(), item.covered.c_str());
  std::printf("%s, weld %s: %s\n", report.file.sheet.id.c_str(), report.weld_id.c_str(),
              name_of(files::answer_of(report)));
}
