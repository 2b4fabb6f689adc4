// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/own_language.h"

#include <cstring>
#include <map>
#include <optional>
#include <regex>

#include "app/cli/commands.h"
#include "app/cli/help_files.h"
#include "catalog/published/nearest.h"

namespace seamwright::cli {

namespace {

// The parser's words that stand in every help.
constexpr const char* parser_words[] = {"Usage", "OPTIONS", "SUBCOMMAND", "SUBCOMMANDS", "Positionals", "REQUIRED", "Options", "Subcommands",
                                        "TEXT", "FLOAT", "INT", "UINT", "Excludes", "Needs", "Print this help message and exit",
                                        "Display program version information and exit"};

// Descriptions, and the headings above options and commands.
template <typename Change>
void each_description(CLI::App& app, const Change& change) {
  app.description(change(app.get_description()));
  app.group(change(app.get_group()));
  for (CLI::Option* option : app.get_options()) {
    option->description(change(option->get_description()));
    option->group(change(option->get_group()));
  }
  for (CLI::App* command : app.get_subcommands([](CLI::App*) { return true; })) each_description(*command, change);
}

// "1000.000000" as people write it.
std::string without_zeros(const std::string& word) {
  static const std::regex padded("(-?[0-9]+)(?:\\.0+|(\\.[0-9]*[1-9])0+)");
  return std::regex_replace(word, padded, "$1$2", std::regex_constants::match_continuous);
}

struct ParserFault {
  const char* pattern;
  MessageId id;
  std::vector<const char*> names;  ///< of the pattern's groups
};

const std::vector<ParserFault>& parser_faults() {
  static const std::vector<ParserFault> all{
      {"A subcommand is required", "usage.no-command", {}},
      {"The following arguments? (?:was|were) not expected: ([\\s\\S]*)", "usage.not-expected", {"found"}},
      {"Exactly 1 option from \\[([\\s\\S]*)\\] is required[\\s\\S]*", "usage.one-of", {"known"}},
      {"([^:]+) is required", "usage.required", {"option"}},
      {"([^:]+): .*required .* missing", "usage.no-value", {"option"}},
      {"([^:]+): ([\\s\\S]*) not in \\{([\\s\\S]*)\\}", "usage.not-among", {"option", "found", "known"}},
      {"([^:]+): Value ([\\s\\S]*) not in range ([-0-9.e+]+) to ([-0-9.e+]+)", "usage.not-in-range", {"option", "found", "least", "most"}},
      {"Could not convert: ([^=]+) = ([\\s\\S]*)", "usage.no-number", {"option", "found"}},
      {"([^:]+): ([\\s\\S]+): there is no folder ([\\s\\S]+)", "usage.no-folder", {"option", "found", "folder"}},
      {"([^:]+): ([\\s\\S]+): the folder ([\\s\\S]+) cannot be written", "usage.closed-folder", {"option", "found", "folder"}},
      {"(?:[^:]+: )?([^:]+): is no number; one decimal sign, thousands not grouped", "usage.no-typed-number", {"found"}},
      {"(\\S+) requires (\\S+)", "usage.requires", {"option", "other"}},
      {"(\\S+) excludes (\\S+)", "usage.excludes", {"option", "other"}}};
  return all;
}

}  // namespace

reports::Language language_of(int argc, const char* const* argv) {
  constexpr const char* option = "--language";
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    std::string code;
    if (word == option && i + 1 < argc) code = argv[i + 1];
    if (word.starts_with(std::string(option) + "=")) code = word.substr(std::strlen(option) + 1);
    if (const auto named = reports::find_language(code)) return *named;
  }
  return reports::language_of_environment();
}

std::vector<std::string> descriptions(const CLI::App& app) {
  std::vector<std::string> all{app.get_description()};
  for (const CLI::Option* option : app.get_options()) all.push_back(option->get_description());
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
    for (std::string& text : descriptions(*command)) all.push_back(std::move(text));
  return all;
}

