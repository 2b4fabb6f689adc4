// SPDX-License-Identifier: GPL-3.0-or-later
// A folder of files for one test, gone afterwards.
#pragma once

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>

struct Folder {
  std::filesystem::path path =
      std::filesystem::temp_directory_path() / ("seamwright-files-" + std::to_string(::getpid()));
  Folder() { std::filesystem::create_directories(path); }
  ~Folder() { std::filesystem::remove_all(path); }
  std::string write(const std::string& name, const std::string& content) const {
    std::ofstream(path / name, std::ios::binary) << content;
    return (path / name).string();
  }
};
