// SPDX-License-Identifier: GPL-3.0-or-later
// procedure check, welders and inspect.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <memory>

#include <fmt/format.h>

#include "app/cli/commands.h"
#include "catalog/files/job.h"
#include "catalog/files/small_table.h"
#include "catalog/published/nearest.h"
#include "engine/joints/bolt.h"
#include "engine/rating/geometry.h"
#include "reports/content/procedure.h"
#include "reports/render/json.h"
#include "reports/render/render.h"

namespace seamwright::cli {

namespace {

using qualification::Answer;
using qualification::Date;

struct Options {
  std::string file, job, duty, weld, certificate, on, from, to, measured, spokes, html, pdf;
  double least_n = 0, most_n = 0;
  std::string tolerance = "B";
  bool json = false;
};

Date today() { return Date(std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now())); }

Date day_of(const std::string& text) {
  if (text.empty()) return today();
  const auto day = qualification::read_date(text);
  if (!day) throw CLI::ValidationError(text, "expected a day as 2025-03-10");
  return *day;
}

std::filesystem::path beside(const std::string& job, const char* name) {
  return std::filesystem::path(files::design_path(job)).replace_filename(name);
}

template <typename Report>
void put(const Options& o, const reports::Document& document, const Report& report, const Session& session) {
  if (!o.html.empty()) write_file(o.html, reports::to_html(document, session.language));
  if (!o.pdf.empty()) write_pdf(o.pdf, document, session);
  if (o.json)
    print(reports::to_json(report));
  else
    print(document, session);
}

const joints::Weld& weld_of(const rating::Design& design, const std::string& id) {
  std::vector<std::string> ids;
  for (const joints::Weld& w : design.welds) {
    if (w.id == id) return w;
    ids.push_back(w.id);
  }
  throw Fault{
      Message{"rating.unknown-weld", {text("weld", id), text("nearest", published::nearest(id, ids))}}};
}

const qualification::Certificate& certificate_of(const files::Certificates& all, const std::string& id) {
  std::vector<std::string> ids;
  for (const auto& c : all.all) {
    if (c.id == id) return c;
    ids.push_back(c.id);
  }
  throw Fault{
      Message{"welders.unknown-certificate", {text("id", id), text("nearest", published::nearest(id, ids))}}};
}

int check(const Options& o, const Session& session) {
  const Date day = day_of(o.on);
  reports::ProcedureReport r;
  r.file = files::read_procedure(o.file, std::max(day, today()));
  r.day = qualification::text_of(day);
  r.missing = qualification::missing_items(r.file.sheet);
  r.numbers = files::numbers_of(r.file);
  if (r.file.record)
    r.record = qualification::record_covers(*r.file.record, r.file.sheet, r.numbers.lowest_heat,
                                            r.numbers.highest_heat);
  std::string job = o.job;
  if (job.empty()) job = std::filesystem::path(o.file).parent_path().parent_path().string();
  if (!o.weld.empty()) {
    const rating::Design design = files::read_design(files::design_path(job), published::catalog());
    const joints::Weld& weld = weld_of(design, o.weld);
    r.weld_id = weld.id;
    r.weld = qualification::sheet_covers(r.file.sheet, files::sizes_of(design, weld));
    if (!o.certificate.empty()) {
      const files::Certificates all =
          files::read_certificates(beside(job, "certificates.toml").string(), std::max(day, today()));
      const qualification::Certificate& c = certificate_of(all, o.certificate);
      r.certificate_id = c.id;
      r.welder = qualification::welder_covers(c, r.file.sheet, files::sizes_of(design, weld), day, day,
                                              all.employer);
    }
  }
  r.answer = reports::answer_of(r);
  put(o, reports::procedure_document(r), r, session);
  return r.answer == Answer::yes ? 0 : 1;
}

int welders(const Options& o, const Session& session) {
  const Date from = day_of(o.from.empty() ? o.on : o.from), to = o.to.empty() ? from : day_of(o.to);
  if (to < from) throw CLI::ValidationError("--to", "must not be before --from");
  const Date latest = std::max(to, today());
  const rating::Design design = files::read_design(files::design_path(o.job), published::catalog());
  const auto procedures = files::read_procedures(beside(o.job, "procedures").string(), latest);
  const files::Certificates all =
      files::read_certificates(beside(o.job, "certificates.toml").string(), latest);
  reports::WeldersReport r;
  r.from = qualification::text_of(from);
  r.to = qualification::text_of(to);
  for (const auto& c : all.all) r.certificates.push_back(c.welder + " " + c.id);
  bool everyone = true;
  for (const joints::Weld& weld : design.welds) {
    reports::WelderRow row{weld.id, weld.procedure, {}, {}, ""};
    const auto file = std::find_if(procedures.begin(), procedures.end(),
                                   [&](const auto& p) { return p.sheet.id == weld.procedure; });
    if (weld.procedure.empty())
      row.why = "welders.no-procedure";
    else if (file == procedures.end())
      row.why = "welders.unknown-procedure";
    else
      for (const auto& c : all.all) {
        const qualification::Check check = qualification::welder_covers(
            c, file->sheet, files::sizes_of(design, weld), from, to, all.employer);
        const qualification::Item* reason = first_reason(check);
        row.answers.push_back(verdict(check));
        row.reasons.push_back(reason ? *reason : qualification::Item{});
      }
    everyone =
        everyone && std::find(row.answers.begin(), row.answers.end(), Answer::yes) != row.answers.end();
    r.rows.push_back(std::move(row));
  }
  put(o, reports::welders_document(r), r, session);
  return everyone ? 0 : 1;
}

// Strength of a curve at two million cycles.
double category_of(const fatigue::Curve& curve) {
  for (const fatigue::Segment& s : curve.segments)
    if (2e6 <= s.to_cycles) return std::pow(10, (s.log_a - std::log10(2e6)) / s.slope);
  return 0;
}

inspection::Demand demand_on(const rating::WeldRating& weld, const std::string& set) {
  inspection::Demand demand{'C', false, "category"};
  for (const rating::SiteRating& site : weld.sites)
    for (const fatigue::Curve& curve : published::catalog().data.curves)
      if (curve.set == set && curve.id == site.curve)
        demand = inspection::stricter(demand, inspection::demand_of(category_of(curve), site.coverage));
  return demand;
}

std::string shown(const std::optional<inspection::Bound>& bound) {
  if (!bound) return "?";
  switch (bound->kind) {
    case inspection::LimitKind::not_permitted:
      return "0";
    case inspection::LimitKind::permitted:
      return "any";
    case inspection::LimitKind::by_application:
      return "application";
    case inspection::LimitKind::at_least:
      return fmt::format(">= {:g}", bound->mm);
    case inspection::LimitKind::at_most:
      return fmt::format("{}{:.3g} mm", bound->short_only ? "short " : "", bound->mm);
  }
  return "?";
}

reports::InspectedRow judged(const files::Finding& f, const joints::Weld& weld, const rating::Design& design,
                             const inspection::Demand& demand) {
  const qualification::JointSizes sizes = files::sizes_of(design, weld);
  const bool butt = sizes.form == qualification::JointForm::butt;
  // The face of a fillet is twice its throat wide; that of a butt weld is not known from the drawing.
  const inspection::Weld w{sizes.wall_mm, weld.throat_mm, butt ? 0 : 2 * weld.throat_mm, butt};
  reports::InspectedRow row{f, "", demand.level, demand.asked_by, "", inspection::Judgement::engineer};
  // A throat is held against the drawing's: too small is 5213.
  files::Finding asked = f;
  if (f.imperfection == "throat") {
    asked.imperfection = f.value_mm < weld.throat_mm ? "5213" : "5214";
    asked.value_mm = std::abs(weld.throat_mm - f.value_mm);
  }
  const inspection::Imperfection* limit =
      inspection::row_for(published::catalog().imperfections, asked.imperfection, w);
  if (!limit) return row;
  row.name = limit->name;
  auto bound = inspection::bound_of(*limit, demand.level, w);
  const bool undercut = asked.imperfection == "5011" || asked.imperfection == "5012";
  if (undercut && demand.no_undercut)
    bound = inspection::Bound{inspection::LimitKind::not_permitted, false, 0};
  row.limit = shown(bound);
  if (bound) row.judgement = inspection::judge(*bound, asked.value_mm);
  return row;
}

// Findings that were measured with a tool beyond its calibration.
std::vector<std::string> overdue(const Options& o, const std::vector<files::Finding>& findings) {
  std::vector<std::string> late;
  const std::string path = beside(o.job, "certificates.toml").string();
  std::error_code ignored;
  if (!std::filesystem::exists(path, ignored)) return late;
  const files::Certificates known = files::read_certificates(path, today());
  for (const files::Finding& f : findings)
    for (const files::Tool& tool : known.tools) {
      const auto day = qualification::read_date(f.date);
      if (tool.id == f.method && (!day || *day > tool.due))
        late.push_back(f.weld + " " + f.imperfection + ": " + tool.id);
    }
  return late;
}

std::vector<reports::TorqueRow> torques(const rating::Design& design) {
  std::vector<reports::TorqueRow> rows;
  for (const rating::BoltCircle& b : design.bolts) {
    if (!(b.preload_n > 0)) continue;
    reports::TorqueRow row{b.id, b.count, b.preload_n, std::nan("")};
    if (b.friction > 0 && b.head_mm > 0)
      row.torque_nm =
          joints::tightening_torque({b.thread, b.preload_n, b.friction, b.friction, b.head_mm}).torque_nmm /
          1000;
    rows.push_back(row);
  }
  return rows;
}

// Wheelbase and track as drawn, with ISO 13920.
std::vector<reports::ToleranceRow> tolerances(const rating::Design& design, char letter) {
  std::map<std::string, frame::Vec3> at;
  for (const frame::Wheel& w : design.frame.wheels) at[w.id] = rating::position_of(design.frame, w.node);
  std::vector<reports::ToleranceRow> rows;
  const auto add = [&](const char* name, double length) {
    if (const auto mm = inspection::length_tolerance_mm(length, letter)) rows.push_back({name, length, *mm});
  };
  if (at.contains("FL") && at.contains("R")) add("wheelbase", std::abs(at["FL"].x() - at["R"].x()));
  if (at.contains("FL") && at.contains("FR")) add("track", std::abs(at["FL"].y() - at["FR"].y()));
  return rows;
}

std::vector<reports::SpokeRow> spokes(const Options& o) {
  std::vector<reports::SpokeRow> rows;
  if (o.spokes.empty()) return rows;
  std::map<std::string, std::vector<std::pair<std::string, double>>> wheels;
  files::read_small_table(o.spokes, {"wheel", "spoke", "tension_n"}, {}, [&](const files::TableRow& row) {
    const double tension = row.real("tension_n");
    if (tension < 0 || tension > 1e5) row.fail("measured.bad-value", {number("value", tension, "N")});
    wheels[row.word("wheel").substr(0, 80)].emplace_back(row.word("spoke").substr(0, 80), tension);
  });
  for (const auto& [wheel, all] : wheels) {
    reports::SpokeRow r{wheel, 0, 0, 1e9, 0, {}};
    const double n = static_cast<double>(all.size());
    for (const auto& [spoke, tension] : all) {
      r.mean_n += tension / n;
      r.least_n = std::min(r.least_n, tension);
      r.most_n = std::max(r.most_n, tension);
      if (tension < o.least_n || tension > o.most_n) r.outside.push_back(spoke);
    }
    for (const auto& [spoke, tension] : all) r.deviation_n += (tension - r.mean_n) * (tension - r.mean_n);
    r.deviation_n = n > 1 ? std::sqrt(r.deviation_n / (n - 1)) : 0;
    rows.push_back(std::move(r));
  }
  return rows;
}

int inspect(const Options& o, const Session& session) {
  const rating::Job job = files::read_job(o.job, o.duty, published::catalog());
  const std::vector<files::Finding> findings = files::read_measured(o.measured);
  const rating::Rating r = rating::rate(job, published::catalog().data, rating::Method::spectral, {});
  reports::InspectionReport report;
  report.design = job.design.identity.name;
  std::map<std::string, inspection::Demand> demands;
  for (const rating::WeldRating& w : r.welds) demands[w.id] = demand_on(w, job.rules.set);
  for (const files::Finding& f : findings) {
    report.rows.push_back(judged(f, weld_of(job.design, f.weld), job.design, demands[f.weld]));
    if (report.rows.back().judgement == inspection::Judgement::rejected &&
        std::find(report.rejected.begin(), report.rejected.end(), f.weld) == report.rejected.end())
      report.rejected.push_back(f.weld);
  }
  const auto procedures = files::read_procedures(beside(o.job, "procedures").string(), today());
  report.overdue = overdue(o, findings);
  report.torques = torques(job.design);
  report.tolerance_class = o.tolerance[0];
  report.tolerances = tolerances(job.design, o.tolerance[0]);
  report.spokes = spokes(o);
  bool complete = report.overdue.empty() && std::all_of(report.spokes.begin(), report.spokes.end(),
                                                        [](const auto& w) { return w.outside.empty(); });
  for (const joints::Weld& w : job.design.welds) {
    reports::InspectedWeld weld{w.id, demands[w.id], {}, "VT"};
    for (const files::ProcedureFile& p : procedures)
      if (p.sheet.id == w.procedure)
        for (const std::string& method : p.sheet.testing) weld.methods += ", " + method;
    const bool butt = files::sizes_of(job.design, w).form == qualification::JointForm::butt;
    for (const inspection::Imperfection& i : published::catalog().imperfections) {
      if ((i.weld != "any" && (i.weld == "butt") != butt) ||
          std::find(weld.not_measured.begin(), weld.not_measured.end(), i.number) != weld.not_measured.end())
        continue;
      const bool throat = i.number == "5213" || i.number == "5214";
      const bool found = std::any_of(findings.begin(), findings.end(), [&](const auto& f) {
        return f.weld == w.id && (f.imperfection == i.number || (throat && f.imperfection == "throat"));
      });
      if (!found) weld.not_measured.push_back(i.number);
    }
    complete = complete && weld.not_measured.empty();
    report.welds.push_back(std::move(weld));
  }
  put(o, reports::inspection_document(report), report, session);
  const bool fine = std::all_of(report.rows.begin(), report.rows.end(),
                                [](const auto& x) { return x.judgement == inspection::Judgement::accepted; });
  return fine && complete ? 0 : 1;
}

void add_output(CLI::App& command, const std::shared_ptr<Options>& o) {
  command.add_flag("--json", o->json, "one JSON document on stdout");
  command.add_option("--html", o->html, "also write a page");
  command.add_option("--pdf", o->pdf, "also write it for paper");
}

}  // namespace

