// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/test_piece_plan.h"

#include <algorithm>

#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"

namespace seamwright::files {

using qualification::Date;

TestPieceReport test_piece_report(const std::string& job, Date today) {
  const design::Design design = read_design(design_path(job), published::catalog());
  const std::vector<ProcedureFile> procedures = read_procedures(path_beside_job(job, "procedures"), today);
  std::vector<qualification::PlannedWeld> planned;
  TestPieceReport report;
  for (const joints::Weld& weld : design.welds) {
    const auto file = std::find_if(procedures.begin(), procedures.end(), [&](const ProcedureFile& p) { return p.sheet.id == weld.procedure; });
    qualification::PlannedWeld w{weld.id, nullptr, sizes_of(design, weld), 0, 0};
    if (file != procedures.end()) {
      const ProcedureNumbers numbers = numbers_of(*file);
      w.sheet = &file->sheet;
      w.lowest_heat = numbers.lowest_heat;
      w.highest_heat = numbers.highest_heat;
    }
    report.welds.push_back(weld.id);
    planned.push_back(std::move(w));
  }
  report.procedures = qualification::procedure_pieces(planned);
  report.welders = qualification::welder_pieces(planned);
  return report;
}

namespace {

int days_between(Date from, Date to) {
  return static_cast<int>((std::chrono::sys_days(to) - std::chrono::sys_days(from)).count());
}

}  // namespace

std::vector<DueRow> due_rows(const std::string& job, Date day, Date today) {
  const Certificates all = read_certificates(path_beside_job(job, "certificates.toml"), std::max(day, today));
  std::vector<DueRow> rows;
  for (const qualification::Certificate& c : all.all)
    for (const qualification::Due& due : qualification::due_of(c, day))
      rows.push_back({due.prolongs ? DueRow::What::prolongation : DueRow::What::confirmation, c.id, c.welder, due.on, due.lapsed,
                      days_between(day, due.on)});
  for (const Tool& tool : all.tools)
    rows.push_back({DueRow::What::calibration, tool.id, tool.name, tool.due, tool.due < day, days_between(day, tool.due)});
  std::stable_sort(rows.begin(), rows.end(), [](const DueRow& a, const DueRow& b) { return a.on < b.on; });
  return rows;
}

}  // namespace seamwright::files
