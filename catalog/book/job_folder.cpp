// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/job_folder.h"

#include <unistd.h>

#include <fstream>

#include "engine/evidence/evidence.h"

namespace seamwright::book {

JobFolder::JobFolder() {
  std::string name = (std::filesystem::temp_directory_path() / "seamwright-XXXXXX").string();
  if (!::mkdtemp(name.data())) throw Fault{Message{"book.no-folder", {text("folder", name)}}};
  path_ = name;
  std::filesystem::create_directory(path_ / "procedures");
}

JobFolder::~JobFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

std::string JobFolder::put(const std::string& name, const std::string& bytes) const {
  std::ofstream out(path_ / name, std::ios::binary);
  out << bytes;
  if (!out.flush()) throw Fault{Message{"book.no-folder", {text("folder", path_.string())}}};
  return (path_ / name).string();
}

}  // namespace seamwright::book
