// SPDX-License-Identifier: GPL-3.0-or-later
// A modeller's answers, kept in the user's cache folder: by the hash of the task, of the kernel's version
// and of the sources that build with it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "catalog/models/kept_files.h"
#include "catalog/models/modeller.h"

namespace seamwright::models {

class Cache : public Modeller {
 public:
  /// An answer known without the folder, by the task's bytes.
  using Known = std::optional<Answer> (*)(std::string_view task_bytes);
  /// Folder and bound are those of KeptFiles.
  Cache(std::string folder, Modeller& source, std::uint64_t most_bytes = std::uint64_t{256} << 20, Known known = nullptr);
  using Modeller::work;
  /// Answers are kept as they come, failures are not.
  std::vector<Answer> work(const std::vector<Task>& tasks, const rating::Progress& progress, const Told& told) override;

 private:
  KeptFiles files_;
  Modeller& source_;
  Known known_;
};

}  // namespace seamwright::models
