// SPDX-License-Identifier: GPL-3.0-or-later
// A finished frame against what its rating presumes: inspect JOB MEASURED DAY. First one limit by itself,
// then all findings, and the design as it was welded.
#include <cstdio>

#include "catalog/files/as_built.h"
#include "catalog/files/inspection_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/measured_reader.h"
#include "catalog/published/published_data.h"
#include "engine/inspection/limits.h"
#include "engine/qualification/calendar.h"

using namespace seamwright;

int main(int, char** arguments) {
  const published::Catalog& catalog = published::catalog();
  const inspection::Weld weld{.wall_mm = 4, .throat_mm = 3};
  const inspection::Imperfection* undercut = inspection::row_for(catalog.imperfections, "5011", weld);
  if (undercut == nullptr) return 1;
  std::printf("%s at level C, wall of 4 mm: %s\n", undercut->name.c_str(),
              files::limit_text(inspection::bound_of(*undercut, 'C', weld)).c_str());
  std::printf("1250 mm, class B: within %g mm\n", inspection::length_tolerance_mm(1250, 'B').value());

  const files::InspectionReport report =
      files::inspection_report({.job = arguments[1],
                                .duty = "",
                                .measured = arguments[2],
                                .spokes = "",
                                .today = *qualification::read_date(arguments[3])});
  for (const files::InspectedRow& row : report.rows)
    std::printf("%s %s: %g mm, limit %s, %s\n", row.finding.weld.c_str(), row.name.c_str(),
                row.finding.value_mm, row.limit.c_str(),
                row.judgement == inspection::Judgement::accepted ? "accepted" : "not accepted");
  std::printf("complete: %s\n", files::is_complete(report) ? "yes" : "no");

  design::Design design = files::read_design(files::design_file(arguments[1]), catalog);
  const files::AsBuilt built =
      files::apply_as_built(arguments[2], files::read_measured(arguments[2]), design);
  std::printf("as built: %zu sizes other than drawn\n", built.changed.size());
}
