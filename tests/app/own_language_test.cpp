// SPDX-License-Identifier: GPL-3.0-or-later
// The command line in other languages: every description has words of its own, and the parser's faults are sentences.
#include "app/cli/own_language.h"

#include <catch2/catch.hpp>
#include <set>

#include "app/cli/commands.h"

using namespace seamwright;

namespace {

std::vector<std::string> descriptions_in(const char* code) {
  CLI::App app;
  cli::Session session;
  session.language = reports::language_named(code);
  cli::add_commands(app, session);
  cli::translate_help(app, session.language);
  return cli::descriptions(app);
}

Message fault_of(std::vector<std::string> words) {
  CLI::App app;
  cli::Session session;
  cli::add_commands(app, session);
  std::reverse(words.begin(), words.end());  // as the parser takes them
  try {
    app.parse(words);
  } catch (const CLI::ParseError& error) {
    return cli::parse_fault(error, app);
  }
  return {"usage.other", {}};
}

}  // namespace

TEST_CASE("every description of the command line stands in German, and no German words are left over") {
  const std::vector<std::string> english = descriptions_in("en"), german = descriptions_in("de");
  REQUIRE(english.size() == german.size());
  const std::set<std::string> same_in_both{"", "curves, details, joint-kinds, references, rigs, roads, steels, surfaces, tubes", "Deutsch, English", "English, Deutsch"};
  std::set<std::string> missing;
  for (std::size_t i = 0; i < english.size(); ++i)
    if (english[i] == german[i] && !same_in_both.contains(english[i])) missing.insert(english[i]);
  for (const std::string& text : missing) UNSCOPED_INFO(text);
  CHECK(missing.empty());
  const std::set<std::string> known(english.begin(), english.end());
  std::vector<std::string> left_over;
  for (const auto& [word, own] : cli::help_words(reports::language_named("de")))
    if (word.find(' ') != std::string_view::npos && !known.contains(std::string(word))) left_over.emplace_back(word);
  for (const std::string& text : left_over) UNSCOPED_INFO(text);
  CHECK(left_over.empty());
}

TEST_CASE("what the parser refuses is told in sentences that have both languages") {
  CHECK(fault_of({}).id == "usage.no-command");
  CHECK(fault_of({"rate"}).id == "usage.required");
  CHECK(fault_of({"rate", "job", "--weld"}).id == "usage.no-value");
  CHECK(fault_of({"rate", "job", "--method", "fast"}).id == "usage.not-among");
  CHECK(fault_of({"rate", "job", "--samples", "abc"}).id == "usage.no-typed-number");
  const Message range = fault_of({"rate", "job", "--samples", "5"});
  REQUIRE(range.id == "usage.not-in-range");
  CHECK(std::get<std::string>(range.arguments.at(2).value) == "1000");
  CHECK(std::get<std::string>(range.arguments.at(3).value) == "100000000");
  CHECK(fault_of({"rate", "job", "--explain"}).id == "usage.requires");
  CHECK(fault_of({"rate", "job", "--weld", "W1", "--throats"}).id == "usage.excludes");
  CHECK(fault_of({"rate", "job", "more"}).id == "usage.not-expected");
  const Message misspelt = fault_of({"rate", "job", "--wled", "W33"});
  REQUIRE(misspelt.id == "usage.unknown-option");
  CHECK(std::get<std::string>(misspelt.arguments.at(0).value) == "--wled");
  CHECK(std::get<std::string>(misspelt.arguments.at(1).value) == "--weld");
  CHECK(fault_of({"recall", "--book", "b"}).id == "usage.one-of");
  CHECK(fault_of({"recall", "--book", "b", "--heet", "H"}).id == "usage.unknown-option");
  const Message missing = fault_of({"compare", "one"});
  REQUIRE(missing.id == "usage.required");
  CHECK_FALSE(std::get<std::string>(missing.arguments.at(1).value).empty());
  CHECK(fault_of({"rate", "job", "--html", "/no/such/folder/x.html"}).id == "usage.no-folder");
}

TEST_CASE("a misspelt command gets the nearest, at either level") {
  CLI::App app;
  cli::Session session;
  cli::add_commands(app, session);
  const auto nearest_to = [&](std::vector<const char*> words) {
    words.insert(words.begin(), "seamwright");
    try {
      cli::require_known_command(app, static_cast<int>(words.size()), words.data());
    } catch (const Fault& fault) {
      return std::get<std::string>(fault.message.arguments.at(1).value);
    }
    return std::string();
  };
  CHECK(nearest_to({"raet", "job"}) == "rate");
  CHECK(nearest_to({"book", "verfy", "shop.book"}) == "verify");
  CHECK(nearest_to({"--language", "de", "sheet", "ratng"}) == "rating");
  CHECK(nearest_to({"book", "verify", "shop.book"}).empty());
  CHECK(nearest_to({"rate", "no-such-job"}).empty());
}
