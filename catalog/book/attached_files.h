// SPDX-License-Identifier: GPL-3.0-or-later
// Files that a book keeps, under the names by which readers know them: a frozen design as design.toml, with
// its procedures in a folder beside it.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "catalog/book/book.h"
#include "catalog/files/source.h"

namespace seamwright::book {

/// All are fetched in one question when the first is read. What the book does not have is an empty file.
class AttachedFiles : public files::Files {
 public:
  AttachedFiles(const Book& book, std::map<std::string, std::string> sha256_by_name)
      : book_(book), sha256_(std::move(sha256_by_name)) {}
  /// True when the book has the file of that name.
  bool has(const std::string& name) const;
  std::string bytes(const std::string& name) const override { return fetched().bytes(name); }
  std::unique_ptr<std::istream> stream(const std::string& name) const override {
    return fetched().stream(name);
  }
  std::vector<std::string> names_in(const std::string& folder) const override {
    return fetched().names_in(folder);
  }
  bool is_folder(const std::string& name) const override { return fetched().is_folder(name); }

 private:
  const files::FilesInMemory& fetched() const;
  const Book& book_;
  std::map<std::string, std::string> sha256_;
  mutable std::map<std::string, std::string> kept_;  // by SHA-256, once fetched
  mutable std::optional<files::FilesInMemory> fetched_;
};

/// SHA-256 of the file that a record names; "" where it names none.
std::string file_of(const Record& record);
/// A frozen procedure stands here beside a design.
std::string procedure_name(std::size_t number);

}  // namespace seamwright::book
