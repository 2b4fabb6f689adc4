// SPDX-License-Identifier: GPL-3.0-or-later
// The recipe "add a sheet", tried: a sheet of this file becomes a command of its own, with its question, and
// a page, by one row.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "app/cli/sheet_command.h"

using namespace seamwright;
using namespace seamwright::cli;

namespace {

reports::Document days(const SheetOptions& options) {
  reports::Document d;
  d.title = {"sweep.done", {number("count", options.friction, ""), text("file", options.job)}};
  d.blocks = {reports::Paragraph{{"sweep.done", {number("count", 41, ""), text("file", options.from)}}}};
  return d;
}

void ask_first_day(CLI::App& command, const std::shared_ptr<SheetOptions>& o) {
  command.add_option("--from", o->from, "first day")->required();
}

std::string written(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

// Exit code of the command line, with the kinds of the program and one more.
int run(const std::string& line) {
  CLI::App app;
  Session session;
  std::vector<SheetKind> kinds = sheet_kinds();
  kinds.push_back({"days", "Invented for a test", days, SheetKind::About::job, ask_first_day});
  add_sheets(app, session, kinds);
  app.parse(line);
  return session.run();
}

}  // namespace

TEST_CASE("a sheet of one more row is a command with its own question, and a page as the name ends") {
  const auto folder = std::filesystem::temp_directory_path() / "seamwright-sheet-recipe";
  std::filesystem::remove_all(folder);
  std::filesystem::create_directory(folder);
  const std::string job = SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike";
  const auto page = folder / "days.html", paper = folder / "days.pdf";
  CHECK(run("sheet days " + job + " --from 2026-03-10 --out " + page.string()) == 0);
  CHECK(written(page).find("41 variants are in 2026-03-10.") != std::string::npos);
  CHECK(run("sheet days " + job + " --from 2026-03-10 --out " + paper.string()) == 0);
  CHECK(written(paper).starts_with("%PDF"));
  CHECK_THROWS_AS(run("sheet days " + job + " --out " + page.string()), CLI::RequiredError);
  CHECK_THROWS_AS(run("sheet day " + job + " --out " + page.string()), CLI::ParseError);
  CHECK_THROWS_AS(run("sheet days " + job + " --from 2026-03-10 --out days.txt"), Fault);
  std::filesystem::remove_all(folder);
}
