// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/inspection_checks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>

#include "catalog/files/as_built.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/small_table.h"
#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/rating/rate.h"

namespace seamwright::files {

std::string limit_text(const std::optional<inspection::Bound>& bound) {
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

namespace {

// Strength of a curve at two million cycles.
double category_of(const fatigue::Curve& curve) {
  for (const fatigue::Segment& s : curve.segments)
    if (2e6 <= s.to_cycles) return std::pow(10, (s.log_a - std::log10(2e6)) / s.slope);
  return 0;
}

inspection::Demand demand_on(const rating::WeldRating& weld, const rules::RuleSet& set) {
  inspection::Demand demand{'C', false, "category"};
  for (const rating::SiteRating& site : weld.sites)
    for (const fatigue::Curve& curve : published::catalog().data.curves)
      if (rules::is_curve_of(set, curve) && curve.id == site.curve)
        demand = inspection::stricter(demand, inspection::demand_of(category_of(curve), site.coverage));
  return demand;
}

std::optional<inspection::Bound> bound_on(const inspection::Imperfection& row, const inspection::Weld& weld,
                                          const inspection::Demand& demand) {
  if (demand.no_undercut && (row.number == "5011" || row.number == "5012"))
    return inspection::Bound{inspection::LimitKind::not_permitted, false, 0};
  return inspection::bound_of(row, demand.level, weld);
}

// A throat as measured is held against the drawing's: what lacks is 5213, what is too much 5214. The limit
// shows the throats that are allowed, and the name says which way it deviates, if it is not accepted.
InspectedRow judged_throat(InspectedRow row, double drawn, const inspection::Weld& w,
                           const inspection::Demand& demand) {
  const double measured = row.finding.value_mm;
  const bool less = measured<drawn*(1 - 1e-9), more = measured> drawn * (1 + 1e-9);
  const auto limits = [&](const char* number) {
    const inspection::Imperfection* limit =
        inspection::row_for(published::catalog().imperfections, number, w);
    return std::pair(limit, limit ? bound_on(*limit, w, demand) : std::nullopt);
  };
  const auto [small, lack] = limits("5213");
  const auto [large, excess] = limits("5214");
  using inspection::LimitKind;
  const double shortest = lack && lack->kind == LimitKind::at_most ? drawn - lack->mm : drawn;
  const double least = lack && lack->short_only ? drawn : shortest;
  const std::string most = !excess                              ? "?"
                           : excess->kind == LimitKind::at_most ? fmt::format("{:.3g}", drawn + excess->mm)
                                                                : limit_text(excess);
  row.limit = fmt::format("{:.3g} .. {} mm", least, most);
  if (shortest < least) row.limit += fmt::format(", short {:.3g} mm", shortest);
  const auto& bound = less ? lack : excess;
  if (!less && !more)
    row.judgement = inspection::Judgement::accepted;
  else if (bound)
    row.judgement = inspection::judge(*bound, std::abs(measured - drawn));
  const inspection::Imperfection* deviation = less ? small : large;
  const bool fine = row.judgement == inspection::Judgement::accepted || !deviation;
  row.name = fine ? "throat" : deviation->name;
  return row;
}

// Findings that were measured with a tool beyond its calibration.
std::vector<std::string> overdue(const InspectionQuestion& o, const std::vector<Finding>& findings) {
  std::vector<std::string> late;
  const std::string path = path_beside_job(o.job, "certificates.toml");
  std::error_code ignored;
  if (!std::filesystem::exists(path, ignored)) return late;
  const Certificates known = read_certificates(path, o.today);
  for (const Finding& f : findings)
    for (const Tool& tool : known.tools) {
      const auto day = qualification::read_date(f.date);
      if (tool.id == f.method && (!day || *day > tool.due))
        late.push_back(f.weld + " " + f.imperfection + ": " + tool.id);
    }
  return late;
}

// Wheelbase and track as drawn, with ISO 13920.
std::vector<ToleranceRow> tolerances(const design::Design& design, char letter) {
  std::map<std::string, frame::Vec3> at;
  for (const frame::Wheel& w : design.frame.wheels) at[w.id] = design::position_of(design.frame, w.node);
  std::vector<ToleranceRow> rows;
  const auto add = [&](const char* name, double length) {
    if (const auto mm = inspection::length_tolerance_mm(length, letter)) rows.push_back({name, length, *mm});
  };
  if (at.contains("FL") && at.contains("R")) add("wheelbase", std::abs(at["FL"].x() - at["R"].x()));
  if (at.contains("FL") && at.contains("FR")) add("track", std::abs(at["FL"].y() - at["FR"].y()));
  return rows;
}

std::vector<SpokeRow> spokes(const InspectionQuestion& o) {
  std::vector<SpokeRow> rows;
  if (o.spokes.empty()) return rows;
  std::map<std::string, std::vector<std::pair<std::string, double>>> wheels;
  read_small_table(o.spokes, {"wheel", "spoke", "tension_n"}, {}, [&](const TableRow& row) {
    const double tension = row.real("tension_n", 0, 1e5);
    wheels[row.text_of("wheel").substr(0, 80)].emplace_back(row.text_of("spoke").substr(0, 80), tension);
  });
  for (const auto& [wheel, all] : wheels) {
    SpokeRow r{wheel, 0, 0, 1e9, 0, {}};
    const double n = static_cast<double>(all.size());
    for (const auto& [spoke, tension] : all) {
      r.mean_n += tension / n;
      r.least_n = std::min(r.least_n, tension);
      r.most_n = std::max(r.most_n, tension);
      if (tension < o.spoke_least_n || tension > o.spoke_most_n) r.outside.push_back(spoke);
    }
    for (const auto& [spoke, tension] : all) r.deviation_n += (tension - r.mean_n) * (tension - r.mean_n);
    r.deviation_n = n > 1 ? std::sqrt(r.deviation_n / (n - 1)) : 0;
    rows.push_back(std::move(r));
  }
  return rows;
}

// A weld of its kind can have these, each number once, with the limit that its rating presumes.
std::vector<LimitRow> limits_on(const design::Design& design, const joints::Weld& weld,
                                const inspection::Demand& demand) {
  const inspection::Weld w = weld_to_inspect(design, weld);
  std::vector<LimitRow> rows;
  for (const inspection::Imperfection& i : published::catalog().imperfections) {
    if ((i.weld != "any" && (i.weld == "butt") != w.butt) ||
        std::any_of(rows.begin(), rows.end(), [&](const LimitRow& r) { return r.number == i.number; }))
      continue;
    const inspection::Imperfection* row =
        inspection::row_for(published::catalog().imperfections, i.number, w);
    rows.push_back({i.number, i.name, row ? limit_text(bound_on(*row, w, demand)) : std::string("?")});
  }
  return rows;
}

std::vector<std::string> not_measured(const std::string& weld, const std::vector<LimitRow>& limits,
                                      const std::vector<Finding>& findings) {
  std::vector<std::string> numbers;
  for (const LimitRow& row : limits) {
    const bool throat = row.number == "5213" || row.number == "5214";
    const bool found = std::any_of(findings.begin(), findings.end(), [&](const auto& f) {
      return f.weld == weld && (f.imperfection == row.number || (throat && f.imperfection == "throat"));
    });
    if (!found) numbers.push_back(row.number);
  }
  return numbers;
}

}  // namespace

InspectedRow judged_finding(const Finding& f, const joints::Weld& weld, const design::Design& design,
                            const inspection::Demand& demand) {
  const inspection::Weld w = weld_to_inspect(design, weld);
  InspectedRow row{f, "", demand.level, demand.asked_by, "", inspection::Judgement::engineer};
  if (f.imperfection == "throat") return judged_throat(std::move(row), weld.throat_mm, w, demand);
  const inspection::Imperfection* limit =
      inspection::row_for(published::catalog().imperfections, f.imperfection, w);
  if (!limit) return row;
  row.name = limit->name;
  const auto bound = bound_on(*limit, w, demand);
  row.limit = limit_text(bound);
  if (bound) row.judgement = inspection::judge(*bound, f.value_mm);
  return row;
}

std::vector<InspectedWeld> welds_to_inspect(const rating::Job& job, const rating::Rating& r, const std::vector<ProcedureFile>& procedures) {
  std::vector<InspectedWeld> all;
  for (const joints::Weld& w : job.design.welds) {
    const auto rated = std::find_if(r.welds.begin(), r.welds.end(), [&](const rating::WeldRating& x) { return x.id == w.id; });
    const inspection::Demand demand = rated == r.welds.end() ? inspection::Demand{'B', true, ""} : demand_on(*rated, *job.rules.set);
    InspectedWeld weld{w.id, demand, {}, "VT", limits_on(job.design, w, demand), w.procedure};
    for (const ProcedureFile& p : procedures)
      if (p.sheet.id == w.procedure)
        for (const std::string& method : p.sheet.testing) weld.methods += ", " + method;
    all.push_back(std::move(weld));
  }
  return all;
}

InspectionReport inspection_report(const InspectionQuestion& q) {
  rating::Job job = read_job(q.job, q.duty, published::catalog());
  const std::vector<Finding> findings =
      q.measured.empty() ? std::vector<Finding>() : read_measured(q.measured);
  for (const Finding& f : findings) found_weld(q.measured, f, job.design);  // before the work
  if (q.prepare) q.prepare(job);
  const rating::Rating r = rating::rate(job, published::catalog().data, rating::Method::spectral, {});
  InspectionReport report;
  report.design = job.design.identity.name;
  report.welds = welds_to_inspect(job, r, read_procedures(path_beside_job(q.job, "procedures"), q.today));
  for (const Finding& f : findings) {
    const joints::Weld& weld = found_weld(q.measured, f, job.design);
    const auto asked = std::find_if(report.welds.begin(), report.welds.end(), [&](const InspectedWeld& w) { return w.id == f.weld; });
    report.rows.push_back(judged_finding(f, weld, job.design, asked->demand));
    if (report.rows.back().judgement == inspection::Judgement::rejected &&
        std::find(report.rejected.begin(), report.rejected.end(), f.weld) == report.rejected.end())
      report.rejected.push_back(f.weld);
  }
  report.overdue = overdue(q, findings);
  report.torques = study::bolt_torques(job.design);
  report.tolerance_class = q.tolerance_class;
  report.tolerances = tolerances(job.design, q.tolerance_class);
  report.spokes = spokes(q);
  for (InspectedWeld& weld : report.welds) weld.not_measured = not_measured(weld.id, weld.limits, findings);
  return report;
}

bool is_complete(const InspectionReport& r) {
  return r.overdue.empty() &&
         std::all_of(r.spokes.begin(), r.spokes.end(), [](const auto& w) { return w.outside.empty(); }) &&
         std::all_of(r.welds.begin(), r.welds.end(), [](const auto& w) { return w.not_measured.empty(); }) &&
         std::all_of(r.rows.begin(), r.rows.end(),
                     [](const auto& x) { return x.judgement == inspection::Judgement::accepted; });
}

}  // namespace seamwright::files
