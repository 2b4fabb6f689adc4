// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/server_setup.h"

#include <filesystem>
#include <fstream>

#include "engine/evidence/evidence.h"

namespace seamwright::book {

std::vector<StoreFile> server_setup_files() {
  std::vector<StoreFile> all{{"schema.sql", "BEGIN;\n" + postgres_files()[0].text + "COMMIT;\n"}};
  all.insert(all.end(), setup_files().begin(), setup_files().end());
  return all;
}

void write_server_setup(const std::string& folder) {
  namespace fs = std::filesystem;
  if (fs::exists(folder)) throw Fault{Message{"book.exists", {text("file", folder)}}};
  std::error_code failed;
  fs::create_directories(folder, failed);
  if (failed) throw Fault{Message{"book.read-only", {text("why", failed.message())}}, Category::machine};
  for (const StoreFile& f : server_setup_files()) {
    std::ofstream out(fs::path(folder) / f.name, std::ios::binary);
    out << f.text;
    if (!out.flush()) throw Fault{Message{"book.read-only", {text("why", (fs::path(folder) / f.name).string())}}, Category::machine};
  }
}

}  // namespace seamwright::book
