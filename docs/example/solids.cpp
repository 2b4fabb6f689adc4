// SPDX-License-Identifier: GPL-3.0-or-later
// The frame of a job as solids, by the worker program that is installed beside seamwright: solids JOB. Masses and weld
// metal, what is wrong with the shape, and a file for other programs.
#include <cstdio>

#include "catalog/files/job_reader.h"
#include "catalog/models/frame_solids.h"
#include "catalog/models/shape_report.h"
#include "catalog/models/user_modeller.h"
#include "catalog/published/published_data.h"
#include "engine/rating/job.h"
#include "engine/rating/progress.h"
#include "engine/shape/plan.h"

using namespace seamwright;

int main(int, char** arguments) {
  const rating::Job job = files::read_job(arguments[1], "", published::catalog());
  models::UserModeller modeller;
  const models::ShapeReport report = models::shape_report(modeller, job.design, {});
  std::printf("%zu parts, %.6g kg, by their axes %.6g kg; %zu seams, %.6g kg of weld metal\n", report.pieces.size(),
              report.mass.mass_kg, report.beam_kg, report.seams.size(), report.mass.weld_metal_kg);
  std::printf("%s: root of %.6g mm, %.6g mm3\n", report.seams[0].id.c_str(), report.seams[0].root_mm, report.seams[0].volume_mm3);
  for (const Message& m : report.findings) std::printf("wrong: %s\n", m.id.text());
  const shape::Plan plan = shape::plan_of(job.design);
  const models::BuiltFrame frame = models::frame_solids(modeller, plan, {});
  const std::string step = models::step_file(modeller, plan, frame, "frame", false, {});
  std::printf("exchange file: %.13s\n", step.c_str());
}
