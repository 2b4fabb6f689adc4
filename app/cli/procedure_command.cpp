// SPDX-License-Identifier: GPL-3.0-or-later
// procedure check, welders and inspect.
#include <algorithm>
#include <chrono>
#include <memory>

#include "app/cli/book_commands.h"
#include "app/cli/commands.h"
#include "app/cli/joint_models.h"
#include "catalog/files/begin_procedure.h"
#include "catalog/files/inspection_checks.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/source.h"
#include "engine/rating/job.h"
#include "reports/content/procedure_blocks.h"
#include "reports/content/test_piece_blocks.h"
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
  bool json = false, equations = false, due = false;
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

int due(const ProcedureOptions& o, const Session& session) {
  const Date day = day_of("--on", o.on);
  const reports::DueReport r{qualification::text_of(day), files::due_rows(o.job, day, today())};
  put_document(o, reports::due_document(r), r, session);
  return std::any_of(r.rows.begin(), r.rows.end(), [](const files::DueRow& row) { return row.lapsed; }) ? 1 : 0;
}

int pieces(const ProcedureOptions& o, const Session& session) {
  const files::TestPieceReport r = files::test_piece_report(o.job, today());
  put_document(o, reports::test_piece_document(r), r, session);
  return r.procedures.open.empty() && r.welders.open.empty() ? 0 : 1;
}

int begin(files::NewProcedure wanted, const std::string& job, const Session& session) {
  wanted.wording = files::Wording(session.language.file->code);
  print_message("start.procedure-written", {text("file", files::begin_procedure(job, wanted))}, session);
  return 0;
}

int inspect(const ProcedureOptions& o, const Session& session) {
  const files::InspectionReport r = files::inspection_report(
      {o.job, o.duty, o.measured, o.spokes, o.least_n, o.most_n, o.tolerance[0], today(), joints_to_add(o.equations, session.language)});
  put_document(o, reports::inspection_document(r), r, session);
  return files::is_complete(r) ? 0 : 1;
}

std::vector<std::string> start_ids() {
  std::vector<std::string> ids;
  for (const files::ProcedureStart& s : files::procedure_starts) ids.emplace_back(s.id);
  return ids;
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
  auto wanted = std::make_shared<files::NewProcedure>();
  auto job = std::make_shared<std::string>();
  command = group->add_subcommand("new", "Begin a preliminary WPS for welds of a job");
  command->add_option("job", *job, "job folder")->required();
  command->add_option("--id", wanted->id, "id of the WPS")->required();
  command->add_option("--weld", wanted->welds, "weld that it is for; its ranges follow from these welds")->required();
  command->add_option("--like", wanted->like, "start: settings of common practice")->check(CLI::IsMember(start_ids()))->capture_default_str();
  command->add_option("--name", wanted->name, "name of the WPS");
  command->add_option("--maker", wanted->maker, "name of the workshop");
  command->add_option("--filler", wanted->filler, "designation of the filler metal");
  command->callback([wanted, job, &session] {
    session.run = [wanted, job, &session] { return on_job(*job, {}, [&] { return begin(*wanted, *job, session); }); };
  });
  auto of_pieces = std::make_shared<ProcedureOptions>();
  command = group->add_subcommand("pieces", "The fewest test pieces that qualify procedures and welders for a frame");
  command->add_option("job", of_pieces->job, "job folder")->required();
  add_output(*command, of_pieces);
  command->callback([of_pieces, &session] {
    session.run = [of_pieces, &session] { return on_job(of_pieces->job, of_pieces->duty, [&] { return pieces(*of_pieces, session); }); };
  });
}

void add_welders(CLI::App& app, Session& session) {
  auto o = std::make_shared<ProcedureOptions>();
  CLI::App* command =
      app.add_subcommand("welders", "Find the qualified welders: every weld against every certificate");
  command->add_option("job", o->job, "job folder")->required();
  auto* on = command->add_option("--on", o->on, "date, such as 2025-03-10; otherwise today");
  auto* from = command->add_option("--from", o->from, "first day of a period")->excludes(on);
  command->add_option("--to", o->to, "last day of the period")->needs(from);
  command->add_flag("--due", o->due, "confirmations, prolongations and calibrations that are due next")->excludes(from);
  add_output(*command, o);
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return o->due ? due(*o, session) : welders(*o, session); }); };
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
