// SPDX-License-Identifier: GPL-3.0-or-later
// The command demo writes an invented workshop to try things on: jobs, samples and the record book.
#include <filesystem>
#include <memory>

#include "app/cli/commands.h"
#include "catalog/book/demo_book.h"
#include "catalog/files/demonstration.h"
#include "reports/text/text.h"

namespace seamwright::cli {

namespace {

int write(const std::string& folder, const Session& session) {
  namespace fs = std::filesystem;
  const std::string book = (fs::path(folder) / "shop.book").lexically_normal().string();
  if (fs::exists(book)) throw Fault{Message{"new.exists", {text("file", book)}}};
  const files::Wording wording(session.language.file->code);
  std::vector<std::string> parts = files::write_demonstration(folder, wording);
  for (std::string& part : parts) part = fs::path(part).lexically_normal().string();
  const auto frames = book::write_demo(book, "seamwright " SEAMWRIGHT_VERSION, wording);
  const auto print_line = [&](MessageId id, std::vector<Argument> arguments) {
    print(reports::sentence({id, std::move(arguments)}, session.language) + "\n");
  };
  print_line("demo.wrote", {text("folder", fs::absolute(folder).lexically_normal().string())});
  print_line("demo.job", {text("path", parts.at(0))});
  print_line("demo.redesign", {text("path", parts.at(1))});
  print_line("demo.samples", {text("path", parts.at(2))});
  print_line("demo.book", {text("path", book), text("passphrase", book::demo_passphrase)});
  for (const book::DemoFrame& f : frames) print_line(f.state, {text("serial", f.serial)});
  print_line("demo.try", {});
  for (const std::string& command :
       {"rate " + parts.at(0), "compare " + parts.at(0) + " " + parts.at(1), "gaps " + frames.at(0).serial + " --book " + book})
    print("  seamwright " + command + "\n");
  return 0;
}

}  // namespace

void add_demo(CLI::App& app, Session& session) {
  auto folder = std::make_shared<std::string>("seamwright-demo");
  CLI::App* command = app.add_subcommand("demo", "Write an invented workshop for trying the program: jobs, samples, record book");
  command->add_option("folder", *folder, "folder for the demonstration")->capture_default_str();
  command->callback([folder, &session] { session.run = [folder, &session] { return write(*folder, session); }; });
}

}  // namespace seamwright::cli
