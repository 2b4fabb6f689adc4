// SPDX-License-Identifier: GPL-3.0-or-later
// The command line in the reader's language: help of every command and option, and what the parser refuses.
#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "reports/text/text.h"

namespace seamwright::cli {

/// The language that --language names among the arguments, else that of the environment; the parser's own faults are told in it.
reports::Language language_of(int argc, const char* const* argv);

/// Every description of the commands below as it stands in the code, in English.
std::vector<std::string> descriptions(const CLI::App& app);
/// The same texts in another language, English to theirs; empty for English.
std::vector<std::pair<std::string_view, std::string_view>> help_words(reports::Language language);
/// Puts the language's words in place of the descriptions and of the parser's own headings. What has none stays English.
void translate_help(CLI::App& app, reports::Language language);

/// The parser's fault as a sentence of ours.
Message parse_fault(const CLI::ParseError& error, const CLI::App& app);

}  // namespace seamwright::cli
