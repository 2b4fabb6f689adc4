// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/sweeps/sweep_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "catalog/sweeps/sweep_database.h"
#include "catalog/sweeps/sweep_identity.h"
#include "catalog/sweeps/sweep_journal.h"
#include "catalog/sweeps/table_lines.h"

namespace seamwright::sweeps {

namespace {

std::string csv_number(double value) {
  return std::isfinite(value) ? fmt::format("{:.6g}", value) : std::string();
}

std::string head_of(const Sweep& sweep) {
  std::string line = "variant";
  for (const SweepParameter& p : sweep.parameters) line.append(",").append(csv_cell(p.place));
  return line + ",duty,verdict,governing_weld,site,damage,life_km,failure_probability,mass_kg,fault\n";
}

// One row. A variant that is impossible says why.
std::string line_of(const Sweep& sweep, const SweepRun& run, const study::SweptVariant& swept) {
  const Variant v = variant_of(sweep, swept.number);
  std::string line = std::to_string(swept.number + 1);
  for (const double value : v.values) line.append(",").append(csv_number(value));
  line.append(",").append(csv_cell(std::filesystem::path(v.duty).filename().string()));
  if (swept.impossible)
    line += ",impossible,,,,,,," + csv_cell(run.sentence_of(*swept.impossible)) + "\n";
  else
    line += fmt::format(",{},{},{},{},{},{},{},\n", name_of(swept.verdict), csv_cell(swept.governing_weld),
                        csv_cell(swept.site), csv_number(swept.damage), csv_number(swept.life_km),
                        csv_number(swept.failure_probability), csv_number(swept.mass_kg));
  std::replace(line.begin(), line.end() - 1, '\n', ' ');
  return line;
}

// Rows by models and rows by equations are not of one table, nor are those of a machine on which a model failed.
std::string joints_in(const SweepRun& run) {
  return run.joint_models ? " joints " + std::to_string(run.joint_models->models.size()) : "";
}

}  // namespace

std::size_t run_sweep(const Sweep& sweep, const SweepRun& run, const rating::Progress& progress) {
  const std::string id =
      identity_of(sweep, run.job) + joints_in(run) + " " + std::to_string(run.part) + "/" + std::to_string(run.parts);
  const bool whole = run.parts == 1;  // a part is no table to be asked
  if (whole) check_place(run.csv);
  SweepJournal journal(run.csv + ".part", id, run.discard);
  const std::vector<std::size_t> mine = study::variants_of_part(variants_of(sweep), run.part, run.parts);
  std::vector<std::size_t> left;
  for (const std::size_t i : mine)
    if (!journal.rows().contains(i)) left.push_back(i);
  study::SweepOrder sweeping;
  sweeping.method = sweep.time_domain ? rating::Method::time : rating::Method::spectral;
  sweeping.threads = run.threads;
  sweeping.job_of = [&](std::size_t number) {
    const Variant v = variant_of(sweep, number);
    rating::Job job = files::read_job(run.job, v.duty, published::catalog(), v.changes);
    job.joint_models = run.joint_models;
    return job;
  };
  sweeping.sink = [&](const study::SweptVariant& v) { journal.add(v.number, line_of(sweep, run, v)); };
  rating::Progress rest;
  rest.stop = progress.stop;
  const double begun = 1 - static_cast<double>(left.size()) / static_cast<double>(mine.size());
  if (progress.report) rest.report = [&](double share) { progress.report(begun + share * (1 - begun)); };
  study::sweep(left, sweeping, published::catalog().data, rest);
  std::string table = head_of(sweep);
  for (const std::size_t i : mine) table += journal.rows().at(i);
  files::write_text(run.csv, table);
  if (whole) write_database(run.csv);
  journal.remove();
  return mine.size();
}

std::vector<std::vector<std::string>> sweep_cells(const std::string& csv, std::size_t most) {
  std::vector<std::vector<std::string>> lines;
  const std::string content = files::read_text(csv);
  for (std::size_t at = 0, end = 0; at < content.size() && lines.size() < most; at = end + 1) {
    end = std::min(content.find('\n', at), content.size());
    lines.push_back(cells_of(std::string_view(content).substr(at, end - at)));
  }
  return lines;
}

}  // namespace seamwright::sweeps
