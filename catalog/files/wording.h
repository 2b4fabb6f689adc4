// SPDX-License-Identifier: GPL-3.0-or-later
// The built-in jobs, starts and book in another language: what a person reads in them, and nothing else.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace seamwright::files {

/// The texts of the demonstration, of the starts of procedures and of a job just begun in one language. They stand in
/// catalog/examples/CODE.txt, a line for each: `key: English => other`. The key is that of the file in which the text stands, "#" for a
/// comment of a file, or that of the code which writes it.
class Wording {
 public:
  /// English: everything stays as it is.
  Wording() = default;
  /// A language's code, "de"; as English where no texts are there for it.
  explicit Wording(std::string_view code);

  /// A text of its own under a key; the English one where the table has none.
  std::string text(std::string_view key, std::string_view english) const;
  /// A whole TOML file with its texts and comments in this language. Ids, words of the format and numbers stay to the byte.
  std::string file(std::string_view content) const;
  /// The same for a table (CSV): its comments, and cells that are no more than a text.
  std::string table(std::string_view content) const;

  /// All entries as (key, English), and their other texts, in the order of the table.
  struct Entry {
    std::string key, english, other;
  };
  const std::vector<Entry>& entries() const { return entries_; }

 private:
  std::string comment(std::string_view content) const;
  std::string line(std::string_view content, std::string& key) const;
  std::string row(std::string_view content) const;
  std::vector<Entry> entries_;
};

}  // namespace seamwright::files