std::vector<std::pair<std::string_view, std::string_view>> help_words(reports::Language language) {
  std::vector<std::pair<std::string_view, std::string_view>> words;
  const std::string name = std::string(language.file->code).append(".txt");
  for (const HelpFile& file : help_files()) {
    if (file.name != name) continue;
    std::string_view rest = file.text;
    while (!rest.empty()) {
      const std::size_t end = std::min(rest.find('\n'), rest.size());
      const std::string_view line = rest.substr(0, end);
      rest.remove_prefix(std::min(end + 1, rest.size()));
      constexpr std::string_view between = " => ";
      if (const std::size_t at = line.find(between); at != std::string_view::npos && line[0] != '#')
        words.emplace_back(line.substr(0, at), line.substr(at + between.size()));
    }
  }
  return words;
}

void translate_help(CLI::App& app, reports::Language language) {
  const auto words = help_words(language);
  const std::map<std::string_view, std::string_view> by_english(words.begin(), words.end());
  if (by_english.empty()) return;
  each_description(app, [&](const std::string& english) {
    const auto own = by_english.find(english);
    return own == by_english.end() ? english : std::string(own->second);
  });
  // The formatter is one for all commands: each took it from its parent.
  for (const char* word : parser_words)
    if (const auto own = by_english.find(word); own != by_english.end()) app.get_formatter()->label(word, std::string(own->second));
}

namespace {

// The command that was called, with those above it.
std::vector<const CLI::App*> called(const CLI::App& app) {
  std::vector<const CLI::App*> all{&app};
  while (!all.back()->get_subcommands().empty()) all.push_back(all.back()->get_subcommands().back());
  return all;
}

// Those of its groups of options too, which the parser keeps as commands without a name.
void add_option_names(const CLI::App& command, std::vector<std::string>& names) {
  for (const CLI::Option* option : command.get_options())
    for (const std::string& one : option->get_lnames()) names.push_back("--" + one);
  for (const CLI::App* group : command.get_subcommands([](const CLI::App* below) { return below->get_name().empty(); })) add_option_names(*group, names);
}

// The option that nobody knows among what was left over; it may be what a missing one was meant to be.
std::optional<Message> unknown_option(const CLI::App& app) {
  for (const CLI::App* command : called(app))
    for (const std::string& word : command->remaining()) {
      if (!word.starts_with("--") || word.size() < 3) continue;
      const std::string name = word.substr(0, word.find('='));
      std::vector<std::string> known;
      for (const CLI::App* owner : called(app)) add_option_names(*owner, known);
      return Message{"usage.unknown-option", {text("found", name), text("nearest", published::nearest_or_some(name, known))}};
    }
  return std::nullopt;
}

std::string description_of(const CLI::App& app, const std::string& name) {
  for (const CLI::App* command : called(app))
    if (const CLI::Option* option = command->get_option_no_throw(name)) return option->get_description();
  return {};
}

std::string with_blanks(const std::string& list) { return std::regex_replace(list, std::regex(",(?! )"), ", "); }

}  // namespace

Message parse_fault(const CLI::ParseError& error, const CLI::App& app) {
  if (auto unknown = unknown_option(app)) return *unknown;
  const std::string told = error.what();
  std::smatch found;
  for (const ParserFault& fault : parser_faults())
    if (std::regex_match(told, found, std::regex(fault.pattern))) {
      Message message{fault.id, {}};
      for (std::size_t i = 0; i < fault.names.size(); ++i) {
        const std::string part = without_zeros(found[i + 1]);
        message.arguments.push_back(text(fault.names[i], std::string_view(fault.names[i]) == "known" ? with_blanks(part) : part));
      }
      if (fault.id == "usage.required") message.arguments.push_back(text("about", description_of(app, found[1])));
      return message;
    }
  return {"usage.other", {text("what", told)}};
}

}  // namespace seamwright::cli
