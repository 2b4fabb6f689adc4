// SPDX-License-Identifier: GPL-3.0-or-later
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <exception>
#include <iostream>
#include <stdexcept>

#include "app/cli/commands.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"
#include "reports/pages/pages.h"
#include "reports/render/render.h"

namespace seamwright::cli {

int on_job(const std::string& job, const std::string& duty, const std::function<int()>& work) {
  try {
    return work();
  } catch (const Fault& fault) {
    throw files::with_place(files::with_place(fault, files::design_path(job)), files::duty_path(job, duty));
  }
}

qualification::Date today() {
  return qualification::Date(std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now()));
}

qualification::Date day_of(const char* option, const std::string& text) {
  if (text.empty()) return today();
  const auto day = qualification::read_date(text);
  if (!day) throw usage_fault("usage.day", {seamwright::text("option", option), seamwright::text("found", text)});
  return *day;
}

void write_pdf(const std::string& path, const reports::Document& document, const Session& session) {
  const char* paper = std::getenv("SEAMWRIGHT_PAPER");
  const bool letter = paper && std::string_view(paper) == "letter";
  files::write_text(path, reports::to_pdf(document, session.language,
                                          letter ? reports::Paper::letter : reports::Paper::a4));
}

int exit_code(Category category) {
  switch (category) {
    case Category::usage:
      return 2;
    case Category::input:
      return 3;
    case Category::machine:
    case Category::locked:
      return 4;
  }
  return 4;
}

Fault usage_fault(MessageId id, std::vector<Argument> arguments) {
  return Fault{Message{id, std::move(arguments)}, Category::usage};
}

void write_and_show(const std::function<void()>& write, const std::function<void()>& show) {
  std::exception_ptr unwritten;
  try {
    write();
  } catch (...) {
    unwritten = std::current_exception();
  }
  show();
  if (unwritten) std::rethrow_exception(unwritten);
}

void print(const std::string& text) {
  std::cout << text;
  std::cout.flush();
  if (!std::cout) throw std::runtime_error("cannot write the result");
}

void print(const reports::Document& document, const Session& session) {
  reports::TerminalStyle style;
  const char* plain = std::getenv("NO_COLOR");
  if (::isatty(STDOUT_FILENO) == 1) {
    const char* kind = std::getenv("TERM");
    style.colour = (plain == nullptr || *plain == '\0') && !(kind != nullptr && std::string_view(kind) == "dumb");
    style.fit = true;
    winsize size{};
    if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
      style.width = std::max<int>(size.ws_col, 40);
  }
  print(reports::to_terminal(document, session.language, style));
}

}  // namespace seamwright::cli
