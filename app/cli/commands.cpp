// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/commands.h"

#include <fmt/format.h>

#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

#include "engine/evidence/typed.h"

namespace seamwright::cli {

namespace {

// Every option that is a number takes it as people type it, in all commands below this one.
void take_typed_numbers(CLI::App& app) {
  for (CLI::Option* option : app.get_options())
    if (option->get_type_name().starts_with("FLOAT"))
      option->transform([](const std::string& typed) {
        const auto value = typed_number(typed);
        if (!value)
          throw CLI::ValidationError(typed, "is no number; one decimal sign, thousands not grouped");
        return fmt::format("{}", *value);
      });
  for (CLI::App* command : app.get_subcommands([](CLI::App*) { return true; })) take_typed_numbers(*command);
}

// The choice follows from the languages built in.
void add_language(CLI::App& app, Session& session) {
  std::vector<std::string> codes, names;
  for (const reports::Language& offered : reports::languages()) {
    codes.emplace_back(offered.file->code);
    names.emplace_back(offered.file->name);
  }
  app.add_option_function<std::string>(
         "--language", [&session](const std::string& code) { session.language = reports::language_named(code); },
         fmt::format("{}", fmt::join(names, ", ")))
      ->check(CLI::IsMember(codes));
}

}  // namespace

reports::Language language_of_environment() {
  for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG"}) {
    const char* value = std::getenv(name);
    if (!value || *value == '\0') continue;
    for (const reports::Language& offered : reports::languages())
      if (std::string_view(value).starts_with(offered.file->code)) return offered;
    break;
  }
  return reports::language_named("en");
}

void add_commands(CLI::App& app, Session& session) {
  app.description("seamwright: will the welds of a cargo trike's frame outlive its service?");
  app.name("seamwright");
  app.set_version_flag("--version", "seamwright " SEAMWRIGHT_VERSION);
  app.require_subcommand(1);
  add_language(app, session);
  for (const auto add :
       {add_rate,      add_solve, add_modes,  add_deck,      add_count,   add_stability, add_shape, add_joint, add_export, add_peaks,
        add_ride,      add_rig,   add_gauges, add_calibrate, add_demo, add_new,     add_compare,   add_suggest,
        add_influence, add_testplan, add_sweep, add_fit,    add_procedure, add_welders, add_inspect,   add_plot,
        add_sheet,     add_book,  add_trace,  add_figure,    add_catalog})
    add(app, session);
  take_typed_numbers(app);
}

}  // namespace seamwright::cli
