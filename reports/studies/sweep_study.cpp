// SPDX-License-Identifier: GPL-3.0-or-later
// Rows that are done stand in FILE.part as "number TAB row"; a torn last line is done again. The table itself
// comes whole and in the order of the numbers, whatever the threads did.
#include "reports/studies/sweep_study.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <map>
#include <mutex>

#include "catalog/files/source.h"
#include "catalog/published/sha256.h"
#include "engine/threads/parallel.h"
#include "engine/study/variant.h"
#include "engine/threads/parallel.h"

namespace seamwright::reports {

namespace {

std::string quoted(const std::string& cell) {
  if (cell.find_first_of(",\"\n") == std::string::npos) return cell;
  std::string out("\"");
  for (const char c : cell) out.append(c == '"' ? 2 : 1, c);
  out.push_back('"');
  return out;
}

std::string number_cell(double value) {
  return std::isfinite(value) ? fmt::format("{:.6g}", value) : std::string();
}

std::string header(const files::Sweep& sweep) {
  std::string line = "variant";
  for (const files::SweepParameter& p : sweep.parameters) line.append(",").append(quoted(p.place));
  return line + ",duty,verdict,governing_weld,site,damage,life_km,failure_probability,mass_kg,fault\n";
}

// One row. A variant that is impossible says why and goes on.
std::string row_of(const files::Sweep& sweep, std::size_t number, const SweepRun& run) {
  const files::Variant v = files::variant_of(sweep, number);
  std::string line = std::to_string(number + 1);
  for (const double value : v.values) line.append(",").append(number_cell(value));
  line.append(",").append(quoted(std::filesystem::path(v.duty).filename().string()));
  try {
    const published::Catalog& catalog = published::catalog();
    const rating::Job changed = files::read_job(run.job, v.duty, catalog, v.changes);
    const rating::Rating r = rating::rate(
        changed, catalog.data, sweep.time_domain ? rating::Method::time : rating::Method::spectral, {});
    const rating::SiteRating& site = r.welds[0].sites[0];
    line += fmt::format(",{},{},{},{},{},{},{},\n", name_of(r.verdict), quoted(r.governing_weld),
                        quoted(site.site), number_cell(site.damage), number_cell(site.life_km),
                        number_cell(r.likelihood.frame.probability),
                        number_cell(study::frame_mass_kg(changed.design.frame)));
  } catch (const Fault& fault) {
    line += ",impossible,,,,,,," + quoted(run.say(fault.message)) + "\n";
  }
  std::replace(line.begin(), line.end() - 1, '\n', ' ');
  return line;
}

std::string identity(const files::Sweep& sweep, const SweepRun& o) {
  std::string all =
      sweep.sha256 + published::catalog().sha256 + sha256_hex(files::read_text(files::design_path(o.job)));
  for (std::size_t d = 0; d < std::max<std::size_t>(1, sweep.duties.size()); ++d) {
    const std::string duty =
        sweep.duties.empty()
            ? std::filesystem::path(files::design_path(o.job)).replace_filename("duty.toml").string()
            : sweep.duties[d];
    all += sha256_hex(files::read_text(duty));
  }
  // Own details and proofs decide as well.
  for (const char* folder : {"details", "procedures"}) {
    std::vector<std::string> paths;
    std::error_code none;
    const auto place = std::filesystem::path(files::design_path(o.job)).replace_filename(folder);
    for (const auto& entry : std::filesystem::directory_iterator(place, none))
      if (entry.path().extension() == ".toml") paths.push_back(entry.path().string());
    std::sort(paths.begin(), paths.end());
    for (const std::string& path : paths) all += sha256_hex(files::read_text(path));
  }
  return sha256_hex(all).substr(0, 16);
}

// The journal of finished rows; only one process may write it.
class Journal {
 public:
  Journal(const std::string& path, const std::string& id) : path_(path) {
    fd_ = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0644);
    if (fd_ < 0) throw std::runtime_error("cannot write " + path);
    if (::flock(fd_, LOCK_EX | LOCK_NB) != 0)
      throw std::runtime_error(path + " is being written by another run");
    load(id);
  }
  ~Journal() { ::close(fd_); }
  Journal(const Journal&) = delete;
  Journal& operator=(const Journal&) = delete;

