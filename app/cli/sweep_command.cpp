// SPDX-License-Identifier: GPL-3.0-or-later
// sweep: a table of variants, in parts, and parts put together.
#include <charconv>
#include <filesystem>
#include <memory>

#include "app/cli/commands.h"
#include "app/cli/joint_models.h"
#include "app/cli/progress_bar.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "catalog/sweeps/sweep_database.h"
#include "catalog/sweeps/sweep_join.h"
#include "catalog/sweeps/sweep_reader.h"
#include "catalog/sweeps/sweep_table.h"
#include "reports/text/text.h"

namespace seamwright::cli {

namespace {

struct SweepOptions {
  std::string file, job, csv, part;
  std::vector<std::string> join;
  std::size_t threads = 0;
  bool yes = false, discard = false, equations = false;
};

struct Share {
  std::size_t number = 1, count = 1;
};

Share share_of(const std::string& text) {
  Share s;
  if (text.empty()) return s;
  const char* end = text.data() + text.size();
  const auto first = std::from_chars(text.data(), end, s.number);
  const bool slash = first.ec == std::errc{} && first.ptr != end && *first.ptr == '/';
  const auto second = slash ? std::from_chars(first.ptr + 1, end, s.count) : first;
  if (!slash || second.ec != std::errc{} || second.ptr != end || s.number < 1 || s.number > s.count ||
      s.count > 1000000)
    throw usage_fault("usage.part");
  return s;
}

void print_done(std::size_t rows, const std::vector<std::string>& files, const Session& session) {
  for (const std::string& file : files)
    print(reports::sentence({"sweep.done", {number("count", static_cast<double>(rows), ""), text("file", file)}},
                            session.language) +
          "\n");
}

// Models of the job as it stands; its variants scale them. A job that is impossible as it stands has none.
std::shared_ptr<const solid::JointLibrary> joints_of_base(const SweepOptions& o, const Session& session) {
  if (o.equations) return {};
  rating::Job job;
  try {
    job.design = files::read_design(files::design_path(o.job), published::catalog());
  } catch (const Fault& fault) {
    if (fault.category != Category::input) throw;
    return {};
  }
  add_joint_models(job, session.language, Variants::scaled);
  return job.joint_models;
}

int run(const SweepOptions& o, const Session& session) {
  const sweeps::Sweep sweep = sweeps::read_sweep(o.file);
  const std::size_t count = sweeps::variants_of(sweep);
  if (count > study::ask_above && !o.yes)
    throw Fault{Message{
        "sweep.ask",
        {number("count", static_cast<double>(count), ""), sentence_argument("remedy", "remedy.share-out")}}};
  const Share share = share_of(o.part);
  sweeps::SweepRun run{
      o.job,       o.csv,
      o.threads,   share.number,
      share.count, o.discard,
      [&](const Message& message) { return reports::sentence(message, session.language); }};
  run.joint_models = joints_of_base(o, session);
  std::size_t rows = 0;
  {
    Bar bar;
    rows = sweeps::run_sweep(sweep, run, bar.progress());
  }
  std::vector<std::string> files{o.csv};
  if (share.count == 1) files.push_back(sweeps::database_of(o.csv));
  print_done(rows, files, session);
  return 0;
}

int join(const SweepOptions& o, const Session& session) {
  sweeps::check_place(o.csv);
  const std::size_t rows = sweeps::join_parts(o.join, o.csv);
  sweeps::write_database(o.csv);
  print_done(rows, {o.csv, sweeps::database_of(o.csv)}, session);
  return 0;
}

}  // namespace

void add_sweep(CLI::App& app, Session& session) {
  auto o = std::make_shared<SweepOptions>();
  CLI::App* command =
      app.add_subcommand("sweep", "Calculate a table of variants: parameters and duties in every combination");
  auto* file = command->add_option("file", o->file, "sweep file; its folder is the job");
  command->add_option("--job", o->job, "job folder or design file in place of the sweep file's folder")
      ->needs(file);
  command
      ->add_option("--csv", o->csv,
                   "table to write, with an SQLite file of the same name beside it; finished rows are kept in FILE.part, from which "
                   "a later call continues")
      ->required();
  command->add_option("--threads", o->threads, "number of parallel calculations; 0: one per processor")
      ->check(CLI::Range(0, 256));
  auto* part =
      command->add_option("--part", o->part, "k/n: every n-th variant from the k-th on, for job arrays");
  add_equations(*command, o->equations);
  command->add_flag("--yes", o->yes, "continue with more than 10 000 variants");
  command->add_flag("--discard", o->discard, "start again where FILE.part holds the rows of another sweep or of another state of the job");
  command->add_option("--join", o->join, "join the tables of all parts")
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
      return on_job(o->job, "", [&] { return run(*o, session); });
    };
  });
}

}  // namespace seamwright::cli
