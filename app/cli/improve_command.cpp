// SPDX-License-Identifier: GPL-3.0-or-later
// improve: the lightest or cheapest frame from the shop's stock that meets the job's targets.
#include <csignal>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <filesystem>
#include <memory>
#include <thread>

#include "app/cli/commands.h"
#include "app/cli/joint_models.h"
#include "app/cli/progress_bar.h"
#include "catalog/files/improved_job.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/macros_reader.h"
#include "catalog/files/stock_reader.h"
#include "catalog/published/sha256.h"
#include "reports/content/improve_blocks.h"
#include "reports/render/json.h"
#include "reports/render/render.h"
#include "reports/text/text.h"

namespace seamwright::cli {

namespace {

struct ImproveOptions {
  std::string job, duty, stock, aim = "mass", out, html, seed = "seamwright";
  std::vector<std::string> keep;
  std::size_t trials = 600, sizes = 0, answers = 3, kicks = 1, threads = 0;
  double minutes = 0;
  bool throats = false, apart = false, prove = false, equations = false, confirm = false, json = false;
};

std::atomic<bool> interrupted = false;  // by Ctrl-C
static_assert(std::atomic<bool>::is_always_lock_free);

// Ctrl-C ends the search and not the program, so long as this lives.
class Interrupt {
 public:
  Interrupt() : before_(std::signal(SIGINT, [](int) { interrupted = true; })) {
    watch_ = std::jthread([this](const std::stop_token& over) {
      while (!over.stop_requested() && !interrupted) std::this_thread::sleep_for(std::chrono::milliseconds(50));
      if (interrupted) stop_.request_stop();
    });
  }
  ~Interrupt() { std::signal(SIGINT, before_); }
  Interrupt(const Interrupt&) = delete;
  Interrupt& operator=(const Interrupt&) = delete;
  std::stop_token token() const { return stop_.get_token(); }