void add_procedure(CLI::App& app, Session& session) {
  auto o = std::make_shared<Options>();
  CLI::App* group = app.add_subcommand("procedure", "Welding procedures");
  group->require_subcommand(1);
  CLI::App* command = group->add_subcommand("check", "Fit or unfit before the arc is struck, with reasons");
  command->add_option("file", o->file, "procedure file")->required();
  command->add_option("--job", o->job, "job of the weld; the folder above the file's");
  auto* weld = command->add_option("--weld", o->weld, "whether it covers this weld");
  command->add_option("--certificate", o->certificate, "whether this welder may weld it")->needs(weld);
  command->add_option("--on", o->on, "day, as 2025-03-10; today");
  add_output(*command, o);
  command->callback([o, &session] { session.run = [o, &session] { return check(*o, session); }; });
}

void add_welders(CLI::App& app, Session& session) {
  auto o = std::make_shared<Options>();
  CLI::App* command =
      app.add_subcommand("welders", "Who may weld what: every weld against every certificate");
  command->add_option("job", o->job, "job folder")->required();
  auto* on = command->add_option("--on", o->on, "day, as 2025-03-10; today");
  auto* from = command->add_option("--from", o->from, "first day of a run")->excludes(on);
  command->add_option("--to", o->to, "last day of the run")->needs(from);
  add_output(*command, o);
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, [&] { return welders(*o, session); }); };
  });
}

void add_inspect(CLI::App& app, Session& session) {
  auto o = std::make_shared<Options>();
  CLI::App* command =
      app.add_subcommand("inspect", "Measured welds against the limits that their rating presumes");
  command->add_option("job", o->job, "job folder or design file")->required();
  command->add_option("--measured", o->measured, "table of findings")->required();
  auto* spokes = command->add_option("--spokes", o->spokes, "table of wheel, spoke, tension_n");
  auto* least = command->add_option("--spoke-least", o->least_n, "the shop's lower limit, N")->needs(spokes);
  auto* most = command->add_option("--spoke-most", o->most_n, "the shop's upper limit, N")->needs(spokes);
  spokes->needs(least)->needs(most);
  command->add_option("--tolerance-class", o->tolerance, "of the frame's lengths, ISO 13920")
      ->check(CLI::IsMember({"A", "B", "C", "D"}))
      ->capture_default_str();
  command->add_option("--duty", o->duty, "duty file in place of the job's");
  add_output(*command, o);
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, [&] { return inspect(*o, session); }); };
  });
}

}  // namespace seamwright::cli
