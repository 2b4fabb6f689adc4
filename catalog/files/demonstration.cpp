// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/demonstration.h"

#include <filesystem>
#include <stdexcept>
#include <utility>

#include "catalog/files/source.h"
#include "catalog/published/built_in.h"
#include "engine/evidence/evidence.h"

namespace seamwright::files {

namespace {

namespace fs = std::filesystem;

struct Part {
  const char *from, *to;  ///< folder of the built-in files, and its name on the disk
};

// Looks at all before it writes the first.
void write_parts(const fs::path& folder, const std::vector<Part>& parts, const Wording& wording) {
  std::vector<std::pair<fs::path, const std::string*>> all;
  for (const Part& part : parts) {
    const std::string from = std::string(part.from).append("/");
    for (const published::DataFile& file : published::demonstration_files())
      if (file.name.starts_with(from)) all.emplace_back(folder / part.to / file.name.substr(from.size()), &file.text);
  }
  for (const auto& [path, content] : all)
    if (fs::exists(path)) throw Fault{Message{"new.exists", {text("file", path.string())}}};
  for (const auto& [path, content] : all) {
    std::error_code error;
    fs::create_directories(path.parent_path(), error);
    if (error) throw std::runtime_error(path.parent_path().string() + ": " + error.message());
    write_text(path.string(), path.extension() == ".csv" ? wording.table(*content) : wording.file(*content));
  }
}

}  // namespace

std::vector<std::string> write_demonstration(const std::string& folder, const Wording& wording) {
  const std::vector<Part> parts{{"orchard-trike", "trike"}, {"orchard-trike-b", "trike-b"}, {"samples", "samples"}};
  write_parts(folder, parts, wording);
  std::vector<std::string> paths;
  for (const Part& part : parts) paths.push_back((fs::path(folder) / part.to).string());
  return paths;
}

void write_demonstration_job(const std::string& folder, const Wording& wording) { write_parts(folder, {{"orchard-trike", ""}}, wording); }

}  // namespace seamwright::files
