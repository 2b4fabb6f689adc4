// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <memory>

#include "app/cli/commands.h"
#include "app/cli/joint_models.h"
#include "app/cli/progress_bar.h"
#include "catalog/book/production.h"
#include "catalog/files/as_built.h"
#include "catalog/files/compared_jobs.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"
#include "catalog/models/user_counts.h"
#include "catalog/published/published_data.h"
#include "engine/evidence/named_values.h"
#include "engine/rating/memory.h"
#include "engine/rating/rate.h"
#include "engine/study/throat_needs.h"
#include "reports/content/brief_rating.h"
#include "reports/content/calculation_blocks.h"
#include "reports/content/rating_blocks.h"
#include "reports/content/seam_picture.h"
#include "reports/content/study_blocks.h"
#include "reports/content/summary_blocks.h"
#include "reports/content/throats_blocks.h"
#include "reports/render/json.h"
#include "reports/render/render.h"

namespace seamwright::cli {

namespace {

struct RateOptions {
  std::string job, duty, rules, method = "time", ranges, joints, weld, html, pdf, csv;
  std::string as_built, book;
  double samples = 0;
  bool explain = false, throats = false, json = false, equations = false, full = false;
};

constexpr const char* every_set = "all";

// The set that an option names, in place of the duty's; "" leaves the duty's.
void set_rules(rules::Rules& rules, const std::string& name) {
  if (!name.empty()) rules::change_set(rules, **find_named(rules::rule_sets, name));
}

rating::Method method_of(const RateOptions& options) {
  return options.method == "spectral" ? rating::Method::spectral : rating::Method::time;
}

std::vector<rating::Rating> by_all_rules(rating::Job job, const RateOptions& options,
                                         const published::Catalog& catalog, const rating::Known& known) {
  std::vector<rating::Rating> ratings;
  Bar bar;
  for (const rules::RuleSet* set : rules::rule_sets) {
    rules::change_set(job.rules, *set);
    ratings.push_back(rating::rate(job, catalog.data, method_of(options), bar.progress(), options.weld, known));
  }
  return ratings;
}

// Rates with rigid joints, and with the chord's wall giving way under each brace.
std::vector<rating::Rating> by_both_joints(rating::Job job, const RateOptions& options,
                                           const published::Catalog& catalog, const rating::Known& known) {
  std::vector<rating::Rating> ratings;
  Bar bar;
  for (const bool flexible : {false, true}) {
    job.design.flexible_joints = flexible;
    ratings.push_back(rating::rate(job, catalog.data, method_of(options), bar.progress(), options.weld, known));
  }
  return ratings;
}

// Sections of the production tests that a book holds count with the macros of their procedure.
void count_book(rating::Job& job, const RateOptions& options) {
  if (!options.book.empty()) book::count_production_tests(book::Book::open_read(options.book), job.design);
}

// The joints as they are asked for.
void choose_joints(rating::Job& job, const RateOptions& options, const Session& session) {
  if (options.joints.empty()) {
    if (!options.equations) add_joint_models(job, session.language);
    return;
  }
  job.rules.bracket_joints = false;
  job.design.flexible_joints = options.joints == "flexible";
}

std::vector<rating::Rating> ratings_of(const RateOptions& options, const Session& session) {
  const published::Catalog& catalog = published::catalog();
  models::UserCounts kept;
  rating::Memory memory;
  const rating::Known known{&kept, &memory};
  rating::Job job = files::read_job(options.job, options.duty, catalog);
  files::require_subject(job.design, options.weld);  // before the work, not after it
  count_book(job, options);
  choose_joints(job, options, session);
  if (options.rules == every_set) return by_all_rules(job, options, catalog, known);
  set_rules(job.rules, options.rules);
  job.rules.simulated_samples = options.samples;
  if (options.joints == "both") return by_both_joints(job, options, catalog, known);
  if (!options.ranges.empty()) job.range_model = *find_named(cycles::range_models, options.ranges);
  Bar bar;
  std::vector<rating::Rating> ratings;
  if (options.method != "spectral")
    ratings.push_back(rating::rate(job, catalog.data, rating::Method::time, bar.progress(), options.weld, known));
  if (options.method != "time")
    ratings.push_back(
        rating::rate(job, catalog.data, rating::Method::spectral, bar.progress(), options.weld, known));
  return ratings;
}

reports::Document document_of(const std::vector<rating::Rating>& ratings, const RateOptions& options) {
  if (options.explain) return reports::calculation_document(ratings[0], options.weld);
  if (!options.weld.empty() && options.method == "both" && ratings.size() == 2)
    return reports::both_weld_document(ratings[0], ratings[1], options.weld);
  if (!options.weld.empty()) return reports::weld_document(ratings[0], options.weld);
  if (options.joints == "both") return reports::joints_document(ratings[0], ratings[1]);
  if (options.rules == every_set) return reports::rules_document(ratings);
  return ratings.size() == 2 ? reports::both_document(ratings[0], ratings[1])
                             : reports::rating_document(ratings[0]);
}

// One rating of all welds: the terminal shows what fits a screen.
bool whole_job(const RateOptions& options) {
  return options.weld.empty() && options.rules != every_set && options.joints != "both" && options.method != "both";
}

// A page has room for a picture of the explained or the governing weld, a terminal has not.
reports::Document with_picture(reports::Document document, const rating::Rating& rating, const RateOptions& options) {
  const bool whole = options.weld.empty() && options.rules != every_set && options.joints != "both";
  if (!options.explain && !whole) return document;
  const design::Design design = files::read_design(files::design_path(options.job), published::catalog());
  if (whole)
    reports::show_governing(document, design, rating);
  else if (auto picture = reports::used_picture(design, reports::rated_weld(rating, options.weld)))
    document.blocks.emplace(document.blocks.begin() + 1, reports::block_of(std::move(*picture)));
  return document;
}

int throats(const RateOptions& options, const Session& session) {
  rating::Job job = files::read_job(options.job, options.duty, published::catalog());
  set_rules(job.rules, options.rules);
  count_book(job, options);
  if (!options.equations) add_joint_models(job, session.language, Variants::scaled);
  std::vector<study::ThroatNeed> needs;
  {
    Bar bar;
    needs = study::throats_needed(job, published::catalog().data, bar.progress());
  }
  const reports::Document document = reports::throats_document(job, needs);
  if (!options.html.empty()) files::write_text(options.html, reports::to_html(document, session.language));
  if (!options.pdf.empty()) write_pdf(options.pdf, document, session);
  if (options.json)
    print(reports::to_json(needs));
  else
    print(document, session);
  return std::all_of(needs.begin(), needs.end(),
                     [](const auto& n) { return n.needed_mm <= n.throat_mm && !n.bound; })
             ? 0
             : 1;
}

// The design as drawn against the frame as it was welded.
int as_built(const RateOptions& options, const Session& session) {
  const published::Catalog& catalog = published::catalog();
  rating::Job drawn = files::read_job(options.job, options.duty, catalog);
  set_rules(drawn.rules, options.rules);
  count_book(drawn, options);
  rating::Job built = drawn;
  files::ComparedJobs r;
  const files::AsBuilt found =
      files::apply_as_built(options.as_built, files::read_measured(options.as_built), built.design);
  r.differences = found.changed;
  r.notes = found.without_effect;
  if (!options.equations)
    for (rating::Job* job : {&drawn, &built}) add_joint_models(*job, session.language);
  {
    Bar bar;
    r.rated = study::rate_pair(drawn, built, catalog.data, method_of(options), bar.progress());
  }
  for (const rating::WeldRating& w : r.rated.second.welds)
    for (Message& note : reports::as_built_notes(w)) r.notes.emplace_back(w.id, std::move(note));
  r.first = drawn.design.identity.name;
  r.second = reports::sentence({"as-built.name", {text("file", options.as_built)}}, session.language);
  const reports::Document document = reports::compare_document(r);
  if (!options.html.empty()) files::write_text(options.html, reports::to_html(document, session.language));
  if (!options.pdf.empty()) write_pdf(options.pdf, document, session);
  if (options.json)
    print(reports::to_json(r));
  else
    print(document, session);
  return r.rated.second.verdict == rating::Verdict::meets ? 0 : 1;
}

int rate(const RateOptions& options, const Session& session) {
  if (!options.as_built.empty()) return as_built(options, session);
  if (options.throats) return throats(options, session);
  std::vector<rating::Rating> ratings = ratings_of(options, session);
  const reports::Document document = document_of(ratings, options);
  rating::Verdict worst = rating::Verdict::meets;
  for (rating::Rating& r : ratings) {
    worst = std::max(worst, r.verdict);
    if (!options.weld.empty()) std::erase_if(r.welds, [&](const auto& w) { return w.id != options.weld; });
  }
  write_and_show(
      [&] {
        if (!options.html.empty() || !options.pdf.empty()) {
          const reports::Document page = with_picture(document, ratings[0], options);
          if (!options.html.empty()) files::write_text(options.html, reports::to_html(page, session.language));
          if (!options.pdf.empty()) write_pdf(options.pdf, page, session);
        }
        if (!options.csv.empty()) files::write_text(options.csv, reports::to_csv(ratings));
      },
      [&] {
        if (options.json)
          print(reports::to_json(ratings, options.weld));
        else
          print(whole_job(options) && !options.full ? reports::brief_document(ratings[0]) : document, session);
      });
  return worst == rating::Verdict::meets ? 0 : 1;
}

}  // namespace

void add_rate(CLI::App& app, Session& session) {
  auto options = std::make_shared<RateOptions>();
  std::vector<std::string> sets = names_of(rules::rule_sets);
  sets.emplace_back(every_set);
  CLI::App* command = app.add_subcommand("rate", "Rate every weld of a job: life, damage, verdict");
  command->add_option("job", options->job, "job folder or design file")->required();
  command->add_option("--duty", options->duty, "duty file in place of the job's");
  command->add_option("--rules", options->rules, "rule set in place of the duty's")
      ->check(CLI::IsMember(sets));
  command
      ->add_option("--method", options->method, "count time histories, use spectral moments, or both side by side")
      ->check(CLI::IsMember({"time", "spectral", "both"}))
      ->capture_default_str();
  command
      ->add_option("--ranges", options->ranges,
                   "model of the stress ranges from spectral moments, in place of the duty's")
      ->check(CLI::IsMember({"dirlik", "tovo-benasciutti", "narrow-band", "wirsching-light"}));
  add_equations(*command, options->equations);
  command
      ->add_option("--joints", options->joints,
                   "joints by equations alone: rigid, or with local joint flexibility, or both side by side")
      ->check(CLI::IsMember({"rigid", "flexible", "both"}));
  auto* weld = command->add_option("--weld", options->weld, "one weld only");
  command
      ->add_option("--as-built", options->as_built,
                   "table of measured welds: rates the frame as built against the drawing")
      ->excludes(weld);
  command->add_option("--book", options->book, "record book: sections of its production tests count with the macros of each WPS");
  command
      ->add_option("--samples", options->samples,
                   "number of samples to simulate the frame's probability of a crack, beside quadrature")
      ->check(CLI::Range(1000.0, 1e8));
  command->add_flag("--throats", options->throats, "throat thickness required for the root of each weld")->excludes(weld);
  command->add_flag("--explain", options->explain, "calculation steps of the result for --weld")->needs("--weld");
  command->add_flag("--full", options->full, "all welds, limit states, reliability budget, legs and assumptions, also on the terminal");
  command->add_flag("--json", options->json, "one JSON document on stdout");
  command->add_option("--html", options->html, "also write an HTML page");
  command->add_option("--pdf", options->pdf, "also write a PDF for printing");
  command->add_option("--csv", options->csv, "also write a table of all sites");
  command->callback([options, &session] {
    session.run = [options, &session] {
      return on_job(options->job, options->duty, [&] { return rate(*options, session); });
    };
  });
}

}  // namespace seamwright::cli
