// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/attached_files.h"

#include "catalog/book/records/names.h"

namespace seamwright::book {

const files::FilesInMemory& AttachedFiles::fetched() const {
  if (fetched_) return *fetched_;
  std::vector<std::string> asked;
  for (const auto& [name, sha256] : sha256_)
    if (!sha256.empty()) asked.push_back(sha256);
  kept_ = book_.attachments(asked);
  std::map<std::string, std::string> texts;
  for (const auto& [name, sha256] : sha256_) {
    const auto found = kept_.find(sha256);
    texts[name] = found == kept_.end() ? std::string() : found->second;
  }
  return fetched_.emplace(std::move(texts));
}

bool AttachedFiles::has(const std::string& name) const {
  const auto known = sha256_.find(name);
  if (known == sha256_.end()) return false;
  fetched();
  return kept_.contains(known->second);
}

std::string file_of(const Record& r) {
  const auto file = r.content.find(field::file);
  return file == r.content.end() ? std::string() : word_at(*file, field::sha256);
}

std::string procedure_name(std::size_t number) { return "procedures/" + std::to_string(number) + ".toml"; }

}  // namespace seamwright::book
