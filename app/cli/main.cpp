// SPDX-License-Identifier: GPL-3.0-or-later
// Exit codes: 0 all is well; 1 a finding; 2 wrong usage; 3 faulty input; 4 the machine failed.
#include <iostream>

#include "app/cli/commands.h"
#include "engine/evidence/evidence.h"
#include "reports/render/cells.h"

namespace {

using namespace seamwright;

// Disk, permission and a locked book are no fault of what was typed.
bool is_of_the_machine(const std::string& id) {
  return id == "book.full" || id == "book.busy" || id == "book.read-only" || id == "book.sql" ||
         id == "pages.no-fonts";
}

int run(int argc, char** argv) {
  CLI::App app("seamwright: will the welds of a cargo trike's frame outlive its service?");
  app.set_version_flag("--version", "seamwright " SEAMWRIGHT_VERSION);
  app.require_subcommand(1);
  cli::Session session;
  app.add_option("--language", session.language, "en or de")
      ->transform(CLI::CheckedTransformer(std::map<std::string, reports::Language>{
          {"en", reports::Language::english}, {"de", reports::Language::german}}));
  for (const auto add :
       {cli::add_rate,      cli::add_solve, cli::add_modes,     cli::add_deck,    cli::add_count,
        cli::add_stability, cli::add_peaks, cli::add_ride,      cli::add_rig,     cli::add_gauges,
        cli::add_calibrate, cli::add_new,   cli::add_compare,   cli::add_suggest, cli::add_influence,
        cli::add_sweep,     cli::add_fit,   cli::add_procedure, cli::add_welders, cli::add_inspect,
        cli::add_plot,      cli::add_sheet, cli::add_book,      cli::add_trace,   cli::add_figure,
        cli::add_catalog})
    add(app, session);
  try {
    app.parse(argc, argv);
    return session.run();
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? 0 : 2;
  } catch (const Fault& fault) {
    std::cerr << reports::visible(cli::placed_sentence(fault.message, session.language)) << "\n";
    return is_of_the_machine(fault.message.id) ? 4 : 3;
  } catch (const std::exception& error) {
    std::cerr << error.what() << "\n";
    return 4;
  }
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run(argc, argv);
  } catch (...) {
    return 4;  // not even the message could be written
  }
}
