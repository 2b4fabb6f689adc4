// SPDX-License-Identifier: GPL-3.0-or-later
// Files laid out as a job for the readers of jobs, in a temporary folder that goes with it.
#pragma once

#include <filesystem>
#include <string>

namespace seamwright::book {

class JobFolder {
 public:
  /// Makes the folder with its folder "procedures". Throws Fault "book.no-folder".
  JobFolder();
  ~JobFolder();
  JobFolder(const JobFolder&) = delete;
  JobFolder& operator=(const JobFolder&) = delete;
  /// Writes a file and gives its path. Throws Fault "book.no-folder".
  std::string put(const std::string& name, const std::string& bytes) const;
  std::string file(const char* name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

}  // namespace seamwright::book
