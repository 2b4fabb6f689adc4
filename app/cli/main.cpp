// SPDX-License-Identifier: GPL-3.0-or-later
// Exit codes: 0 all is well; 1 a finding; 2 wrong usage; 3 faulty input; 4 the machine failed.
#include <CLI/CLI.hpp>
#include <iostream>

#include "app/cli/rate.h"
#include "engine/evidence/evidence.h"
#include "reports/render/cells.h"

int main(int argc, char** argv) {
  using namespace seamwright;
  CLI::App app("seamwright: will the welds of a cargo trike's frame outlive its service?");
  app.set_version_flag("--version", SEAMWRIGHT_VERSION);
  app.require_subcommand(1);
  reports::Language language = reports::Language::english;
  app.add_option("--language", language, "en or de")
      ->transform(CLI::CheckedTransformer(std::map<std::string, reports::Language>{
          {"en", reports::Language::english}, {"de", reports::Language::german}}));
  std::function<int()> run;
  cli::add_rate(app, language, run);
  try {
    app.parse(argc, argv);
    return run();
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? 0 : 2;
  } catch (const Fault& fault) {
    std::cerr << reports::visible(reports::sentence(fault.message, language)) << "\n";
    return 3;
  } catch (const std::exception& error) {
    std::cerr << error.what() << "\n";
    return 4;
  }
}
