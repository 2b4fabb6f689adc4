// SPDX-License-Identifier: GPL-3.0-or-later
// Files that readers read: of this machine, of a book, or texts in memory, by their names.
#pragma once

#include <cstddef>
#include <istream>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace seamwright::files {

/// Largest file read whole, bytes (a design is some 20 kB).
inline constexpr std::size_t largest_file = 16u << 20;

/// Files by name. A name is a path with "/", as messages show it; nothing is changed through it.
class Files {
 public:
  Files() = default;
  virtual ~Files() = default;
  Files(const Files&) = delete;
  Files& operator=(const Files&) = delete;
  /// The whole file. Throws Fault "file.missing", "file.not-a-file", "file.unreadable", "file.too-large".
  virtual std::string bytes(const std::string& name) const = 0;
  /// The same piece by piece, of any size.
  virtual std::unique_ptr<std::istream> stream(const std::string& name) const = 0;
  /// Full names of what stands in a folder, sorted; none where there is no such folder.
  virtual std::vector<std::string> names_in(const std::string& folder) const = 0;
  virtual bool is_folder(const std::string& name) const = 0;
};

/// The files of this machine, by their paths.
const Files& files_on_disk();

/// Texts under names.
class FilesInMemory : public Files {
 public:
  explicit FilesInMemory(std::map<std::string, std::string> texts) : texts_(std::move(texts)) {}
  std::string bytes(const std::string& name) const override;
  std::unique_ptr<std::istream> stream(const std::string& name) const override;
  std::vector<std::string> names_in(const std::string& folder) const override;
  bool is_folder(const std::string& name) const override;

 private:
  const std::string& text_of(const std::string& name) const;
  std::map<std::string, std::string> texts_;
};

/// One file to be read: a path of this machine where nothing else is said.
struct SourceFile {
  SourceFile(std::string path) : files(&files_on_disk()), name(std::move(path)) {}
  SourceFile(const char* path) : files(&files_on_disk()), name(path) {}
  SourceFile(const Files& among, std::string file_name) : files(&among), name(std::move(file_name)) {}
  /// Gives what stands under that name in its folder.
  SourceFile beside(const std::string& other) const;
  /// The files of this folder whose names end like that (".toml"), sorted.
  std::vector<SourceFile> files_in(const std::string& ending) const;

  const Files* files;
  std::string name;
};

/// Reads a text file whole. Throws the Faults of Files::bytes(), "file.not-text" (NUL bytes or bad UTF-8,
/// with line), "file.empty".
std::string read_text(const SourceFile& file);

/// Whole or not at all: a new file beside it, synced, then renamed. Throws std::runtime_error.
void write_text(const std::string& path, const std::string& content);

}  // namespace seamwright::files
