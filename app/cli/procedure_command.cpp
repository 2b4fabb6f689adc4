// SPDX-License-Identifier: GPL-3.0-or-later
// procedure check, welders and inspect.
#include <algorithm>
#include <chrono>
#include <memory>

#include "app/cli/commands.h"
#include "app/cli/joint_models.h"
#include "catalog/files/inspection_checks.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/source.h"
#include "engine/rating/job.h"
#include "reports/content/procedure_blocks.h"
#include "reports/render/json.h"
#include "reports/render/render.h"

namespace seamwright::cli {

namespace {

using qualification::Answer;
using qualification::Date;

struct ProcedureOptions {
  std::string file, job, duty, weld, certificate, on, from, to, measured, spokes, html, pdf;
  double least_n = 0, most_n = 0;
  std::string tolerance = "B";
  bool json = false, equations = false;
};

template <typename Report>
void put_document(const ProcedureOptions& o, const reports::Document& document, const Report& report,
                  const Session& session) {
  if (!o.html.empty()) files::write_text(o.html, reports::to_html(document, session.language));
  if (!o.pdf.empty()) write_pdf(o.pdf, document, session);
  if (o.json)
    print(reports::to_json(report));
  else
    print(document, session);
}

int check(const ProcedureOptions& o, const Session& session) {
  const files::ProcedureReport r =
      files::procedure_report({o.file, o.job, o.weld, o.certificate, day_of("--on", o.on), today()});
  put_document(o, reports::procedure_document(r), r, session);
  return r.answer == Answer::yes ? 0 : 1;
}

int welders(const ProcedureOptions& o, const Session& session) {
  const Date from = o.from.empty() ? day_of("--on", o.on) : day_of("--from", o.from), to = o.to.empty() ? from : day_of("--to", o.to);
  if (to < from) throw usage_fault("usage.days-backwards");
  const files::WeldersReport r = files::welders_report(o.job, from, to, today());
  put_document(o, reports::welders_document(r), r, session);
  return std::all_of(r.rows.begin(), r.rows.end(),
                     [](const auto& row) {
                       return std::find(row.answers.begin(), row.answers.end(), Answer::yes) !=
                              row.answers.end();
                     })
             ? 0
             : 1;
}

int inspect(const ProcedureOptions& o, const Session& session) {
  const files::InspectionReport r = files::inspection_report(
      {o.job, o.duty, o.measured, o.spokes, o.least_n, o.most_n, o.tolerance[0], today(), joints_to_add(o.equations, session.language)});
  put_document(o, reports::inspection_document(r), r, session);
  return files::is_complete(r) ? 0 : 1;
}

void add_output(CLI::App& command, const std::shared_ptr<ProcedureOptions>& o) {
  command.add_flag("--json", o->json, "one JSON document on stdout");
  command.add_option("--html", o->html, "also write an HTML page");
  command.add_option("--pdf", o->pdf, "also write a PDF for printing");
}

}  // namespace

void add_procedure(CLI::App& app, Session& session) {
  auto o = std::make_shared<ProcedureOptions>();
  CLI::App* group = app.add_subcommand("procedure", "Welding procedure specifications");
  group->require_subcommand(1);
  CLI::App* command = group->add_subcommand("check", "Check a WPS before welding: fit or unfit, with reasons");
  command->add_option("file", o->file, "WPS file")->required();
  command->add_option("--job", o->job, "job of the weld; otherwise the folder above that of the file");
  auto* weld = command->add_option("--weld", o->weld, "weld to check: whether the WPS covers it");
  command->add_option("--certificate", o->certificate, "certificate to check: whether this welder may make the weld")->needs(weld);
  command->add_option("--on", o->on, "date, such as 2025-03-10; otherwise today");
  add_output(*command, o);
  command->callback([o, &session] { session.run = [o, &session] { return check(*o, session); }; });
}

void add_welders(CLI::App& app, Session& session) {
  auto o = std::make_shared<ProcedureOptions>();
  CLI::App* command =
      app.add_subcommand("welders", "Find the qualified welders: every weld against every certificate");
  command->add_option("job", o->job, "job folder")->required();
  auto* on = command->add_option("--on", o->on, "date, such as 2025-03-10; otherwise today");
  auto* from = command->add_option("--from", o->from, "first day of a period")->excludes(on);
  command->add_option("--to", o->to, "last day of the period")->needs(from);
  add_output(*command, o);
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return welders(*o, session); }); };
  });
}

void add_inspect(CLI::App& app, Session& session) {
  auto o = std::make_shared<ProcedureOptions>();
  CLI::App* command =
      app.add_subcommand("inspect", "Compare measured welds with the limits that their rating assumes");
  command->add_option("job", o->job, "job folder or design file")->required();
  command->add_option("--measured", o->measured, "table of findings")->required();
  auto* spokes = command->add_option("--spokes", o->spokes, "table with wheel, spoke, tension_n");
  auto* least = command->add_option("--spoke-least", o->least_n, "the shop's lower limit of spoke tension, N")->needs(spokes);
  auto* most = command->add_option("--spoke-most", o->most_n, "the shop's upper limit of spoke tension, N")->needs(spokes);
  spokes->needs(least)->needs(most);
  command->add_option("--tolerance-class", o->tolerance, "tolerance class of the frame's lengths, ISO 13920")
      ->check(CLI::IsMember({"A", "B", "C", "D"}))
      ->capture_default_str();
  command->add_option("--duty", o->duty, "duty file in place of the job's");
  add_equations(*command, o->equations);
  add_output(*command, o);
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return inspect(*o, session); }); };
  });
}

}  // namespace seamwright::cli
