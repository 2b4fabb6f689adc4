// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/kept_files.h"

#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <vector>

#include "catalog/published/sha256.h"

namespace seamwright::models {

namespace fs = std::filesystem;

KeptFiles::KeptFiles(std::string folder, std::uint64_t most_bytes) : folder_(std::move(folder)), most_bytes_(most_bytes) {}

// A file holds the hash of what follows, so that a flipped byte is seen.
std::optional<std::string> KeptFiles::find(const std::string& key) const {
  if (folder_.empty()) return {};
  const fs::path path = fs::path(folder_) / key;
  std::ifstream in(path, std::ios::binary);
  if (!in) return {};
  std::ostringstream all;
  all << in.rdbuf();
  const std::string text = all.str();
  if (text.size() < 65 || sha256_hex(std::string_view(text).substr(65)) != text.substr(0, 64)) return {};
  std::error_code ignored;
  fs::last_write_time(path, fs::file_time_type::clock::now(), ignored);
  return text.substr(65);
}

void KeptFiles::keep(const std::string& key, std::string_view bytes) const {
  if (folder_.empty()) return;
  static std::atomic<unsigned> number{0};
  std::error_code ignored;
  fs::create_directories(folder_, ignored);
  const fs::path path = fs::path(folder_) / key;
  const fs::path part = path.string() + "." + std::to_string(getpid()) + "." + std::to_string(++number);
  {
    std::ofstream out(part, std::ios::binary);
    out << sha256_hex(bytes) << '\n' << bytes;
    if (!out.flush()) {
      fs::remove(part, ignored);
      return;
    }
  }
  fs::rename(part, path, ignored);
  if (ignored) fs::remove(part, ignored);
}

void KeptFiles::tidy() const {
  struct Kept {
    fs::file_time_type used;
    std::uint64_t bytes;
    fs::path path;
  };
  std::vector<Kept> all;
  std::uint64_t total = 0;
  std::error_code error;
  for (fs::directory_iterator it(folder_, error), end; !error && it != end; it.increment(error)) {
    std::error_code gone;
    const Kept kept{it->last_write_time(gone), it->file_size(gone), it->path()};
    if (gone) continue;
    all.push_back(kept);
    total += kept.bytes;
  }
  if (total <= most_bytes_) return;
  std::sort(all.begin(), all.end(), [](const Kept& a, const Kept& b) { return a.used < b.used; });
  for (const Kept& k : all) {
    if (total <= most_bytes_ / 4 * 3) return;
    fs::remove(k.path, error);
    total -= k.bytes;
  }
}

std::string cache_folder(const char* name) {
  const char *cache = std::getenv("XDG_CACHE_HOME"), *home = std::getenv("HOME");
  if (cache && *cache == '/') return std::string(cache) + "/seamwright/" + name;
  if (home && *home == '/') return std::string(home) + "/.cache/seamwright/" + name;
  return "";
}

}  // namespace seamwright::models
