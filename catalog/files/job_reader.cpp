// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/job_reader.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <limits>

#include "catalog/files/details_reader.h"
#include "catalog/files/duty_reader.h"
#include "catalog/files/parse.h"
#include "catalog/files/patch.h"
#include "catalog/files/reader.h"
#include "engine/design/member_ends.h"
#include "engine/design/sides.h"
#include "engine/evidence/possible.h"

namespace seamwright::files {

toml::table parse(const std::string& path, const std::string& content) {
  try {
    return toml::parse(content, path);
  } catch (const toml::parse_error& error) {
    throw Fault{Message{"file.syntax",
                        {text("file", path), number("line", error.source().begin.line, ""),
                         text("what", std::string(error.description()).substr(0, 200))}}};
  }
}

std::string duty_path(const std::string& job, const std::string& instead) {
  return instead.empty() ? std::filesystem::path(design_path(job)).replace_filename("duty.toml").string()
                         : instead;
}

SourceFile design_file(const SourceFile& job) {
  if (!job.files->is_folder(job.name)) return job;
  return {*job.files, (std::filesystem::path(job.name) / "design.toml").string()};
}

std::string design_path(const std::string& job) { return design_file(job).name; }

namespace {

// Line of the row with this id, of tables of this kind alone unless it is ""; 0 when there is none.
double line_of(const toml::table& root, const std::string& kind, const std::string& id) {
  for (const auto& [key, rows] : root) {
    if (!rows.is_array_of_tables()) continue;
    for (const toml::node& row : *rows.as_array()) {
      const toml::table& table = *row.as_table();
      const std::string own = table["id"].value_or(std::string());
      if ((kind.empty() || kind == key.str()) && !own.empty() && (own == id || design::other_side(own) == id))
        return table.get("id")->source().begin.line;
      if (const double inside = line_of(table, kind, id); inside > 0) return inside;
    }
  }
  return 0;
}

// An argument that a message offers or read elsewhere names nothing of the design.
bool names_a_row(const Argument& a) {
  for (const char* other : {"nearest", "known", "expected", "found", "file", "key"})
    if (a.name == other) return false;
  return std::holds_alternative<std::string>(a.value) && a.unit != "word" && a.unit != "site";
}

}  // namespace

Fault with_place_in(const Fault& fault, const std::string& path, const std::string& content) {
  Fault found = fault;
  if (!found.place.file.empty()) return found;
  try {
    const toml::table root = parse(path, content);
    // First as what the argument says that it is: a weld may bear the name of a member.
    for (const bool by_kind : {true, false})
      for (const Argument& a : fault.message.arguments) {
        if (!names_a_row(a) || (!by_kind && root.contains(a.name))) continue;
        const double line = line_of(root, by_kind ? a.name : "", std::get<std::string>(a.value));
        if (line == 0) continue;
        found.put_at(path, static_cast<int>(line));
        return found;
      }
  } catch (const Fault&) {
    return found;  // the model's own message is worth more than why its file is gone
  }
  return found;
}

Fault with_place(const Fault& fault, const SourceFile& file) {
  try {
    return with_place_in(fault, file.name, read_text(file));
  } catch (const Fault&) {
    return fault;  // the model's own message is worth more than why its file is gone
  }
}

namespace {

std::string changed(const SourceFile& file, const std::vector<std::pair<std::string, double>>& changes) {
  std::string content = read_text(file);
  for (const auto& [place, value] : changes) content = patched(file.name, content, place, value);
  return content;
}

// A rating leaves no end of a member out.
void refuse_open_ends(const std::string& path, const std::string& content, const design::Design& design) {
  const std::vector<design::OpenEnd> open = design::open_ends(design);
  if (open.empty()) return;
  const toml::table table = parse(path, content);
  std::string all;
  for (const design::OpenEnd& e : open)
    all.append(all.empty() ? "" : "; ")
        .append(fmt::format("{} ({}, {}, :{})", e.member, name_of(e.part), e.node,
                            line_of(table, "member", e.member)));
  throw Fault{Message{"file.open-ends",
                      {text("file", path), number("line", line_of(table, "member", open[0].member), ""),
                       text("key", "design.member"), text("found", all)}}};
}

// Upright edges that every wheel has to climb.
void check_edges(const rating::Job& job) {
  double radius = std::numeric_limits<double>::infinity();
  for (const frame::Wheel& w : job.design.frame.wheels) radius = std::min(radius, w.radius_mm);
  for (const loads::Obstacle& o : job.duty.obstacles)
    if (o.shape == loads::Shape::kerb_up || o.shape == loads::Shape::pothole || o.shape == loads::Shape::bar)
      check_possible("kerb", o.id, o.height_mm / radius);
}

}  // namespace

rating::Job read_job(const SourceFile& job, const std::string& duty_override,
                     const published::Catalog& catalog, const Changes& changes) {
  const SourceFile design = design_file(job);
  const SourceFile duty = duty_override.empty() ? design.beside("duty.toml") : SourceFile(duty_override);
  const std::string design_text = changed(design, changes.design);  // the first that is missing is told
  return read_job_texts(design, design_text, duty, changed(duty, changes.duty), catalog);
}

rating::Job read_job_texts(const SourceFile& design_file, const std::string& design,
                           const SourceFile& duty_file, const std::string& duty,
                           const published::Catalog& catalog) {
  rating::Job job;
  job.design = read_design_text(design_file, design, catalog);
  refuse_open_ends(design_file.name, design, job.design);
  job.design.own_details = read_own_details(design_file.beside("details"), catalog);
  DutyFile file = read_duty_text(duty_file, duty, catalog);
  job.duty_identity = file.identity;
  job.duty = file.duty;
  try {
    check_edges(job);
  } catch (const Fault& fault) {
    throw with_place_in(fault, duty_file.name, duty);
  }
  job.range_model = file.range_model;
  job.rules = file.rules;
  const bool dry = job.design.inside != design::Inside::vented;
  if (!file.inside_stated) job.rules.environment_inside = dry ? rules::Environment::air : rules::Environment::free_corrosion;
  job.rules.bracket_joints = !job.design.joints_stated;
  job.assumptions = file.assumptions;
  job.peak_assumptions = file.peak_assumptions;
  return job;
}

const std::map<std::string, NumberBounds>& number_bounds() {
  static const std::map<std::string, NumberBounds> all = [] {
    std::map<std::string, NumberBounds> out;
    const BoundsLog log;
    for (const published::DataFile& file : published::example_files()) {
      if (file.name == "design.toml") read_design_text(file.name, file.text, published::catalog());
      if (file.name == "duty.toml") read_duty_text(file.name, file.text, published::catalog());
    }
    for (const auto& [path, b] : log.bounds()) out.emplace(path, NumberBounds{b.min, b.max});
    return out;
  }();
  return all;
}

}  // namespace seamwright::files