  const std::map<std::size_t, std::string>& rows() const { return rows_; }
  void add(std::size_t number, const std::string& row) {
    const std::lock_guard<std::mutex> guard(lock_);
    write(std::to_string(number) + "\t" + row);
    rows_[number] = row;
  }
  void remove() { ::unlink(path_.c_str()); }

 private:
  void write(const std::string& text) {
    std::size_t done = 0;
    while (done < text.size()) {
      const ssize_t wrote = ::write(fd_, text.data() + done, text.size() - done);
      if (wrote <= 0) throw std::runtime_error("cannot write " + path_);
      done += static_cast<std::size_t>(wrote);
    }
  }
  void load(const std::string& id) {
    std::string content;
    char block[65536];
    for (ssize_t got = 0; (got = ::read(fd_, block, sizeof block)) > 0;)
      content.append(block, static_cast<std::size_t>(got));
    const std::string first = "seamwright.sweep/1 " + id + "\n";
    std::size_t end = 0;
    if (content.starts_with(first)) {
      end = first.size();
      for (std::size_t at = end, line = 0; (line = content.find('\n', at)) != std::string::npos;
           at = end = line + 1) {
        std::size_t number = 0;
        const auto tab = content.find('\t', at);
        const auto parsed = std::from_chars(content.data() + at, content.data() + line, number);
        if (tab == std::string::npos || tab > line || parsed.ptr != content.data() + tab) break;
        rows_[number] = content.substr(tab + 1, line - tab);
      }
    }
    // Another sweep's journal is begun anew; a torn line is cut off.
    if (::ftruncate(fd_, static_cast<off_t>(end)) != 0 || ::lseek(fd_, 0, SEEK_END) < 0)
      throw std::runtime_error("cannot write " + path_);
    if (end == 0) write(first);
  }

  std::string path_;
  int fd_ = -1;
  std::mutex lock_;
  std::map<std::size_t, std::string> rows_;
};

}  // namespace

std::size_t run_sweep(const files::Sweep& sweep, const SweepRun& run, const rating::Progress& progress) {
  const std::size_t count = files::variants_of(sweep);
  Journal journal(run.csv + ".part",
                  identity(sweep, run) + " " + std::to_string(run.part) + "/" + std::to_string(run.parts));
  std::vector<std::size_t> mine, left;
  for (std::size_t i = run.part - 1; i < count; i += run.parts) mine.push_back(i);
  for (const std::size_t i : mine)
    if (!journal.rows().contains(i)) left.push_back(i);
  std::size_t done = mine.size() - left.size();
  std::mutex lock;
  threads::over_tasks(left.size(), run.threads, [&](std::size_t i) {
    if (progress.stop.stop_requested()) throw rating::Stopped();
    journal.add(left[i], row_of(sweep, left[i], run));
    const std::lock_guard<std::mutex> guard(lock);
    ++done;
    if (progress.report) progress.report(static_cast<double>(done) / static_cast<double>(mine.size()));
  });
  std::string table = header(sweep);
  for (const std::size_t i : mine) table += journal.rows().at(i);
  files::write_text(run.csv, table);
  journal.remove();
  return mine.size();
}

Document sweep_document(const std::string& csv, std::size_t rows) {
  constexpr std::size_t most = 100;
  Document d;
  d.title = {"sweep.title", {}};
  d.blocks.push_back(
      Paragraph{{"sweep.done", {number("count", static_cast<double>(rows), ""), text("file", csv)}}});
  Table t;
  const std::string content = files::read_text(csv);
  for (std::size_t at = 0, end = 0; at < content.size() && t.rows.size() < most; at = end + 1) {
    end = std::min(content.find('\n', at), content.size());
    std::vector<std::string> cells{{}};
    bool inside = false;
    for (const char c : content.substr(at, end - at)) {
      if (c == '"') inside = !inside;
      if (c == ',' && !inside)
        cells.emplace_back();
      else if (c != '"')
        cells.back().push_back(c);
    }
    std::vector<Cell> row;
    for (std::string& cell : cells) {
      if (at == 0)
        t.columns.push_back({"column.source", {text("source", cell)}});
      else
        row.emplace_back(Verbatim{std::move(cell)});
    }
    if (at > 0) t.rows.push_back(std::move(row));
  }
  d.blocks.push_back(std::move(t));
  return d;
}

}  // namespace seamwright::reports
