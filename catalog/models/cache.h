// SPDX-License-Identifier: GPL-3.0-or-later
// A modeller's answers, kept in the user's cache folder: by the hash of the task, of the kernel's version
// and of the sources that build with it. Several programs at once are safe: files appear whole, and a lost one is worked out again.
#pragma once

#include <cstdint>
#include <memory>
#include <string>

#include "catalog/models/modeller.h"

namespace seamwright::models {

class Cache : public Modeller {
 public:
  /// The files used longest ago go first beyond `most_bytes`. A folder that cannot be written keeps nothing.
  Cache(std::string folder, Modeller& source, std::uint64_t most_bytes = std::uint64_t{256} << 20);
  /// Failures are not kept.
  std::vector<Answer> work(const std::vector<Task>& tasks, const rating::Progress& progress) override;

 private:
  void tidy() const;

  std::string folder_;
  Modeller& source_;
  std::uint64_t most_bytes_;
};

/// XDG_CACHE_HOME or ~/.cache, then seamwright/solids; "" where neither is known.
std::string cache_folder();

}  // namespace seamwright::models
