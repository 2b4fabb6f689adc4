// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/rate.h"

#include <sys/stat.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <iostream>
#include <memory>

#include "catalog/files/job.h"
#include "engine/rating/rate.h"
#include "reports/content/rating.h"
#include "reports/render/json.h"
#include "reports/render/render.h"

namespace seamwright::cli {

namespace {

struct Options {
  std::string job, duty, rules = "dnv", method = "time", weld, html;
  bool explain = false, json = false;
};

// Whole or not at all: a new file beside it, synced, then renamed.
void write_file(const std::string& path, const std::string& content) {
  std::string temporary = path + ".XXXXXX";
  const int fd = ::mkstemp(temporary.data());
  bool good = fd >= 0;
  std::size_t done = 0;
  while (good && done < content.size()) {
    const ssize_t wrote = ::write(fd, content.data() + done, content.size() - done);
    good = wrote > 0;
    done += good ? static_cast<std::size_t>(wrote) : 0;
  }
  good = good && ::fchmod(fd, 0644) == 0 && ::fsync(fd) == 0;
  if (fd >= 0) good = ::close(fd) == 0 && good;
  good = good && ::rename(temporary.c_str(), path.c_str()) == 0;
  if (good) return;
  if (fd >= 0) ::unlink(temporary.c_str());
  throw std::runtime_error("cannot write " + path);
}

int rate(const Options& options, reports::Language language) {
  const published::Catalog& catalog = published::catalog();
  rating::Job job = files::read_job(options.job, options.duty, catalog);
  job.rules.set = options.rules;
  const bool terminal = ::isatty(STDERR_FILENO) == 1;
  rating::Progress progress;
  if (terminal) progress.report = [](double share) { std::fprintf(stderr, "\rrating %3.0f %%", 100 * share); };
  const auto method = options.method == "spectral" ? rating::Method::spectral : rating::Method::time;
  const rating::Rating result = rating::rate(job, catalog.data, method, progress);
  if (terminal) std::fprintf(stderr, "\r             \r");
  const reports::Document document =
      options.weld.empty() ? reports::rating_document(result) : reports::explain_document(result, options.weld);
  if (!options.html.empty()) write_file(options.html, reports::to_html(document, language));
  if (options.json)
    std::cout << reports::to_json(result);
  else
    std::cout << reports::to_terminal(document, language, {});
  std::cout.flush();
  if (!std::cout) throw std::runtime_error("cannot write the result");
  return result.verdict == rating::Verdict::meets ? 0 : 1;
}

}  // namespace

void add_rate(CLI::App& app, const reports::Language& language, std::function<int()>& run) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("rate", "Rate every weld of a job: life, damage, verdict");
  command->add_option("job", options->job, "job folder or design file")->required();
  command->add_option("--duty", options->duty, "duty file in place of the job's");
  command->add_option("--rules", options->rules, "rule set")->check(CLI::IsMember({"dnv"}));
  command->add_option("--method", options->method, "count histories, or spectral moments")
      ->check(CLI::IsMember({"time", "spectral"}));
  command->add_option("--weld", options->weld, "one weld only");
  command->add_flag("--explain", options->explain, "the chain of the number of --weld")->needs("--weld");
  command->add_flag("--json", options->json, "one JSON document on stdout");
  command->add_option("--html", options->html, "also write a page");
  command->callback([options, &language, &run] { run = [options, &language] { return rate(*options, language); }; });
}

}  // namespace seamwright::cli
