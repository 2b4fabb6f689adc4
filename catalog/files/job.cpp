// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/job.h"

#include <fmt/format.h>

#include <filesystem>

#include "catalog/files/details.h"
#include "catalog/files/parse.h"
#include "catalog/files/patch.h"
#include "catalog/files/reader.h"
#include "engine/rating/ends.h"

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

std::string design_path(const std::string& job) {
  std::error_code ignored;
  return std::filesystem::is_directory(job, ignored) ? (std::filesystem::path(job) / "design.toml").string()
                                                     : job;
}

Fault placed_in(const Fault& fault, const std::string& path, const std::string& content) {
  Fault found = fault;
  for (const Argument& a : fault.message.arguments)
    if (a.name == "file") return found;
  try {
    const toml::table root = parse(path, content);
    for (const Argument& a : fault.message.arguments) {
      const auto* id = std::get_if<std::string>(&a.value);
      if (!id) continue;
      for (const auto& [key, rows] : root) {
        if (!rows.is_array_of_tables()) continue;
        for (const toml::node& row : *rows.as_array()) {
          const toml::table& table = *row.as_table();
          const std::string own = table["id"].value_or(std::string());
          if (own.empty() || (own != *id && other_side(own) != *id)) continue;
          found.message.arguments.push_back(text("file", path));
          found.message.arguments.push_back(number("line", table.get("id")->source().begin.line, ""));
          return found;
        }
      }
    }
  } catch (const Fault&) {
    return found;  // the model's own message is worth more than why its file is gone
  }
  return found;
}

Fault placed(const Fault& fault, const std::string& path) {
  try {
    return placed_in(fault, path, read_text(path));
  } catch (const Fault&) {
    return fault;  // the model's own message is worth more than why its file is gone
  }
}

namespace {

std::string changed(const std::string& path, const std::vector<std::pair<std::string, double>>& changes) {
  std::string content = read_text(path);
  for (const auto& [place, value] : changes) content = patched(path, content, place, value);
  return content;
}

}  // namespace

namespace {

double line_of_member(const toml::table& design, const std::string& id) {
  const toml::array* rows = design["member"].as_array();
  if (!rows) return 0;
  for (const toml::node& row : *rows) {
    const toml::table* table = row.as_table();
    const std::string own = table ? (*table)["id"].value_or(std::string()) : std::string();
    if (!own.empty() && (own == id || other_side(own) == id)) return table->get("id")->source().begin.line;
  }
  return 0;
}

// A rating leaves no end of a member out.
void refuse_open_ends(const std::string& path, const std::string& content, const rating::Design& design) {
  const std::vector<rating::OpenEnd> open = rating::open_ends(design);
  if (open.empty()) return;
  const toml::table table = parse(path, content);
  std::string all;
  for (const rating::OpenEnd& e : open)
    all.append(all.empty() ? "" : "; ")
        .append(fmt::format("{} ({}, {}, :{})", e.member, name_of(e.part), e.node,
                            line_of_member(table, e.member)));
  throw Fault{Message{"file.open-ends",
                      {text("file", path), number("line", line_of_member(table, open[0].member), ""),
                       text("key", "design.member"), text("found", all)}}};
}

}  // namespace

rating::Job read_job(const std::string& path, const std::string& duty_override,
                     const published::Catalog& catalog, const Changes& changes) {
  const std::filesystem::path design = design_path(path);
  const std::filesystem::path duty =
      duty_override.empty() ? design.parent_path() / "duty.toml" : std::filesystem::path(duty_override);
  return read_job_texts(design.string(), changed(design.string(), changes.design), duty.string(),
                        changed(duty.string(), changes.duty), catalog);
}

rating::Job read_job_texts(const std::string& design_file, const std::string& design,
                           const std::string& duty_file, const std::string& duty,
                           const published::Catalog& catalog) {
  rating::Job job;
  job.design = read_design_text(design_file, design, catalog);
  refuse_open_ends(design_file, design, job.design);
  const std::filesystem::path folder = std::filesystem::path(design_file).parent_path();
  job.design.own_details = read_own_details((folder / "details").string(), catalog);
  DutyFile file = read_duty_text(duty_file, duty, catalog);
  job.duty_identity = file.identity;
  job.duty = file.duty;
  job.range_model = file.range_model;
  job.rules = file.rules;
  job.rules.bracket_joints = !job.design.joints_stated;
  job.assumptions = file.assumptions;
  job.peak_assumptions = file.peak_assumptions;
  return job;
}

const std::map<std::string, Taken>& taken_numbers() {
  static const std::map<std::string, Taken> all = [] {
    std::map<std::string, Taken> out;
    const BoundsLog log;
    for (const published::DataFile& file : published::example_files()) {
      if (file.name == "design.toml") read_design_text(file.name, file.text, published::catalog());
      if (file.name == "duty.toml") read_duty_text(file.name, file.text, published::catalog());
    }
    for (const auto& [path, b] : log.bounds()) out.emplace(path, Taken{b.min, b.max});
    return out;
  }();
  return all;
}

}  // namespace seamwright::files
