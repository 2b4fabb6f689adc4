// SPDX-License-Identifier: GPL-3.0-or-later
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <iostream>
#include <stdexcept>

#include "app/cli/commands.h"
#include "catalog/files/job.h"
#include "catalog/files/source.h"
#include "reports/pages/pages.h"
#include "reports/render/render.h"

namespace seamwright::cli {

int on_job(const std::string& job, const std::function<int()>& work) {
  try {
    return work();
  } catch (const Fault& fault) {
    throw files::placed(fault, files::design_path(job));
  }
}

qualification::Date today() {
  return qualification::Date(std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now()));
}

qualification::Date day_of(const std::string& text) {
  if (text.empty()) return today();
  const auto day = qualification::read_date(text);
  if (!day) throw CLI::ValidationError(text, "expected a day as 2025-03-10");
  return *day;
}

void write_pdf(const std::string& path, const reports::Document& document, const Session& session) {
  const char* paper = std::getenv("SEAMWRIGHT_PAPER");
  const bool letter = paper && std::string_view(paper) == "letter";
  files::write_text(path, reports::to_pdf(document, session.language,
                                          letter ? reports::Paper::letter : reports::Paper::a4));
}

std::string placed_sentence(const Message& message, reports::Language language) {
  std::string sentence = reports::sentence(message, language), file;
  if (reports::sentence_template(message.id, language).find("{file}") != std::string_view::npos)
    return sentence;
  for (const Argument& a : message.arguments) {
    if (a.name == "file") file = std::get<std::string>(a.value);
    if (a.name == "line" && !file.empty())
      return file.append(":")
          .append(std::to_string(static_cast<long>(std::get<double>(a.value))))
          .append(": ")
          .append(sentence);
  }
  return sentence;
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
    style.colour = plain == nullptr || *plain == '\0';
    winsize size{};
    if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
      style.width = std::max<int>(size.ws_col, 40);
  }
  print(reports::to_terminal(document, session.language, style));
}

}  // namespace seamwright::cli
