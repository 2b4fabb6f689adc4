// SPDX-License-Identifier: GPL-3.0-or-later
// compare, influence, suggest and fit.
#include <algorithm>
#include <memory>

#include "app/cli/commands.h"
#include "app/cli/joint_models.h"
#include "app/cli/progress_bar.h"
#include "catalog/files/compared_jobs.h"
#include "catalog/files/details_reader.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"
#include "catalog/files/stock_reader.h"
#include "catalog/published/sha256.h"
#include "engine/rating/rate.h"
#include "reports/content/study_blocks.h"
#include "reports/render/json.h"
#include "reports/render/render.h"

namespace seamwright::cli {

namespace {

struct Output {
  std::string html;
  bool json = false;
};

template <typename Result>
void put_study_document(const Output& o, const reports::Document& document, const Result& result,
                        const Session& session) {
  write_and_show(
      [&] {
        if (!o.html.empty()) files::write_text(o.html, reports::to_html(document, session.language));
      },
      [&] {
        if (o.json)
          print(reports::to_json(result));
        else
          print(document, session);
      });
}

void add_output(CLI::App& command, Output& o) {
  command.add_flag("--json", o.json, "one JSON document on stdout");
  command.add_option("--html", o.html, "also write an HTML page");
}

struct CompareOptions {
  std::string first, second, duty, method = "spectral";
  bool equations = false, full = false;
  Output out;
};

int compare(const CompareOptions& o, const Session& session) {
  const published::Catalog& catalog = published::catalog();
  const auto method = o.method == "time" ? rating::Method::time : rating::Method::spectral;
  rating::Job a = files::read_job(o.first, o.duty, catalog), b = files::read_job(o.second, o.duty, catalog);
  if (!o.equations)
    for (rating::Job* job : {&a, &b}) add_joint_models(*job, session.language);
  const std::string first = files::design_path(o.first), second = files::design_path(o.second);
  files::ComparedJobs r;
  {
    Bar bar;
    r = files::compare_jobs({a, first, files::read_text(first)}, {b, second, files::read_text(second)},
                            method, bar.progress());
  }
  const reports::Document whole = reports::compare_document(r);
  if (o.out.json || o.full) put_study_document(o.out, whole, r, session);
  else {
    write_and_show(
        [&] {
          if (!o.out.html.empty()) files::write_text(o.out.html, reports::to_html(whole, session.language));
        },
        [&] { print(reports::brief_compare_document(r), session); });
  }
  return r.rated.second.verdict == rating::Verdict::meets ? 0 : 1;
}

struct InfluenceOptions {
  std::string job, duty;
  bool equations = false;
  Output out;
};

int influence(const InfluenceOptions& o, const Session& session) {
  rating::Job job = files::read_job(o.job, o.duty, published::catalog());
  if (!o.equations) add_joint_models(job, session.language, Variants::scaled);
  study::Influences all;
  {
    Bar bar;
    all = study::influences(job, published::catalog().data, bar.progress());
  }
  put_study_document(o.out, reports::influence_document(all), all, session);
  return 0;
}

struct SuggestOptions {
  std::string job, duty, weld, method = "time";
  bool equations = false;
  Output out;
};

int suggest(const SuggestOptions& o, const Session& session) {
  const published::Catalog& catalog = published::catalog();
  rating::Job job = files::read_job(o.job, o.duty, catalog);
  files::weld_of(job.design, o.weld);  // with the nearest where there is none
  if (!o.equations) add_joint_models(job, session.language, Variants::scaled);
  std::vector<frame::RoundTube> stock;
  for (const published::TubeSize& t : catalog.tubes) stock.push_back({t.diameter_mm, t.wall_mm});
  const std::optional<study::Stock> own = files::own_stock(files::design_file(o.job), catalog);
  std::vector<study::Suggestion> all;
  {
    Bar bar;
    all = study::suggestions(job, catalog.data, stock, o.weld,
                             o.method == "time" ? rating::Method::time : rating::Method::spectral,
                             bar.progress(), own ? &*own : nullptr);
  }
  put_study_document(o.out, reports::suggest_document(o.weld, all), all, session);
  return std::any_of(all.begin(), all.end(), [](const auto& s) { return s.meets; }) ? 0 : 1;
}

struct FitCommandOptions {
  std::string tests, write;
  double slope = 0;
  fatigue::FitOptions fit;
  files::OwnDetailRow detail;
  Output out;
};

int fit(FitCommandOptions o, const Session& session) {
  const std::vector<fatigue::Test> tests = files::read_tests(o.tests);
  if (o.slope != 0) o.fit.slope = o.slope;
  const fatigue::Fit fitted = fatigue::fit_curve(tests, o.fit);
  if (!o.write.empty())
    files::write_text(o.write,
                      files::own_detail_text(fitted, o.fit, o.detail, sha256_hex(files::read_text(o.tests)),
                                             published::catalog()));
  put_study_document(o.out, reports::fit_document(fitted, o.fit, tests), fitted, session);
  return fitted.evidence.notes.empty() ? 0 : 1;
}

}  // namespace

void add_compare(CLI::App& app, Session& session) {
  auto o = std::make_shared<CompareOptions>();
  CLI::App* command = app.add_subcommand("compare", "Compare two jobs weld by weld: lives, changes, mass");
  command->add_option("first", o->first, "job folder or design file")->required();
  command->add_option("second", o->second, "second job folder or design file")->required();
  command->add_option("--duty", o->duty, "one duty file for both jobs");
  command->add_option("--method", o->method, "method: time or spectral")
      ->check(CLI::IsMember({"time", "spectral"}))
      ->capture_default_str();
  add_equations(*command, o->equations);
  command->add_flag("--full", o->full, "all welds and every value that differs, also on the terminal");
  add_output(*command, o->out);
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->second, o->duty, [&] { return compare(*o, session); }); };
  });
}

