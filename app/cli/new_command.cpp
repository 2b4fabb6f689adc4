// SPDX-License-Identifier: GPL-3.0-or-later
// new: a few measures and plain questions give a whole job to refine, on the demonstration's layout.
#include <fmt/format.h>

#include <iostream>
#include <memory>

#include "app/cli/commands.h"
#include "catalog/files/begin.h"
#include "catalog/published/published_data.h"
#include "engine/evidence/named_values.h"
#include "engine/evidence/typed.h"
#include "reports/text/text.h"

namespace seamwright::cli {

namespace {

struct NewOptions {
  std::string folder, name;
  std::map<files::Ask, std::string> given;
  std::vector<std::string> tubes;
  std::string hurt, inside;
  bool ask = false;
};

constexpr const char *goods = "goods", *people = "people";

double number_of(const files::Question& q, const std::string& typed) {
  if (const auto value = typed_number(typed)) return *value;
  throw Fault{Message{"new.no-number", {sentence_argument("measure", q.label), text("typed", typed)}}, Category::usage};
}

// A line from the terminal, "" for what is usual; nothing when there are no more.
std::optional<std::string> answer_to(const Message& prompt, const reports::Language& language) {
  std::cout << reports::sentence(prompt, language) << " " << std::flush;
  std::string line;
  if (!std::getline(std::cin, line)) return std::nullopt;
  const std::size_t first = line.find_first_not_of(" \t\r"), last = line.find_last_not_of(" \t\r");
  return first == std::string::npos ? std::string() : line.substr(first, last - first + 1);
}

// Asks until the answer is within its range; the usual one where there is none.
void ask_number(const files::Question& q, std::map<files::Ask, double>& given, const reports::Language& language) {
  const files::Answers usual = files::answered(given);
  const files::AskRange range = q.range(usual);
  const Message prompt{"new.prompt",
                       {sentence_argument("question", q.sentence), number("usual", usual[q.ask], q.unit),
                        number("least", range.least, q.unit), number("most", range.most, q.unit)}};
  while (const auto typed = answer_to(prompt, language)) {
    if (typed->empty()) return;
    try {
      given[q.ask] = number_of(q, *typed);
      files::answered(given);
      return;
    } catch (const Fault& fault) {
      given.erase(q.ask);
      std::cout << reports::sentence(fault.message, language) << "\n";
    }
  }
}

void ask_word(MessageId question, const std::vector<std::string>& words, std::string& word, const reports::Language& language) {
  const Message prompt{"new.prompt-word",
                       {sentence_argument("question", question), text("usual", words.front()),
                        text("words", fmt::format("{}", fmt::join(words, ", ")))}};
  while (const auto typed = answer_to(prompt, language)) {
    if (typed->empty()) return;
    if (std::find(words.begin(), words.end(), *typed) == words.end()) continue;
    word = *typed;
    return;
  }
}

std::vector<std::string> inside_words() {
  std::vector<std::string> words;
  for (const design::Inside inside : design::insides) words.emplace_back(design::name_of(inside));
  return words;
}

files::NewJob job_of(NewOptions& o, const reports::Language& language) {
  files::NewJob job;
  job.name = o.name;
  job.wording = files::Wording(language.file->code);
  for (const std::string& tube : o.tubes) job.tubes.push_back(files::named_tube_of(tube));
  for (const files::Question& q : files::questions()) {
    if (const auto typed = o.given.find(q.ask); typed != o.given.end()) job.given[q.ask] = number_of(q, typed->second);
    else if (o.ask) ask_number(q, job.given, language);
  }
  if (o.ask && o.hurt.empty()) ask_word("new.ask-in-the-box", {people, goods}, o.hurt, language);
  if (o.ask && o.inside.empty()) ask_word("new.ask-inside", inside_words(), o.inside, language);
  if (o.hurt == goods) job.hurt = rules::Consequence::whole_frame;
  for (const design::Inside inside : design::insides)
    if (o.inside == design::name_of(inside)) job.inside = inside;
  return job;
}

int make(NewOptions o, const Session& session) {
  const std::vector<std::string> names = files::begin_job(o.folder, job_of(o, session.language), published::catalog());
  std::vector<Message> told{{"new.done", {text("folder", o.folder), text("files", fmt::format("{}", fmt::join(names, ", ")))}}};
  if (!o.ask && (o.hurt.empty() || o.inside.empty() || !o.given.contains(files::Ask::look_every))) told.push_back({"new.severe", {}});
  told.push_back({"new.next", {text("folder", o.folder)}});
  for (const Message& m : told) print(reports::sentence(m, session.language) + "\n");
  return 0;
}

}  // namespace

void add_new(CLI::App& app, Session& session) {
  auto o = std::make_shared<NewOptions>();
  o->name = files::Wording(session.language.file->code).text("name", "New trike");
  CLI::App* command = app.add_subcommand("new", "Create a complete front-loader job from a few dimensions and plain questions, for refinement");
  command->add_option("folder", o->folder, "folder for the new job")->required();
  command->add_option("--name", o->name, "name of the design")->capture_default_str();
  command->add_flag("--ask", o->ask, "ask on the terminal for each value that no option gives; an empty answer takes the usual value");
  const files::Answers usual = files::answered({});
  for (const files::Question& q : files::questions()) {
    const files::AskRange range = q.range(usual);
    const std::string about = fmt::format("{} [{:g} {}; {:g} – {:g}]",
                                          reports::sentence(Message{q.sentence, {}}, session.language), usual[q.ask],
                                          q.unit, range.least, range.most);
    command->add_option_function<std::string>(std::string("--") + q.option,
                                              [o, ask = q.ask](const std::string& typed) { o->given[ask] = typed; }, about);
  }
  std::vector<std::string> tubes;
  for (const auto& [id, tube] : files::pattern_tubes()) tubes.push_back(fmt::format("{}={:g}x{:g}", id, tube.diameter_mm, tube.wall_mm));
  command->add_option("--tube", o->tubes, reports::sentence({"new.about-tube", {text("tubes", fmt::format("{}", fmt::join(tubes, ", ")))}}, session.language));
  command->add_option("--in-the-box", o->hurt, "contents of the box: people (more severe, usual) or goods")->check(CLI::IsMember({people, goods}));
  command->add_option("--inside", o->inside, "inside of the tubes: vented (more severe, usual), treated or sealed")->check(CLI::IsMember(inside_words()));
  command->callback([o, &session] { session.run = [o, &session] { return make(*o, session); }; });
}

}  // namespace seamwright::cli
