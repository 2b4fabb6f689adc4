// SPDX-License-Identifier: GPL-3.0-or-later
// testplan: which test confirms what.
#include <filesystem>
#include <memory>

#include "app/cli/commands.h"
#include "app/cli/joint_models.h"
#include "app/cli/progress_bar.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/planned_tests.h"
#include "catalog/files/source.h"
#include "catalog/models/user_counts.h"
#include "catalog/published/published_data.h"
#include "engine/rating/memory.h"
#include "engine/rating/rate.h"
#include "reports/content/test_plan_blocks.h"
#include "reports/render/json.h"
#include "reports/render/render.h"
#include "reports/sheets/sheets.h"

namespace seamwright::cli {

namespace {

struct TestPlanOptions {
  std::string job, duty, method = "time", out;
  study::TestWishes wishes;
  bool json = false;
};

int test_plan(const TestPlanOptions& o, const Session& session) {
  const auto ending = std::filesystem::path(o.out).extension();
  if (!o.out.empty() && ending != ".pdf" && ending != ".html") throw usage_fault("usage.page-name");
  rating::Job job = files::read_job(o.job, o.duty, published::catalog());
  for (const std::string& weld : o.wishes.welds) files::weld_of(job.design, weld);  // with the nearest where there is none
  add_joint_models(job, session.language);
  rating::Memory memory;
  rating::Rating rating;
  {
    Bar bar;
    models::UserCounts counts;
    rating = rating::rate(job, published::catalog().data, o.method == "time" ? rating::Method::time : rating::Method::spectral, bar.progress(), {},
                          {&counts, &memory});
  }
  const reports::TestPlanReport report{rating.design.name + " " + rating.design.revision, o.job, rating.service_km,
                                       files::planned_tests(job, rating, files::design_path(o.job), o.wishes, memory)};
  reports::Document d = reports::test_plan_document(report);
  reports::add_design_foot(d, job.design);
  if (ending == ".pdf") write_pdf(o.out, d, session);
  if (ending == ".html") files::write_text(o.out, reports::to_html(d, session.language));
  if (o.json)
    print(reports::to_json(report));
  else
    print(d, session);
  return report.tests.plan.tests.empty() ? 1 : 0;
}

}  // namespace

void add_testplan(CLI::App& app, Session& session) {
  auto o = std::make_shared<TestPlanOptions>();
  CLI::App* c = app.add_subcommand("testplan", "Plan tests and state what each confirms: test pieces of the governing joints, a frame on a rig, a ride with strain gauges");
  c->add_option("job", o->job, "job folder or design file")->required();
  c->add_option("--duty", o->duty, "duty file in place of the job's");
  c->add_option("--weld", o->wishes.welds, "weld to test, in place of the three that crack first; may be given several times");
  c->add_option("--pieces", o->wishes.pieces, "number of test pieces of each joint")->check(CLI::Range(6, 100))->capture_default_str();
  c->add_option("--cycles", o->wishes.cycles, "predicted median number of cycles for which the force is set")->check(CLI::Range(1e4, 2e6))->capture_default_str();
  c->add_option("--ratio", o->wishes.ratio, "ratio of the smallest to the largest force")->check(CLI::Range(0.0, 0.9))->capture_default_str();
  c->add_option("--method", o->method, "method of the rating: time or spectral")->check(CLI::IsMember({"time", "spectral"}))->capture_default_str();
  c->add_option("--out", o->out, "also write sheets: .pdf or .html");
  c->add_flag("--json", o->json, "one JSON document on stdout");
  c->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return test_plan(*o, session); }); };
  });
}

}  // namespace seamwright::cli
