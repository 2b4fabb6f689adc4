// SPDX-License-Identifier: GPL-3.0-or-later
// sheet: what hangs on the wall, lies at the table or goes out with the frame.
#include "app/cli/sheet_command.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <memory>

#include "app/cli/book_commands.h"
#include "app/cli/joint_models.h"
#include "app/cli/progress_bar.h"
#include "app/cli/solids.h"
#include "catalog/book/records.h"
#include "catalog/files/inspection_checks.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/parameter_reach.h"
#include "catalog/files/source.h"
#include "catalog/models/user_counts.h"
#include "catalog/published/nearest.h"
#include "catalog/published/published_data.h"
#include "engine/shape/plan.h"
#include "engine/study/bolt_torques.h"
#include "engine/study/duty_stability.h"
#include "reports/render/render.h"
#include "reports/sheets/shape_sheets.h"
#include "reports/sheets/sheets.h"

namespace seamwright::cli {

namespace {

reports::Anchor anchor_of(const SheetOptions& o) {
  if (o.book.empty()) return {o.serial, "", ""};
  const book::Book b = book::Book::open_read(o.book);
  if (!o.serial.empty()) book::trace(b, o.serial);  // a serial that the book does not know is a mistake
  return reports::anchor_of(b, o.serial);
}

// The file of a procedure given as a path, or by its id within the job.
std::string procedure_file(const SheetOptions& o) {
  std::error_code ignored;
  if (std::filesystem::exists(o.procedure, ignored)) return o.procedure;
  std::vector<std::string> ids;
  for (const files::ProcedureFile& p :
       files::read_procedures(files::path_beside_job(o.job, "procedures"), today())) {
    if (p.sheet.id == o.procedure) return p.path;
    ids.push_back(p.sheet.id);
  }
  throw Fault{Message{"sheet.unknown-procedure",
                      {text("id", o.procedure), text("nearest", published::nearest_or_some(o.procedure, ids))}}};
}

// Gives without a name the procedure that the weld names.
std::string procedure_of_weld(const SheetOptions& o, const design::Design& design) {
  if (!o.procedure.empty()) return procedure_file(o);
  if (o.weld.empty()) throw usage_fault("usage.procedure-or-weld");
  SheetOptions named = o;
  named.procedure = files::weld_of(design, o.weld).procedure;
  if (named.procedure.empty()) throw Fault{Message{"sheet.weld-without-procedure", {text("weld", o.weld)}}};
  return procedure_file(named);
}

design::Design design_of(const SheetOptions& o) {
  return files::read_design(files::design_path(o.job), published::catalog());
}

reports::Document procedure(const SheetOptions& o) {
  const design::Design design = design_of(o);
  const files::ProcedureReport r = files::procedure_report(
      {procedure_of_weld(o, design), o.job, o.weld, o.certificate, day_of("--on", o.on), today()});
  return reports::procedure_sheet(r, &design, anchor_of(o));
}

files::InspectionReport inspected(const SheetOptions& o) {
  return files::inspection_report({o.job, o.duty, o.measured, "", 0, 0, o.tolerance[0], today(), joints_to_add(o.equations, o.language)});
}

// A sheet says first what its drawings lack.
reports::Document with_notes(reports::Document d, const std::vector<Message>& notes) {
  for (auto note = notes.rbegin(); note != notes.rend(); ++note)
    d.blocks.emplace(d.blocks.begin(), reports::Paragraph{*note});
  return d;
}

reports::Document inspection(const SheetOptions& o) {
  const design::Design design = design_of(o);
  const reports::DrawnViews views = drawn_views(design, {"side", "top"});
  return with_notes(reports::inspection_sheet(inspected(o), design, anchor_of(o), &views), views.notes);
}

rating::Rating rated_job(const SheetOptions& o, rating::Job& job, Bar& bar) {
  const published::Catalog& catalog = published::catalog();
  job = files::read_job(o.job, o.duty, catalog);
  if (!o.equations) add_joint_models(job, o.language, Variants::scaled);
  models::UserCounts counts;
  return rating::rate(job, catalog.data, o.method == "time" ? rating::Method::time : rating::Method::spectral, bar.progress(), {}, {&counts});
}

reports::Document rated(const SheetOptions& o) {
  const published::Catalog& catalog = published::catalog();
  rating::Job job;
  Bar bar;
  const rating::Rating r = rated_job(o, job, bar);
  const reports::DrawnViews views = drawn_views(job.design, {"oblique"});
  reports::RatingSheet sheet{&job, &r, {}, {}, &views};
  if (o.advice) {
    sheet.influences = study::influences(job, catalog.data, bar.progress());
    std::vector<frame::RoundTube> stock;
    for (const published::TubeSize& t : catalog.tubes) stock.push_back({t.diameter_mm, t.wall_mm});
    sheet.suggestions = study::suggestions(job, catalog.data, stock, r.governing_weld,
                                           rating::Method::spectral, bar.progress());
  }
  return with_notes(reports::rating_sheet(sheet, anchor_of(o)), views.notes);
}

reports::Document owner(const SheetOptions& o) {
  rating::Job job;
  Bar bar;
  const rating::Rating r = rated_job(o, job, bar);
  const reports::DrawnViews views = drawn_views(job.design, {"side", "top", "front"});
  return with_notes(reports::owner_sheet(r, job.design, anchor_of(o), &views), views.notes);
}

reports::Document weld_map(const SheetOptions& o) {
  const design::Design design = design_of(o);
  const reports::DrawnViews views = drawn_views(design, {"side", "top", "front", "oblique"});
  return with_notes(reports::weld_map(design, anchor_of(o), &views), views.notes);
}

reports::Document welders(const SheetOptions& o) {
  const qualification::Date from = day_of("--from", o.from), to = o.to.empty() ? from : day_of("--to", o.to);
  if (to < from) throw usage_fault("usage.days-backwards");
  return reports::welders_sheet(files::welders_report(o.job, from, to, today()), anchor_of(o));
}

reports::Document stability(const SheetOptions& o) {
  const rating::Job job = files::read_job(o.job, o.duty, published::catalog());
  return reports::stability_card(job.design, study::stability_of(job, 9), o.friction, anchor_of(o));
}

reports::Document assembly(const SheetOptions& o) {
  const design::Design design = design_of(o);
  return reports::assembly_card(design, study::bolt_torques(design), anchor_of(o));
}

reports::Document templates(const SheetOptions& o) {
  const design::Design design = design_of(o);
  return reports::templates_sheet(design, shape::blanks_of(design, shape::plan_of(design)), anchor_of(o));
}

reports::Document saw_list(const SheetOptions& o) {
  const design::Design design = design_of(o);
  const std::vector<shape::Blank> blanks = shape::blanks_of(design, shape::plan_of(design));
  return reports::cut_list_sheet(design, blanks, shape::cut_list(blanks, o.stock_mm, o.kerf_mm),
                                 anchor_of(o));
}

reports::Document fixture(const SheetOptions& o) {
  const design::Design design = design_of(o);
  return reports::fixture_sheet(design, shape::weldments_of(design, shape::plan_of(design)),
                                {o.tolerance[0], o.axis_mm, o.axis_deg}, anchor_of(o));
}

reports::Document drawing(const SheetOptions& o) {
  const design::Design design = design_of(o);
  if (!o.weld.empty()) {
    const joints::Weld& weld = files::weld_of(design, o.weld);
    const reports::DrawnJoint drawn = drawn_joint(design, weld.id);
    return with_notes(reports::joint_sheet(design, weld, drawn, anchor_of(o)), drawn.notes);
  }
  const reports::DrawnViews views = drawn_views(design, {"side", "top", "front", "oblique"});
  const auto reaches = files::parameter_reaches(files::design_path(o.job), published::catalog());
  return with_notes(reports::drawing_sheet(design, reaches, anchor_of(o), &views), views.notes);
}

reports::Document record(const SheetOptions& o) {
  const book::Book b = book::Book::open_read(o.book);
  return reports::frame_sheet(b, book::trace(b, o.serial), today_utc());
}

reports::Document recall(const SheetOptions& o) {
  const book::Book b = book::Book::open_read(o.book);
  return reports::recall_sheet(o.what, book::recall(b, o.what, today_utc()), reports::anchor_of(b, ""));
}

// Gives the exit code: 1 where something on the sheet must be mended first.
int write(const SheetOptions& o, const SheetKind& kind, const Session& session) {
  const auto ending = std::filesystem::path(o.out).extension();
  if (ending != ".pdf" && ending != ".html") throw usage_fault("usage.page-name");
  const reports::Document d = kind.make(o);
  if (ending == ".pdf")
    write_pdf(o.out, d, session);
  else
    files::write_text(o.out, reports::to_html(d, session.language));
  return d.finding ? 1 : 0;
}

void add_book_options(CLI::App* c, const std::shared_ptr<SheetOptions>& o, bool needed) {
  auto* book = c->add_option("--book", o->book, "record book; the head of its chain is printed on the sheet")
                   ->envname("SEAMWRIGHT_BOOK");
  if (needed) book->required();
}

void ask_duty(CLI::App& c, const std::shared_ptr<SheetOptions>& o) {
  c.add_option("--duty", o->duty, "duty file in place of the job's");
}

void ask_procedure(CLI::App& c, const std::shared_ptr<SheetOptions>& o) {
  c.add_option("--procedure", o->procedure,
               "WPS file, or its id in the job; otherwise the WPS named by --weld");
  auto* weld = c.add_option("--weld", o->weld, "weld to be made");
  c.add_option("--certificate", o->certificate, "certificate to check: whether this welder may make the weld")->needs(weld);
  c.add_option("--on", o->on, "date, such as 2025-03-10; otherwise today");
}

void ask_tolerance(CLI::App& c, const std::shared_ptr<SheetOptions>& o) {
  c.add_option("--tolerance-class", o->tolerance, "tolerance class of the frame's lengths, ISO 13920")
      ->check(CLI::IsMember({"A", "B", "C", "D"}))
      ->capture_default_str();
}

void ask_inspection(CLI::App& c, const std::shared_ptr<SheetOptions>& o) {
  ask_duty(c, o);
  c.add_option("--measured", o->measured, "table of findings so far");
  ask_tolerance(c, o);
  add_equations(c, o->equations);
}

void ask_stock(CLI::App& c, const std::shared_ptr<SheetOptions>& o) {
  c.add_option("--stock", o->stock_mm, "length of a bar, mm")
      ->check(CLI::Range(100.0, 20000.0))
      ->capture_default_str();
  c.add_option("--kerf", o->kerf_mm, "width of a saw cut, mm")
      ->check(CLI::Range(0.0, 10.0))
      ->capture_default_str();
}

void ask_fixture(CLI::App& c, const std::shared_ptr<SheetOptions>& o) {
  ask_tolerance(c, o);
  c.add_option("--axis-mm", o->axis_mm, "largest permitted offset of a pivot, hub or bottom bracket, mm")
      ->check(CLI::Range(0.01, 10.0))
      ->capture_default_str();
  c.add_option("--axis-deg", o->axis_deg, "largest permitted tilt of its axis, degrees")
      ->check(CLI::Range(0.01, 10.0))
      ->capture_default_str();
}

void ask_drawing(CLI::App& c, const std::shared_ptr<SheetOptions>& o) {
  c.add_option("--weld", o->weld, "joint of this weld alone, larger");
}

void ask_owner(CLI::App& c, const std::shared_ptr<SheetOptions>& o) {
  ask_duty(c, o);
  c.add_option("--method", o->method, "count time histories, or use spectral moments")
      ->check(CLI::IsMember({"time", "spectral"}))
      ->capture_default_str();
  add_equations(c, o->equations);
}

void ask_rating(CLI::App& c, const std::shared_ptr<SheetOptions>& o) {
  ask_owner(c, o);
  c.add_flag("--advice", o->advice, "with the inputs of largest effect, and what would help the governing weld");
}

void ask_days(CLI::App& c, const std::shared_ptr<SheetOptions>& o) {
  auto* from = c.add_option("--from,--on", o->from, "first day, such as 2025-03-10; otherwise today");
  c.add_option("--to", o->to, "last day")->needs(from);
}

void ask_stability(CLI::App& c, const std::shared_ptr<SheetOptions>& o) {
  ask_duty(c, o);
  c.add_option("--friction", o->friction, "friction coefficient of the tyres on the road")
      ->check(CLI::Range(0.05, 2.0))
      ->capture_default_str();
}

void ask_mark(CLI::App& c, const std::shared_ptr<SheetOptions>& o) {
  auto* which = c.add_option_group("which");
  for (const char* mark : carried_marks)
    which->add_option_function<std::string>(
        std::string("--") + mark,
        [o, mark](const std::string& value) {
          o->what = {mark, value};
        },
        "value as recorded");
  which->require_option(1);
}

void add_kind(CLI::App* group, const SheetKind& kind, Session& session) {
  using About = SheetKind::About;
  auto o = std::make_shared<SheetOptions>();
  CLI::App* c = group->add_subcommand(kind.name, kind.what);
  const bool of_job = kind.about == About::job;
  if (of_job) c->add_option("job", o->job, "job folder or design file")->required();
  if (kind.about == About::frame) c->add_option("serial", o->serial, "frame")->required();
  add_book_options(c, o, !of_job);
  if (of_job) c->add_option("--serial", o->serial, "frame for which the sheet is made");
  c->add_option("--out", o->out, "file to write: .pdf or .html")->required();
  if (kind.ask) kind.ask(*c, o);
  c->callback([o, kind, &session] {
    session.run = [o, kind, &session] {
      o->language = session.language;
      const auto work = [&] { return write(*o, kind, session); };
      return kind.about == About::job ? on_job(o->job, o->duty, work) : work();
    };
  });
}

}  // namespace

const std::vector<SheetKind>& sheet_kinds() {
  using About = SheetKind::About;
  static const std::vector<SheetKind> all{
      {"procedure", "Settings for the welding table, in the order of work", procedure, About::job,
       ask_procedure},
      {"inspection", "Measurements to take on a frame, with limits and boxes to fill in", inspection,
       About::job, ask_inspection},
      {"rating", "The rating, with a page for each of the worst welds", rated, About::job, ask_rating},
      {"frame", "All entries in the record book on a frame", record, About::frame, nullptr},
      {"weld-map", "Location of each weld", weld_map, About::job, nullptr},
      {"welders", "Qualified welders for each weld", welders, About::job, ask_days},
      {"recall", "Recall list: every frame affected, with boxes for the action taken", recall, About::lot, ask_mark},
      {"stability", "Tip-over and braking limits", stability, About::job, ask_stability},
      {"owner", "Crack checks for the owner: places, intervals, and when to stop riding", owner, About::job, ask_owner},
      {"assembly", "Bolted connections to make where the trike is unpacked", assembly, About::job, nullptr},
      {"templates", "Paper templates in true scale, to wrap round each tube and cut along, with lengths and angles",
       templates, About::job, nullptr},
      {"cut-list", "Pieces to saw from each bar of stock", saw_list, About::job, ask_stock},
      {"fixture", "Heights, diagonals and axes for checking a frame on a flat table", fixture, About::job,
       ask_fixture},
      {"drawing", "Drawing of the frame in a standard scale, with its dimensions", drawing, About::job,
       ask_drawing}};
  return all;
}

void add_sheets(CLI::App& app, Session& session, const std::vector<SheetKind>& kinds) {
  CLI::App* group = app.add_subcommand("sheet", "Sheets for printing, as PDF or HTML according to the file extension");
  group->require_subcommand(1);
  for (const SheetKind& kind : kinds) add_kind(group, kind, session);
}

void add_sheet(CLI::App& app, Session& session) { add_sheets(app, session, sheet_kinds()); }

}  // namespace seamwright::cli
