// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/job_checks.h"

#include <algorithm>
#include <filesystem>

#include "catalog/files/job_reader.h"
#include "catalog/published/nearest.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"

namespace seamwright::files {

using qualification::Date;

std::string path_beside_job(const std::string& job, const std::string& name) {
  return std::filesystem::path(files::design_path(job)).replace_filename(name).string();
}

const joints::Weld& weld_of(const design::Design& design, const std::string& id) {
  std::vector<std::string> ids;
  for (const joints::Weld& w : design.welds) {
    if (w.id == id) return w;
    ids.push_back(w.id);
  }
  throw Fault{
      Message{"rating.unknown-weld", {text("weld", id), text("nearest", published::nearest_or_some(id, ids))}}};
}

void require_subject(const design::Design& design, const std::string& id) {
  if (id.empty()) return;
  std::vector<std::string> ids;
  for (std::size_t i = 0; i < design::subject_count(design); ++i) {
    ids.push_back(design::subject_of(design, i).id);
    if (ids.back() == id) return;
  }
  throw Fault{
      Message{"rating.unknown-weld", {text("weld", id), text("nearest", published::nearest_or_some(id, ids))}}};
}

namespace {

const qualification::Certificate& certificate_of(const Certificates& all, const std::string& id) {
  std::vector<std::string> ids;
  for (const auto& c : all.all) {
    if (c.id == id) return c;
    ids.push_back(c.id);
  }
  throw Fault{
      Message{"welders.unknown-certificate", {text("id", id), text("nearest", published::nearest_or_some(id, ids))}}};
}

}  // namespace

qualification::Check all_checks_of(const ProcedureReport& r) {
  qualification::Check all;
  for (const qualification::Check* c :
       {&r.record, &r.weld, &r.welder, &r.numbers.examined, &r.numbers.hardness, &r.numbers.plausibility, &r.numbers.node})
    all.insert(all.end(), c->begin(), c->end());
  return all;
}

qualification::Answer answer_of(const ProcedureReport& r) {
  const qualification::Check all = all_checks_of(r);
  const qualification::Answer worst = verdict(all);
  if (worst == qualification::Answer::yes && (!r.missing.empty() || r.record.empty()))
    return qualification::Answer::cannot_decide;
  return worst;
}

ProcedureReport procedure_report(const ProcedureQuestion& q) {
  ProcedureReport r;
  const Date latest = std::max(q.on, q.today);
  r.file = read_procedure(q.file, latest);
  r.day = qualification::text_of(q.on);
  r.missing = qualification::missing_items(r.file.sheet);
  r.numbers = numbers_of(r.file);
  if (r.file.record)
    r.record = qualification::record_covers(*r.file.record, r.file.sheet, r.numbers.lowest_heat,
                                            r.numbers.highest_heat);
  const std::string job =
      q.job.empty() ? std::filesystem::path(q.file).parent_path().parent_path().string() : q.job;
  if (!q.weld.empty()) {
    const design::Design design = read_design(design_path(job), published::catalog());
    const joints::Weld& weld = weld_of(design, q.weld);
    r.weld_id = weld.id;
    r.weld = qualification::sheet_covers(r.file.sheet, sizes_of(design, weld));
    if (!q.certificate.empty()) {
      const Certificates all = read_certificates(path_beside_job(job, "certificates.toml"), latest);
      const qualification::Certificate& c = certificate_of(all, q.certificate);
      r.certificate_id = c.id;
      r.welder =
          qualification::welder_covers(c, r.file.sheet, sizes_of(design, weld), q.on, q.on, all.employer);
    }
  }
  r.answer = answer_of(r);
  return r;
}

WeldersReport welders_report(const std::string& job, Date from, Date to, Date today) {
  const Date latest = std::max(to, today);
  const design::Design design = read_design(design_path(job), published::catalog());
  const auto procedures = read_procedures(path_beside_job(job, "procedures"), latest);
  const Certificates all = read_certificates(path_beside_job(job, "certificates.toml"), latest);
  WeldersReport r;
  r.from = qualification::text_of(from);
  r.to = qualification::text_of(to);
  for (const auto& c : all.all) r.certificates.push_back(c.welder + " " + c.id);
  for (const joints::Weld& weld : design.welds) {
    WelderRow row{weld.id, weld.procedure, {}, {}, ""};
    const auto file = std::find_if(procedures.begin(), procedures.end(),
                                   [&](const auto& p) { return p.sheet.id == weld.procedure; });
    if (weld.procedure.empty())
      row.why = "welders.no-procedure";
    else if (file == procedures.end())
      row.why = "welders.unknown-procedure";
    else
      for (const auto& c : all.all) {
        const qualification::Check check =
            qualification::welder_covers(c, file->sheet, sizes_of(design, weld), from, to, all.employer);
        const qualification::Item* reason = first_reason(check);
        row.answers.push_back(verdict(check));
        row.reasons.push_back(reason ? *reason : qualification::Item{});
      }
    r.rows.push_back(std::move(row));
  }
  return r;
}

}  // namespace seamwright::files
