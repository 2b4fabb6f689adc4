// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/improved_job.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <map>
#include <sstream>
#include <stdexcept>

#include "catalog/files/job_reader.h"
#include "catalog/files/patch.h"
#include "catalog/files/written.h"
#include "engine/design/sides.h"

namespace seamwright::files {

namespace {

namespace fs = std::filesystem;

// A member's id without its side.
std::string middle_of(const std::string& id) { return id.substr(0, id.size() - design::side_of(id).size()); }

const WrittenValue* cell_of(const WrittenTable& table, const WrittenRow& row, const std::string& key) {
  for (std::size_t i = 0; i < table.keys.size() && i < row.cells.size(); ++i)
    if (table.keys[i] == key && row.cells[i].line > 0) return &row.cells[i];
  return nullptr;
}

// Ids that rows of the text have; a mirrored twin has none.
std::vector<std::string> written_ids(const std::string& file, const std::string& content, const std::string& name) {
  std::vector<std::string> ids;
  const std::vector<WrittenTable> tables = written_tables(file, content);
  if (const WrittenTable* table = table_named(tables, name))
    for (const WrittenRow& row : table->rows) ids.push_back(row.id);
  return ids;
}

}  // namespace

std::string with_tubes_apart(const std::string& file, const std::string& content) {
  std::map<std::string, std::string> member_of_tube, own;  // who keeps a tube; the tube of a member, without its side
  std::string changed = content;
  const std::vector<WrittenTable> tables = written_tables(file, content);
  const WrittenTable* members = table_named(tables, "member");
  if (!members) return content;
  for (const WrittenRow& row : members->rows) {
    const WrittenValue* tube = cell_of(*members, row, "tube");
    if (row.id.empty() || !tube) continue;
    const std::string middle = middle_of(row.id);
    const auto [keeper, first] = member_of_tube.emplace(tube->shown, middle);
    if (first || keeper->second == middle) continue;
    std::string& name = own[middle];
    if (name.empty()) {
      name = tube->shown + "-" + middle;
      changed = with_row_copied(file, changed, "tube[" + tube->shown + "]", name);
    }
    changed = patched(file, changed, "member[" + row.id + "].tube", name);
  }
  return changed;
}

std::string improved_text(const std::string& file, const std::string& content, const design::Design& drawn, const study::ImprovedFrame& answer,
                          std::size_t number) {
  std::string out = patched(file, content, "revision", drawn.identity.revision + "+" + std::to_string(number));
  for (const study::ImproveChange& c : answer.changes) {
    if (c.throat) continue;
    if (c.to.diameter_mm != c.from.diameter_mm) out = patched(file, out, "tube[" + c.tube + "].diameter_mm", c.to.diameter_mm);
    if (c.to.wall_mm != c.from.wall_mm) out = patched(file, out, "tube[" + c.tube + "].wall_mm", c.to.wall_mm);
  }
  const std::vector<std::string> ids = written_ids(file, content, "weld");
  for (std::size_t i = 0; i < drawn.welds.size(); ++i) {
    const joints::Weld &was = drawn.welds[i], &now = answer.design.welds[i];
    if (std::find(ids.begin(), ids.end(), now.id) == ids.end()) continue;
    const std::string row = "weld[" + now.id + "].";
    if (now.throat_mm != was.throat_mm) {
      out = patched(file, out, row + "throat_mm", now.throat_mm);
      if (was.leg_crown_mm > 0) out = patched(file, out, row + "leg_crown_mm", std::round(100 * now.leg_crown_mm) / 100);
      if (was.leg_saddle_mm > 0) out = patched(file, out, row + "leg_saddle_mm", std::round(100 * now.leg_saddle_mm) / 100);
    }
    if (now.procedure != was.procedure) out = patched(file, out, row + "procedure", now.procedure);
    if (now.root_proof != was.root_proof) out = patched(file, out, row + "root_proof", now.root_proof);
  }
  return out;
}

void write_improved_job(const std::string& job, const std::string& folder, const std::string& design_text) {
  if (fs::exists(folder)) throw Fault{Message{"new.exists", {text("file", folder)}}};
  const fs::path design = design_path(job), from = design.parent_path().empty() ? fs::path(".") : design.parent_path();
  std::vector<fs::path> names;
  for (const char* below : {"", "procedures", "details"}) {
    std::error_code none;
    for (const fs::directory_entry& entry : fs::directory_iterator(from / below, none)) {
      const std::string ending = entry.path().extension().string();
      if (entry.is_regular_file() && (ending == ".toml" || ending == ".csv") && entry.path().filename() != design.filename())
        names.push_back(fs::path(below) / entry.path().filename());
    }
  }
  std::error_code error;
  for (const fs::path& name : names) {
    fs::create_directories((fs::path(folder) / name).parent_path(), error);
    if (error) throw std::runtime_error(folder + ": " + error.message());
    write_text((fs::path(folder) / name).string(), files_on_disk().bytes((from / name).string()));
  }
  fs::create_directories(folder, error);
  if (error) throw std::runtime_error(folder + ": " + error.message());
  write_text((fs::path(folder) / "design.toml").string(), design_text);
}

namespace {

constexpr const char* journal_format = "seamwright.trials/1 ";

std::string line_of_trial(const study::Point& point, const study::Trial& trial) {
  std::string line = fmt::format("{}", fmt::join(point, ","));
  line += fmt::format(";{};{:a}", trial.possible ? 1 : 0, trial.merit);
  for (const double u : trial.use) line += fmt::format(";{:a}", u);
  return line + ";.\n";  // a line without its end was cut off
}

bool take_trial(const std::string& line, study::Trials& known) {
  std::vector<std::string> cells;
  std::istringstream in(line);
  for (std::string cell; std::getline(in, cell, ';');) cells.push_back(cell);
  if (cells.size() < 4 || cells.back() != ".") return false;
  study::Point point;
  std::istringstream options(cells[0]);
  for (std::string o; std::getline(options, o, ',');) {
    std::uint32_t option = 0;
    const auto read = std::from_chars(o.data(), o.data() + o.size(), option);
    if (read.ec != std::errc{} || read.ptr != o.data() + o.size()) return false;
    point.push_back(option);
  }
  study::Trial trial;
  trial.possible = cells[1] == "1";
  for (std::size_t i = 2; i + 1 < cells.size(); ++i) {
    const std::string_view digits = std::string_view(cells[i]).substr(cells[i].starts_with("0x") ? 2 : 0);
    double value = 0;
    const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::hex);
    if (read.ec != std::errc{} || read.ptr != digits.data() + digits.size()) return false;
    if (i == 2) trial.merit = value;
    else trial.use.push_back(value);
  }
  known.emplace(std::move(point), std::move(trial));
  return true;
}

}  // namespace

TrialJournal::TrialJournal(std::string path, const std::string& hash, study::Trials& known) {
  const std::string head = journal_format + hash;
  bool same = false;
  {
    std::ifstream in(path);
    std::string line;
    same = std::getline(in, line) && line == head;
    while (same && std::getline(in, line) && take_trial(line, known)) ++read_;
  }
  // Written anew, so that a line that was cut off does not stand before the next.
  out_.open(path, std::ios::trunc);
  out_ << head << '\n';
  if (same)
    for (const auto& [point, trial] : known) out_ << line_of_trial(point, trial);
  out_.flush();
  if (!out_) throw std::runtime_error(path);
}

void TrialJournal::add(const study::Point& point, const study::Trial& trial) {
  out_ << line_of_trial(point, trial);
  out_.flush();
}

}  // namespace seamwright::files
