// SPDX-License-Identifier: GPL-3.0-or-later
// sweep: a table of variants, over all cores, resumable, in parts. What is done stands in FILE.part as
// "number TAB row"; a torn last line is done again. The table itself comes whole and in the order of the
// numbers, whatever the threads did.
#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <map>
#include <memory>
#include <mutex>

#include <fmt/format.h>

#include "app/cli/commands.h"
#include "app/cli/progress.h"
#include "catalog/files/source.h"
#include "catalog/files/sweep.h"
#include "engine/rating/parallel.h"
#include "engine/study/variant.h"
#include "reports/text/text.h"

namespace seamwright::cli {

namespace {

constexpr std::size_t ask_above = 10000;

struct Options {
  std::string file, job, csv, part;
  std::vector<std::string> join;
  std::size_t threads = 0;
  bool yes = false;
};

struct Share {
  std::size_t number = 1, of = 1;
};

Share share_of(const std::string& text) {
  Share s;
  if (text.empty()) return s;
  const char* end = text.data() + text.size();
  const auto first = std::from_chars(text.data(), end, s.number);
  const bool slash = first.ec == std::errc{} && first.ptr != end && *first.ptr == '/';
  const auto second = slash ? std::from_chars(first.ptr + 1, end, s.of) : first;
  if (!slash || second.ec != std::errc{} || second.ptr != end || s.number < 1 || s.number > s.of ||
      s.of > 1000000)
    throw CLI::ValidationError("--part", "expected k/n with 1 <= k <= n");
  return s;
}

std::string quoted(const std::string& cell) {
  if (cell.find_first_of(",\"\n") == std::string::npos) return cell;
  std::string out = "\"";
  for (const char c : cell) out.append(c == '"' ? "\"\"" : std::string(1, c));
  return out + "\"";
}

std::string number_cell(double value) {
  return std::isfinite(value) ? fmt::format("{:.6g}", value) : std::string();
}

std::string header(const files::Sweep& sweep) {
  std::string line = "variant";
  for (const files::SweepParameter& p : sweep.parameters) line += "," + quoted(p.place);
  return line + ",duty,verdict,governing_weld,site,damage,life_km,failure_probability,mass_kg,fault\n";
}

// One row. A variant that is impossible says why and goes on.
std::string row_of(const files::Sweep& sweep, std::size_t number, const std::string& job,
                   const Session& session) {
  const files::Variant v = files::variant_of(sweep, number);
  std::string line = std::to_string(number + 1);
  for (const double value : v.values) line += "," + number_cell(value);
  line += "," + quoted(std::filesystem::path(v.duty).filename().string());
  try {
    const published::Catalog& catalog = published::catalog();
    const rating::Job changed = files::read_job(job, v.duty, catalog, v.changes);
    const rating::Rating r = rating::rate(
        changed, catalog.data, sweep.time_domain ? rating::Method::time : rating::Method::spectral, {});
    const rating::SiteRating& site = r.welds[0].sites[0];
    line += fmt::format(",{},{},{},{},{},{},{},\n", name_of(r.verdict), quoted(r.governing_weld),
                        quoted(site.site), number_cell(site.damage), number_cell(site.life_km),
                        number_cell(r.likelihood.frame.probability),
                        number_cell(study::frame_mass_kg(changed.design.frame)));
  } catch (const Fault& fault) {
    line += ",impossible,,,,,,," + quoted(reports::sentence(fault.message, session.language)) + "\n";
  }
  std::replace(line.begin(), line.end() - 1, '\n', ' ');
  return line;
}

std::string identity(const files::Sweep& sweep, const Options& o) {
  std::string all =
      sweep.sha256 + published::catalog().sha256 + files::sha256(files::read_text(files::design_path(o.job)));
  for (std::size_t d = 0; d < std::max<std::size_t>(1, sweep.duties.size()); ++d) {
    const std::string duty =
        sweep.duties.empty()
            ? std::filesystem::path(files::design_path(o.job)).replace_filename("duty.toml").string()
            : sweep.duties[d];
    all += files::sha256(files::read_text(duty));
  }
  // Own details and proofs decide as well.
  for (const char* folder : {"details", "procedures"}) {
    std::vector<std::string> paths;
    std::error_code none;
    const auto place = std::filesystem::path(files::design_path(o.job)).replace_filename(folder);
    for (const auto& entry : std::filesystem::directory_iterator(place, none))
      if (entry.path().extension() == ".toml") paths.push_back(entry.path().string());
    std::sort(paths.begin(), paths.end());
    for (const std::string& path : paths) all += files::sha256(files::read_text(path));
  }
  return files::sha256(all).substr(0, 16);
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

int run(const Options& o, const Session& session) {
  const files::Sweep sweep = files::read_sweep(o.file);
  const std::size_t count = files::variants_of(sweep);
  if (count > ask_above && !o.yes)
    throw Fault{Message{"sweep.ask", {number("count", static_cast<double>(count), "")}}};
  const Share share = share_of(o.part);
  Journal journal(o.csv + ".part",
                  identity(sweep, o) + " " + std::to_string(share.number) + "/" + std::to_string(share.of));
  std::vector<std::size_t> mine, left;
  for (std::size_t i = share.number - 1; i < count; i += share.of) mine.push_back(i);
  for (const std::size_t i : mine)
    if (!journal.rows().contains(i)) left.push_back(i);
  {
    Bar bar;
    std::size_t done = mine.size() - left.size();
    std::mutex lock;
    rating::over_tasks(left.size(), o.threads, [&](std::size_t i) {
      journal.add(left[i], row_of(sweep, left[i], o.job, session));
      const std::lock_guard<std::mutex> guard(lock);
      bar.show(static_cast<double>(++done) / static_cast<double>(mine.size()));
    });
  }
  std::string table = header(sweep);
  for (const std::size_t i : mine) table += journal.rows().at(i);
  write_file(o.csv, table);
  journal.remove();
  print(reports::sentence(
            {"sweep.done", {number("count", static_cast<double>(mine.size()), ""), text("file", o.csv)}},
            session.language) +
        "\n");
  return 0;
}

// Parts of the same sweep: the same header, every number once.
int join(const Options& o, const Session& session) {
  std::string head;
  std::map<std::size_t, std::string> rows;
  for (const std::string& path : o.join) {
    const std::string content = files::read_text(path);
    const std::size_t first = content.find('\n');
    const std::string here = content.substr(0, first == std::string::npos ? content.size() : first + 1);
    if (!head.empty() && here != head) throw Fault{Message{"sweep.other-table", {text("file", path)}}};
    head = here;
    for (std::size_t at = here.size(), end = 0; at < content.size(); at = end + 1) {
      end = std::min(content.find('\n', at), content.size());
      std::size_t number = 0;
      std::from_chars(content.data() + at, content.data() + end, number);
      if (number == 0 || !rows.emplace(number, content.substr(at, end - at) + "\n").second)
        throw Fault{Message{
            "sweep.twice",
            {text("file", path), text("row", content.substr(at, std::min<std::size_t>(end - at, 40)))}}};
    }
  }
  if (!rows.empty() && rows.rbegin()->first != rows.size())
    throw Fault{Message{"sweep.gap",
                        {number("rows", static_cast<double>(rows.size()), ""),
                         number("last", static_cast<double>(rows.rbegin()->first), "")}}};
  for (const auto& [number, row] : rows) head += row;
  write_file(o.csv, head);
  print(reports::sentence(
            {"sweep.done", {number("count", static_cast<double>(rows.size()), ""), text("file", o.csv)}},
            session.language) +
        "\n");
  return 0;
}

}  // namespace

void add_sweep(CLI::App& app, Session& session) {
  auto o = std::make_shared<Options>();
  CLI::App* command =
      app.add_subcommand("sweep", "A table of variants: parameters and duties in every combination");
  auto* file = command->add_option("file", o->file, "sweep file; the job is its folder");
  command->add_option("--job", o->job, "job folder or design file in place of the sweep file's folder")
      ->needs(file);
  command
      ->add_option("--csv", o->csv,
                   "the table; what is done so far stands in FILE.part, and a run goes on from there")
      ->required();
  command->add_option("--threads", o->threads, "how many at once; 0: one per processor")
      ->check(CLI::Range(0, 256));
  auto* part =
      command->add_option("--part", o->part, "k/n: every n-th variant from the k-th on, for job arrays");
  command->add_flag("--yes", o->yes, "go on with more than 10 000 variants");
  command->add_option("--join", o->join, "put the tables of all parts together")
      ->excludes(file)
      ->excludes(part);
  command->callback([o, &session] {
    if (o->file.empty() && o->join.empty()) throw CLI::RequiredError("file or --join");
    session.run = [o, &session] {
      if (!o->join.empty()) return join(*o, session);
      if (o->job.empty()) {
        const std::filesystem::path folder = std::filesystem::path(o->file).parent_path();
        o->job = folder.empty() ? "." : folder.string();
      }
      return on_job(o->job, [&] { return run(*o, session); });
    };
  });
}

}  // namespace seamwright::cli
