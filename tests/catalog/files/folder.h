// SPDX-License-Identifier: GPL-3.0-or-later
// A folder of files for one test, gone afterwards.
#pragma once

#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <string>

#include "catalog/files/source.h"

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

inline const std::string demo = SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike";

/// A file of the demonstration with one passage changed.
inline std::string with(const std::string& file, const std::string& from, const std::string& to) {
  std::string content = seamwright::files::read_text(demo + "/" + file);
  const std::size_t at = content.find(from);
  REQUIRE(at != std::string::npos);
  return content.replace(at, from.size(), to);
}