 private:
  void (*before_)(int);
  std::stop_source stop_;
  std::jthread watch_;
};

// The job with its design's text, which may have tubes of its own for each member.
struct Subject {
  files::SourceFile design;
  std::string text;
  rating::Job job;
};

Subject subject_of(const ImproveOptions& o) {
  const published::Catalog& catalog = published::catalog();
  const files::SourceFile job(o.job), design = files::design_file(job);
  const files::SourceFile duty(files::duty_path(o.job, o.duty));
  Subject s{design, files::read_text(design), {}};
  if (o.apart) s.text = files::with_tubes_apart(design.name, s.text);
  s.job = files::read_job_texts(design, s.text, duty, files::read_text(duty), catalog);
  return s;
}

study::Stock stock_of(const ImproveOptions& o, const Subject& s) {
  const published::Catalog& catalog = published::catalog();
  if (!o.stock.empty()) return files::read_stock(o.stock, catalog);
  if (std::optional<study::Stock> own = files::own_stock(s.design, catalog)) return std::move(*own);
  throw Fault{Message{"improve.no-stock", {text("file", s.design.beside("stock.csv").name), text("expected", "item,steel,diameter_mm,wall_mm,price")}}};
}

// Where proofs may be added, models of the same joints with fused roots are asked for too.
void add_models(const ImproveOptions& o, Subject& s, const Session& session) {
  if (o.equations) return;
  add_joint_models(s.job, session.language, Variants::scaled);
  if (!o.prove) return;
  rating::Job fused = s.job;
  for (joints::Weld& w : fused.design.welds)
    if (joints::at_tube_node(w)) w.root_proven = true;
  add_joint_models(fused, session.language, Variants::scaled);
  auto both = std::make_shared<solid::JointLibrary>(*s.job.joint_models);
  both->models.insert(both->models.end(), fused.joint_models->models.begin(), fused.joint_models->models.end());
  s.job.joint_models = std::move(both);
}

study::ImproveOrder order_of(const ImproveOptions& o, const Subject& s) {
  study::ImproveOrder order;
  order.stock = stock_of(o, s);
  order.aim = o.aim == "price" ? study::Aim::price : study::Aim::mass;
  order.choose.throats = o.throats;
  order.choose.keep = {o.keep.begin(), o.keep.end()};
  order.most_sizes = o.sizes;
  order.answers = o.answers;
  order.search.most_trials = o.trials;
  order.search.most_kicks = o.kicks;
  order.search.seed = o.seed;
  order.search.threads = o.threads;
  order.prove = files::root_prover(s.design, o.prove);
  if (o.minutes > 0)
    order.search.time_over = [end = std::chrono::steady_clock::now() + std::chrono::duration<double>(60 * o.minutes)] {
      return std::chrono::steady_clock::now() >= end;
    };
  return order;
}

// All that a trial follows from.
std::string hash_of(const ImproveOptions& o, const Subject& s, const study::ImproveOrder& order) {
  std::string all = s.text + '\0' + files::read_text(files::duty_path(o.job, o.duty)) + '\0' + published::catalog().sha256 + '\0' + SEAMWRIGHT_VERSION;
  for (const study::StockTube& t : order.stock.tubes)
    all += '\0' + t.steel + '\0' + std::to_string(t.size.diameter_mm) + '\0' + std::to_string(t.size.wall_mm);
  for (const std::string& k : order.choose.keep) all += '\0' + k;
  for (const files::SourceFile& f : s.design.beside("procedures").files_in(".toml")) all += '\0' + files::read_text(f);
  for (const bool b : {o.throats, o.prove, o.equations}) all += b ? '1' : '0';
  return sha256_hex(all);
}

std::string folder_of(const ImproveOptions& o, std::size_t number) { return (std::filesystem::path(o.out) / std::to_string(number)).string(); }

// Nothing is rated for an hour and then not written.
void check_folders(const ImproveOptions& o) {
  if (o.out.empty()) return;
  for (std::size_t i = 1; i <= o.answers; ++i)
    if (std::filesystem::exists(folder_of(o, i))) throw Fault{Message{"new.exists", {text("file", folder_of(o, i))}}};
  std::error_code error;
  std::filesystem::create_directories(o.out, error);
  if (error) throw std::runtime_error(o.out + ": " + error.message());
}

std::vector<files::WrittenAnswer> write_answers(const ImproveOptions& o, const Subject& s, const study::Improvement& found, const Session& session) {
  std::vector<files::WrittenAnswer> all;
  if (o.out.empty()) return all;
  for (std::size_t i = 0; i < found.answers.size(); ++i) {
    files::WrittenAnswer w;
    w.folder = folder_of(o, i + 1);
    files::write_improved_job(o.job, w.folder, files::improved_text(s.design.name, s.text, s.job.design, found.answers[i], i + 1));
    if (!o.duty.empty()) files::write_text((std::filesystem::path(w.folder) / "duty.toml").string(), files::read_text(o.duty));
    rating::Job job = files::read_job(w.folder, "", published::catalog());
    if (o.confirm && !interrupted) {
      if (!o.equations) add_joint_models(job, session.language);
      Bar bar;
      const rating::Rating r = rating::rate(job, published::catalog().data, rating::Method::time, bar.progress());
      w.confirmed = true;
      w.verdict = r.verdict;
      w.cracked_of_1000 = 1000 * r.predicted.cracked.mean;
      w.weld = r.governing_weld;
    }
    all.push_back(std::move(w));
  }
  return all;
}

study::Improvement searched(const Subject& s, const study::ImproveOrder& order, study::Trials& known, const Session& session) {
  const Interrupt interrupt;
  Bar bar({reports::sentence({"progress.improve", {}}, session.language), std::string(reports::sentence_template("progress.left", session.language))});
  rating::Progress progress = bar.progress();
  progress.stop = interrupt.token();
  return study::improve(s.job, published::catalog().data, order, known, progress);
}

int improve(const ImproveOptions& o, const Session& session) {
  interrupted = false;
  check_folders(o);
  Subject s = subject_of(o);
  study::ImproveOrder order = order_of(o, s);
  add_models(o, s, session);
  study::Trials known;
  std::unique_ptr<files::TrialJournal> journal;
  if (!o.out.empty()) {
    journal = std::make_unique<files::TrialJournal>((std::filesystem::path(o.out) / "trials.part").string(), hash_of(o, s, order), known);
    order.search.sink = [&](const study::Point& p, const study::Trial& t) { journal->add(p, t); };
  }
  const study::Improvement found = searched(s, order, known, session);
  const std::vector<files::WrittenAnswer> written = write_answers(o, s, found, session);
  const reports::Document document = reports::improve_document(found, written);
  write_and_show(
      [&] {
        if (!o.html.empty()) files::write_text(o.html, reports::to_html(document, session.language));
      },
      [&] {
        if (o.json)
          print(reports::to_json(found, written));
        else
          print(document, session);
      });
  return found.reached && !found.answers.empty() && found.answers[0].figures.uncovered == 0 ? 0 : 1;
}

}  // namespace

void add_improve(CLI::App& app, Session& session) {
  auto o = std::make_shared<ImproveOptions>();
  CLI::App* command = app.add_subcommand("improve", "Find the lightest or cheapest frame from the shop's stock that meets the targets");
  command->add_option("job", o->job, "job folder or design file")->required();
  command->add_option("--duty", o->duty, "duty file in place of the job's");
  command->add_option("--stock", o->stock, "table of stock in place of stock.csv in the job folder");
  command->add_option("--aim", o->aim, "what is to be least: mass or price")->check(CLI::IsMember({"mass", "price"}))->capture_default_str();
  command->add_option("--keep", o->keep, "tube of the design that stays as it is");
  command->add_option("--sizes", o->sizes, "largest number of different tube sizes; 0: no limit")->check(CLI::Range(0, 1000));
  command->add_flag("--throats", o->throats, "also change throat thicknesses");
  command->add_flag("--apart", o->apart, "give each member and its mirrored twin a tube of its own");
  command->add_flag("--prove", o->prove, "weld open roots by those procedures of the job that prove them fused");
  command->add_option("--trials", o->trials, "largest number of trial ratings")->check(CLI::Range(1, 1000000))->capture_default_str();
  command->add_option("--minutes", o->minutes, "end the search after this time; 0: no limit")->check(CLI::Range(0.0, 100000.0));
  command->add_option("--kicks", o->kicks, "fresh starts from the best frame with some tubes changed at random")->check(CLI::Range(0, 1000))->capture_default_str();
  command->add_option("--seed", o->seed, "word from which the random changes follow")->capture_default_str();
  command->add_option("--answers", o->answers, "number of frames to show, from light to durable")->check(CLI::Range(1, 20))->capture_default_str();
  command->add_option("--threads", o->threads, "number of parallel calculations; 0: one per processor")->check(CLI::Range(0, 256));
  auto* out = command->add_option("--out", o->out, "folder to write each frame into as a job; a search that was stopped continues from trials.part there");
  command->add_flag("--confirm", o->confirm, "rate each frame written by time histories, with its own joint models")->needs(out);
  add_equations(*command, o->equations);
  command->add_flag("--json", o->json, "one JSON document on stdout");
  command->add_option("--html", o->html, "also write an HTML page");
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return improve(*o, session); }); };
  });
}

}  // namespace seamwright::cli
