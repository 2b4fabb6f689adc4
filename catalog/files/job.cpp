// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/job.h"

#include <filesystem>

#include "catalog/files/parse.h"

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
  return std::filesystem::is_directory(job, ignored) ? (std::filesystem::path(job) / "design.toml").string() : job;
}

rating::Job read_job(const std::string& path, const std::string& duty_override, const published::Catalog& catalog) {
  const std::filesystem::path design = design_path(path);
  const std::filesystem::path duty = duty_override.empty() ? design.parent_path() / "duty.toml" : std::filesystem::path(duty_override);
  rating::Job job;
  job.design = read_design(design.string(), catalog);
  DutyFile file = read_duty(duty.string(), catalog);
  job.duty_identity = file.identity;
  job.duty = file.duty;
  job.rules = file.rules;
  job.assumptions = file.assumptions;
  return job;
}

}  // namespace seamwright::files