void add_influence(CLI::App& app, Session& session) {
  auto o = std::make_shared<InfluenceOptions>();
  CLI::App* command = app.add_subcommand("influence", "Find the assumed input with the largest effect on the governing life");
  command->add_option("job", o->job, "job folder or design file")->required();
  command->add_option("--duty", o->duty, "duty file in place of the job's");
  add_equations(*command, o->equations);
  add_output(*command, o->out);
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return influence(*o, session); }); };
  });
}

void add_suggest(CLI::App& app, Session& session) {
  auto o = std::make_shared<SuggestOptions>();
  CLI::App* command =
      app.add_subcommand("suggest", "For a weld that falls short: find the smallest change with which it meets");
  command->add_option("job", o->job, "job folder or design file")->required();
  command->add_option("--weld", o->weld, "weld to improve")->required();
  command->add_option("--duty", o->duty, "duty file in place of the job's");
  command->add_option("--method", o->method, "method that confirms the change: time or spectral")
      ->check(CLI::IsMember({"time", "spectral"}))
      ->capture_default_str();
  add_equations(*command, o->equations);
  add_output(*command, o->out);
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return suggest(*o, session); }); };
  });
}

void add_fit(CLI::App& app, Session& session) {
  auto o = std::make_shared<FitCommandOptions>();
  CLI::App* command =
      app.add_subcommand("fit", "Fit an S-N curve to rig tests, with run-outs; --out makes it a detail of the job");
  command->add_option("tests", o->tests, "table with stress_range_mpa, cycles, outcome (failed, runout)")
      ->required();
  command->add_option("--slope", o->slope, "fixed slope in place of the fitted one")
      ->check(CLI::Range(1.0, 30.0));
  command->add_option("--survival", o->fit.survival, "share of details that lie above the design curve")
      ->capture_default_str();
  command->add_option("--confidence", o->fit.confidence, "confidence of that statement")->capture_default_str();
  auto* out = command->add_option("--out", o->write, "write a detail file, as JOB/details/NAME.toml");
  for (CLI::Option* option :
       {command->add_option("--id", o->detail.id, "id of the detail"),
        command->add_option("--kind", o->detail.kind, "joint kind that was tested"),
        command->add_option("--place", o->detail.place, "place of the crack: chord-toe, brace-toe, root ..."),
        command->add_option("--stress", o->detail.stress, "kind of stress in range_mpa")
            ->check(CLI::IsMember({"nominal", "hot-spot", "throat"})),
        command->add_option("--min-wall", o->detail.min_wall_mm, "thinnest wall tested, mm"),
        command->add_option("--max-wall", o->detail.max_wall_mm, "thickest wall tested, mm"),
        command->add_option("--by", o->detail.by, "person responsible for the tests")}) {
    option->needs(out);
    out->needs(option);
  }
  add_output(*command, o->out);
  command->callback([o, &session] { session.run = [o, &session] { return fit(*o, session); }; });
}

}  // namespace seamwright::cli
