// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/job_folder.h"

#include <unistd.h>

#include <cstdlib>
#include <fstream>

#include "engine/evidence/evidence.h"

namespace seamwright::book {

JobFolder::JobFolder() {
  std::error_code error;
  const std::filesystem::path folder = std::filesystem::temp_directory_path(error);
  if (error) {  // it says nothing of which folder it meant
    const char* named = std::getenv("TMPDIR");
    throw Fault{Message{"book.no-folder", {text("folder", named ? named : "/tmp")}}};
  }
  std::string name = (folder / "seamwright-XXXXXX").string();
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
