// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/cache.h"

#include "catalog/models/wire.h"
#include "catalog/published/sha256.h"
#include "engine/rating/progress.h"

namespace seamwright {
extern const char *const solids_form, *const joints_form;  // written by the build
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

std::string key_of(const Task& task, const std::string& bytes) {
  std::string form = solids_form;
  if (std::holds_alternative<solid::JointTask>(task)) form += joints_form;
  return sha256_hex(form + bytes);
}

bool is_kept(const Task& task) { return !std::holds_alternative<ExportTask>(task); }

}  // namespace

Cache::Cache(std::string folder, Modeller& source, std::uint64_t most_bytes, Known known)
    : files_(std::move(folder), most_bytes), source_(source), known_(known) {}

std::vector<Answer> Cache::work(const std::vector<Task>& tasks, const rating::Progress& progress, const Told& told) {
  std::vector<Answer> answers(tasks.size());
  std::vector<Task> asked;
  std::vector<std::size_t> places;
  std::vector<std::string> keys(tasks.size());
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    if (is_kept(tasks[i])) {
      const std::string bytes = bytes_of(tasks[i]);
      keys[i] = key_of(tasks[i], bytes);
      std::optional<Answer> known = kept_answer(files_, keys[i]);
      if (!known && known_) known = known_(bytes);
      if (known) {
        answers[i] = std::move(*known);
        if (told) told(i, answers[i]);
        continue;
      }
    }
    asked.push_back(tasks[i]);
    places.push_back(i);
  }
  if (asked.empty()) return answers;
  std::vector<Answer> found = source_.work(asked, progress, [&](std::size_t k, const Answer& answer) {
    const std::size_t i = places[k];
    if (!keys[i].empty() && !std::holds_alternative<Failed>(answer)) files_.keep(keys[i], bytes_of(answer));
    if (told) told(i, answer);
  });
  for (std::size_t k = 0; k < found.size(); ++k) answers[places[k]] = std::move(found[k]);
  files_.tidy();
  return answers;
}

}  // namespace seamwright::models
