// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/commands.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "catalog/published/nearest.h"
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

constexpr std::array output_options{"--html", "--pdf", "--csv", "--out", "--picture", "--profile"};

bool is_output(const CLI::Option& option) {
  return std::any_of(output_options.begin(), output_options.end(), [&](const char* name) { return option.check_name(name); });
}

// An output that could not be written is refused before the work, not after it.
void check_outputs(CLI::App& app) {
  for (CLI::Option* option : app.get_options())
    if (is_output(*option))
      option->check([](const std::string& file) {
        const std::filesystem::path folder = std::filesystem::absolute(file).parent_path();
        if (!std::filesystem::is_directory(folder)) return fmt::format("{}: there is no folder {}", file, folder.string());
        return ::access(folder.c_str(), W_OK) == 0 ? std::string() : fmt::format("{}: the folder {} cannot be written", file, folder.string());
      });
  for (CLI::App* command : app.get_subcommands([](CLI::App*) { return true; })) check_outputs(*command);
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

void add_commands(CLI::App& app, Session& session) {
  app.description("seamwright: fatigue life, welding procedures and records of cargo trike frames");
  app.name("seamwright");
  app.set_version_flag("--version", "seamwright " SEAMWRIGHT_VERSION);
  app.require_subcommand(1);
  add_language(app, session);
  for (const auto add :
       {add_rate,      add_solve, add_modes,  add_deck,      add_count,   add_stability, add_shape, add_joint, add_export, add_peaks,
        add_ride,      add_rig,   add_gauges, add_calibrate, add_demo, add_new,     add_compare,   add_suggest, add_improve,
        add_influence, add_testplan, add_sweep, add_fit,    add_procedure, add_welders, add_inspect,   add_plot,
        add_sheet,     add_book,  add_trace,  add_figure,    add_catalog})
    add(app, session);
  take_typed_numbers(app);
  check_outputs(app);
}

void require_known_command(const CLI::App& app, int argc, const char* const* argv) {
  const CLI::App* within = &app;
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    if (word == "--language") ++i;
    if (word.starts_with("-") && within == &app) continue;
    if (word.starts_with("-")) return;  // an option may take the next word
    std::vector<std::string> known;
    for (const CLI::App* command : within->get_subcommands([](const CLI::App*) { return true; })) known.push_back(command->get_name());
    if (known.empty()) return;
    if (std::find(known.begin(), known.end(), word) != known.end()) {
      within = within->get_subcommand(word);
      continue;
    }
    throw usage_fault("usage.unknown-command", {text("found", word), text("nearest", published::nearest_or_some(word, known))});
  }
}

namespace {

std::vector<std::string> names_in(const std::filesystem::path& folder) {
  std::vector<std::string> names;
  std::error_code ignored;
  for (std::filesystem::directory_iterator entry(folder, ignored), end; entry != end && names.size() < 1000; entry.increment(ignored))
    names.push_back(entry->path().filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace

std::vector<Message> hints_about(const Fault& fault) {
  namespace fs = std::filesystem;
  const MessageId id = fault.message.id;
  const bool missing = id == "file.missing" || id == "book.missing", folder = id == "file.not-a-file";
  if (!missing && !folder) return {};
  for (const Argument& a : fault.message.arguments) {
    const auto* file = std::get_if<std::string>(&a.value);
    if (a.name != "file" || !file || file->empty()) continue;
    const fs::path path = fs::path(*file).lexically_normal();
    std::error_code ignored;
    if (fs::is_directory(path, ignored)) {
      const std::vector<std::string> names = names_in(path);
      return names.empty() ? std::vector<Message>{} : std::vector<Message>{{"usage.folder-holds", {text("files", published::nearest_or_some("", names))}}};
    }
    const fs::path above = path.has_parent_path() ? path.parent_path() : fs::path(".");
    if (!fs::is_directory(above, ignored)) return {{"usage.no-such-folder", {text("folder", above.string())}}};
    if (const std::string near = published::nearest(path.filename().string(), names_in(above)); !near.empty() && near != path.filename().string())
      return {{"usage.nearest-file", {text("nearest", near)}}};
  }
  return {};
}

void tell_written(const CLI::App& app, const Session& session, std::filesystem::file_time_type begun) {
  // These name their files in sentences of their own.
  constexpr std::array own_words{"fe-export", "export", "sweep"};
  for (const CLI::App* command : app.get_subcommands()) {
    const CLI::Option* json = command->get_option_no_throw("--json");
    if ((json && json->count() > 0) || std::find(own_words.begin(), own_words.end(), command->get_name()) != own_words.end()) continue;
    for (const CLI::Option* option : command->get_options())
      if (is_output(*option))
        for (const std::string& file : option->results())
          if (std::error_code none; std::filesystem::exists(file) && std::filesystem::last_write_time(file, none) >= begun)
            print(reports::sentence({"output.wrote", {text("file", file)}}, session.language) + "\n");
    tell_written(*command, session, begun);
  }
}

}  // namespace seamwright::cli
