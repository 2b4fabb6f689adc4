// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/cache.h"

#include "catalog/models/wire.h"
#include "catalog/published/sha256.h"
#include "engine/rating/progress.h"

namespace seamwright {
extern const char* const solids_form;  // written by the build
}

namespace seamwright::models {

namespace {

std::optional<Answer> kept_answer(const KeptFiles& files, const std::string& key) {
  const std::optional<std::string> bytes = files.find(key);
  if (!bytes) return {};
  try {
    return answer_of(*bytes);
  } catch (const std::exception&) {
    return {};
  }
}

bool is_kept(const Task& task) { return !std::holds_alternative<ExportTask>(task); }

}  // namespace

Cache::Cache(std::string folder, Modeller& source, std::uint64_t most_bytes)
    : files_(std::move(folder), most_bytes), source_(source) {}

std::vector<Answer> Cache::work(const std::vector<Task>& tasks, const rating::Progress& progress) {
  std::vector<Answer> answers(tasks.size());
  std::vector<Task> asked;
  std::vector<std::size_t> places;
  std::vector<std::string> keys(tasks.size());
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    if (is_kept(tasks[i])) {
      keys[i] = sha256_hex(solids_form + bytes_of(tasks[i]));
      if (auto kept = kept_answer(files_, keys[i])) {
        answers[i] = std::move(*kept);
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
    if (!keys[i].empty() && !std::holds_alternative<Failed>(found[k])) files_.keep(keys[i], bytes_of(found[k]));
    answers[i] = std::move(found[k]);
  }
  files_.tidy();
  return answers;
}

}  // namespace seamwright::models
