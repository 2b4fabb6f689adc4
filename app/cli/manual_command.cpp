// SPDX-License-Identifier: GPL-3.0-or-later
// seamwright-manual man|bash|zsh: the manual page or a shell's completions, from the parser of seamwright.
#include <fmt/format.h>

#include <algorithm>
#include <iostream>
#include <string>
#include <vector>

#include "app/cli/commands.h"

namespace {

using seamwright::cli::Session;

struct Flag {
  std::string name, about, value;    ///< "--weld", ...; value "" = takes none
  std::vector<std::string> choices;  ///< empty: free
};
struct Command {
  std::vector<std::string> path;  ///< "book", "new"
  std::string about;
  std::vector<Flag> positional, flags;
};

// "TEXT:{time,spectral}" names its choices.
std::vector<std::string> choices_of(const std::string& type) {
  std::vector<std::string> out;
  const std::size_t open = type.find('{'), close = type.rfind('}');
  if (open == std::string::npos || close == std::string::npos || type.find("->") != std::string::npos)
    return out;
  for (std::size_t at = open + 1; at < close;) {
    const std::size_t end = std::min(type.find(',', at), close);
    out.push_back(type.substr(at, end - at));
    at = end + 1;
  }
  return out;
}

Flag flag_of(const CLI::Option& option) {
  Flag f;
  f.about = option.get_description();
  f.choices = choices_of(option.get_type_name());
  const bool takes = option.get_items_expected_max() > 0;
  if (option.get_positional()) {
    f.name = option.get_name(true);
    f.value = f.name;
  } else {
    f.name = "--" + option.get_lnames().front();
    if (takes) f.value = f.choices.empty() ? "VALUE" : fmt::format("{}", fmt::join(f.choices, "|"));
  }
  return f;
}

void list_commands(const CLI::App& app, std::vector<std::string> path, std::vector<Command>& all) {
  Command c;
  c.about = app.get_description();
  c.path = path;
  const auto add_options = [&](const CLI::App& from) {
    for (const CLI::Option* option : from.get_options()) {
      if (option->get_lnames().empty() && !option->get_positional()) continue;
      (option->get_positional() ? c.positional : c.flags).push_back(flag_of(*option));
    }
  };
  const auto parts = app.get_subcommands([](const CLI::App*) { return true; });
  add_options(app);
  for (const CLI::App* group : parts)  // a group of options has no name of its own
    if (group->get_name().empty()) add_options(*group);
  all.push_back(std::move(c));
  for (const CLI::App* sub : parts) {
    if (sub->get_name().empty()) continue;
    path.push_back(sub->get_name());
    list_commands(*sub, path, all);
    path.pop_back();
  }
}

std::string escaped(const std::string& text, const std::string& these, const std::string& with) {
  std::string out;
  for (const char c : text) {
    if (these.find(c) != std::string::npos) out += with;
    out += c;
  }
  return out;
}

std::string troff(const std::string& text) {
  std::string out = escaped(text, "\\-", "\\");
  if (out.starts_with('.') || out.starts_with('\'')) out.insert(0, "\\&");
  return out;
}

void put_man(const std::vector<Command>& all) {
  fmt::print(".TH SEAMWRIGHT 1 \"\" \"seamwright {}\" \"User Commands\"\n", SEAMWRIGHT_VERSION);
  fmt::print(".SH NAME\nseamwright \\- fatigue life, procedures and records of welded cargo trike frames\n");
  fmt::print(".SH SYNOPSIS\n.B seamwright\n[\\-\\-language en|de] COMMAND ...\n.SH COMMANDS\n");
  for (const Command& c : all) {
    if (c.path.empty()) continue;
    std::string head = fmt::format("{}", fmt::join(c.path, " "));
    for (const Flag& f : c.positional) head += " " + f.name;
    fmt::print(".SS {}\n{}\n", troff(head), troff(c.about));
    for (const auto* list : {&c.positional, &c.flags})
      for (const Flag& f : *list)
        fmt::print(".TP\n.B {}\n{}\n",
                   troff(list == &c.flags && !f.value.empty() ? f.name + " " + f.value : f.name),
                   f.about.empty() ? "\\&" : troff(f.about));
  }
  fmt::print(
      ".SH EXIT STATUS\n.TP\n.B 0\nall is well\n.TP\n.B 1\na finding\n.TP\n.B 2\nwrong usage\n"
      ".TP\n.B 3\nfaulty input\n.TP\n.B 4\nsystem error: disk, permission, set-up, or a locked book\n"
      ".SH CAUTION\nA rating is an estimate for an engineer to judge. It does not replace rig tests and the "
      "cycle "
      "standards that apply. Local codes and licensed practice prevail.\n");
}

std::vector<std::string> subs_of(const std::vector<Command>& all, const Command& of) {
  std::vector<std::string> names;
  for (const Command& c : all)
    if (c.path.size() == of.path.size() + 1 && std::equal(of.path.begin(), of.path.end(), c.path.begin()))
      names.push_back(c.path.back());
  return names;
}

void put_bash(const std::vector<Command>& all) {
  fmt::print(R"(# Completions of seamwright for bash, made from its parser.
_seamwright() {{
  local word="${{COMP_WORDS[COMP_CWORD]}}" before="${{COMP_WORDS[COMP_CWORD-1]}}" path="" i
  for ((i = 1; i < COMP_CWORD; i++)); do
    case "$path ${{COMP_WORDS[i]}}" in
)");
  for (const Command& c : all)
    if (!c.path.empty()) fmt::print("      \" {0}\") path=\" {0}\" ;;\n", fmt::join(c.path, " "));
  fmt::print("    esac\n  done\n  local words=\"\"\n  case \"$path $before\" in\n");
  for (const Command& c : all)
    for (const Flag& f : c.flags)
      if (!f.choices.empty())
        fmt::print("    \"{}{} {}\") words=\"{}\" ;;\n", c.path.empty() ? "" : " ", fmt::join(c.path, " "),
                   f.name, fmt::join(f.choices, " "));
  fmt::print("  esac\n  if [ -z \"$words\" ]; then\n    case \"$path\" in\n");
  for (const Command& c : all) {
    std::vector<std::string> words = subs_of(all, c);
    for (const Flag& f : c.positional) words.insert(words.end(), f.choices.begin(), f.choices.end());
    for (const Flag& f : c.flags) words.push_back(f.name);
    fmt::print("      \"{}{}\") words=\"{}\" ;;\n", c.path.empty() ? "" : " ", fmt::join(c.path, " "),
               fmt::join(words, " "));
  }
  fmt::print(R"(    esac
  fi
  COMPREPLY=($(compgen -W "$words" -- "$word"))
}}
complete -o default -F _seamwright seamwright
)");
}

void put_zsh_command(const std::vector<Command>& all, const Command& c) {
  std::string name = "_seamwright";
  for (const std::string& part : c.path) name += "_" + part;
  const std::vector<std::string> subs = subs_of(all, c);
  fmt::print("{}() {{\n  _arguments -C", name);
  for (const Flag& f : c.flags) {
    const std::string about = escaped(escaped(f.about, "[]:\\", "\\"), "'", "'\\'");
    std::string value;
    if (!f.value.empty())
      value = f.choices.empty() ? ":value:_files" : fmt::format(":value:({})", fmt::join(f.choices, " "));
    fmt::print(" \\\n    '{}[{}]{}'", f.name, about, value);
  }
  if (subs.empty()) {
    for (const Flag& f : c.positional)
      fmt::print(" \\\n    ':{}:{}'", f.name,
                 f.choices.empty() ? "_files" : fmt::format("({})", fmt::join(f.choices, " ")));
    fmt::print("\n}}\n");
    return;
  }
  fmt::print(
      " \\\n    '1:command:({})' \\\n    '*::argument:->rest'\n  case $state in\n    rest) case $line[1] "
      "in\n",
      fmt::join(subs, " "));
  for (const std::string& sub : subs) fmt::print("      {}) {}_{} ;;\n", sub, name, sub);
  fmt::print("    esac ;;\n  esac\n}}\n");
}

void put_zsh(const std::vector<Command>& all) {
  fmt::print("#compdef seamwright\n# Completions of seamwright for zsh, made from its parser.\n");
  for (const Command& c : all) put_zsh_command(all, c);
  fmt::print("_seamwright \"$@\"\n");
}

}  // namespace

int main(int argc, char** argv) {
  try {
    CLI::App app;
    Session session;
    seamwright::cli::add_commands(app, session);
    std::vector<Command> all;
    list_commands(app, {}, all);
    const std::string what = argc == 2 ? argv[1] : "";
    if (what == "man") return put_man(all), 0;
    if (what == "bash") return put_bash(all), 0;
    if (what == "zsh") return put_zsh(all), 0;
    std::cerr << "usage: seamwright-manual man|bash|zsh\n";
    return 2;
  } catch (const std::exception& error) {
    std::cerr << error.what() << "\n";
    return 4;
  }
}
