// SPDX-License-Identifier: GPL-3.0-or-later
// The program's languages: each is one file of reports/text/languages, built in, with its sentences and how
// it writes numbers.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace seamwright::reports {

/// The words of one sentence, with holes for arguments: "{wall}".
struct Pattern {
  std::string_view id;
  std::string_view
      other;  ///< for every number that `one` is not for, and where the sentence has no forms of number
  std::string_view one;    ///< for the numbers of LanguageFile::one; "" = no forms of number
  std::string_view count;  ///< the argument whose number chooses; "" = no forms of number
};

/// A language's file says this.
struct LanguageFile {
  std::string_view code;          ///< "de", as ISO 639-1 has it
  std::string_view name;          ///< what the language calls itself
  char decimal_mark = '.';        ///< '.' or ',', the two that are understood when typed
  std::string group_mark;         ///< between groups of three digits
  std::vector<double> one;        ///< numbers that take the form `one`
  std::vector<Pattern> patterns;  ///< sorted by id
};

/// The text of a language's file and what the file is called.
struct LanguageText {
  std::string_view name, text;
};

/// Reads a language's file; the text must outlive the result. Throws std::invalid_argument naming file and
/// line where it is not as the files' first lines say: no "id = sentence", an id twice, one form of number
/// without the other, a head that lacks a key.
LanguageFile read_language(const LanguageText& source);

/// One of the program's languages.
struct Language {
  const LanguageFile* file;  ///< lives as long as the program
  bool operator==(const Language&) const = default;
};

/// All languages built in, sorted by their code; what command line and window offer.
const std::vector<Language>& languages();

/// The language of a code ("de"); none when there is no such.
std::optional<Language> find_language(std::string_view code);
/// The same where the code is known; throws std::bad_optional_access.
Language language_named(std::string_view code);

/// The languages' files as built in.
const std::vector<LanguageText>& language_files();

}  // namespace seamwright::reports
