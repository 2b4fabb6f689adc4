// SPDX-License-Identifier: GPL-3.0-or-later
// Exit codes: 0 all is well; 1 a finding; 2 wrong usage; 3 faulty input; 4 system error.
#include <chrono>
#include <iostream>

#include "app/cli/commands.h"
#include "app/cli/own_language.h"
#include "engine/evidence/evidence.h"
#include "engine/machine/parallel.h"
#include "reports/render/cells.h"

namespace {

using namespace seamwright;

int run(int argc, char** argv) {
  CLI::App app;
  cli::Session session;
  session.language = cli::language_of(argc, argv);
  cli::add_commands(app, session);
  cli::translate_help(app, session.language);
  try {
    cli::require_known_command(app, argc, argv);
    app.parse(argc, argv);
    // The system stamps files by a clock that may lag by some milliseconds.
    const auto begun = std::filesystem::file_time_type::clock::now() - std::chrono::milliseconds(50);
    const int code = session.run();
    cli::tell_written(app, session, begun);
    return code;
  } catch (const CLI::ParseError& error) {
    if (error.get_exit_code() == 0) return app.exit(error);  // help or version was asked for
    std::cerr << reports::visible(reports::sentence(cli::parse_fault(error, app), session.language)) << "\n"
              << reports::sentence({"usage.help", {}}, session.language) << "\n";
    return 2;
  } catch (const Fault& fault) {
    std::cerr << reports::visible(reports::placed_sentence(fault, session.language)) << "\n";
    for (const Message& hint : cli::hints_about(fault)) std::cerr << reports::visible(reports::sentence(hint, session.language)) << "\n";
    if (fault.category == Category::usage)
      std::cerr << reports::sentence({"usage.help", {}}, session.language) << "\n";
    return cli::exit_code(fault.category);
  } catch (const std::exception& error) {
    std::cerr << error.what() << "\n";
    return 4;
  }
}

}  // namespace

int main(int argc, char** argv) {
  machine::keep_freed_memory();
  try {
    return run(argc, argv);
  } catch (...) {
    return 4;  // not even the message could be written
  }
}
