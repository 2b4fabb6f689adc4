// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/macros.h"

#include <algorithm>
#include <filesystem>
#include <vector>

#include "catalog/files/job.h"
#include "catalog/files/parse.h"
#include "catalog/files/reader.h"

namespace seamwright::files {

bool fused_macro(const std::string& folder, const std::string& id) {
  namespace fs = std::filesystem;
  std::vector<std::string> paths;
  std::error_code none;
  for (const auto& entry : fs::directory_iterator(fs::path(folder) / "procedures", none))
    if (entry.path().extension() == ".toml") paths.push_back(entry.path().string());
  std::sort(paths.begin(), paths.end());
  bool fused = false;
  for (const std::string& path : paths) {
    const toml::table table = parse(path, read_text(path));
    Reader root(path, "procedure", table, nullptr, nullptr);
    root.choice("format", {"seamwright.procedure/1"});
    for (const toml::table* t : root.tables("macro")) {
      Reader macro = root.sub("macro", *t);
      const std::string root_is = macro.id("id") == id ? macro.choice("root", {"fused", "not-fused"}) : "";
      fused = fused || root_is == "fused";
    }
  }
  return fused;
}

}  // namespace seamwright::files
