// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/cache.h"

#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <sstream>

#include "catalog/models/solids_form.h"
#include "catalog/models/wire.h"
#include "catalog/published/sha256.h"
#include "engine/rating/progress.h"

namespace seamwright::models {

namespace {

namespace fs = std::filesystem;

// A file holds the hash of what follows, so that a flipped byte is seen; then the answer.
std::optional<Answer> read_kept(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) return {};
  std::ostringstream all;
  all << in.rdbuf();
  const std::string text = all.str();
  if (text.size() < 65 || sha256_hex(std::string_view(text).substr(65)) != text.substr(0, 64)) return {};
  try {
    return answer_of(std::string_view(text).substr(65));
  } catch (const std::exception&) {
    return {};
  }
}

void keep(const fs::path& path, const Answer& answer) {
  static std::atomic<unsigned> number{0};
  const std::string bytes = bytes_of(answer);
  const fs::path part = path.string() + "." + std::to_string(getpid()) + "." + std::to_string(++number);
  std::error_code ignored;
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

bool is_kept(const Task& task) { return !std::holds_alternative<ExportTask>(task); }

}  // namespace

Cache::Cache(std::string folder, Modeller& source, std::uint64_t most_bytes)
    : folder_(std::move(folder)), source_(source), most_bytes_(most_bytes) {}

std::vector<Answer> Cache::work(const std::vector<Task>& tasks, const rating::Progress& progress) {
  std::error_code ignored;
  if (!folder_.empty()) fs::create_directories(folder_, ignored);
  std::vector<Answer> answers(tasks.size());
  std::vector<Task> asked;
  std::vector<std::size_t> places;
  std::vector<fs::path> paths(tasks.size());
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    if (!folder_.empty() && is_kept(tasks[i])) {
      paths[i] = fs::path(folder_) / sha256_hex(solids_form + bytes_of(tasks[i]));
      if (auto kept = read_kept(paths[i])) {
        answers[i] = std::move(*kept);
        fs::last_write_time(paths[i], fs::file_time_type::clock::now(), ignored);
        continue;
      }
    }
    asked.push_back(tasks[i]);
    places.push_back(i);
  }
  if (asked.empty()) return answers;
  std::vector<Answer> found = source_.work(asked, progress);
  for (std::size_t k = 0; k < found.size(); ++k) {
    const std::size_t i = places[k];
    if (!paths[i].empty() && !std::holds_alternative<Failed>(found[k])) keep(paths[i], found[k]);
    answers[i] = std::move(found[k]);
  }
  tidy();
  return answers;
}

void Cache::tidy() const {
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

std::string cache_folder() {
  const char *cache = std::getenv("XDG_CACHE_HOME"), *home = std::getenv("HOME");
  if (cache && *cache == '/') return std::string(cache) + "/seamwright/solids";
  if (home && *home == '/') return std::string(home) + "/.cache/seamwright/solids";
  return "";
}

}  // namespace seamwright::models
