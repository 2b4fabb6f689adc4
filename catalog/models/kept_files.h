// SPDX-License-Identifier: GPL-3.0-or-later
// Results in a folder of the user's cache, by a key. Several programs at once are safe: files appear whole, one that is
// damaged or lost is worked out again, and the folder is bounded.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace seamwright::models {

class KeptFiles {
 public:
  /// The files used longest ago go first beyond `most_bytes`. A folder that cannot be written keeps nothing, "" none.
  explicit KeptFiles(std::string folder, std::uint64_t most_bytes = std::uint64_t{256} << 20);
  std::optional<std::string> find(const std::string& key) const;
  void keep(const std::string& key, std::string_view bytes) const;
  void tidy() const;

 private:
  std::string folder_;
  std::uint64_t most_bytes_;
};

/// XDG_CACHE_HOME or ~/.cache, then seamwright and the name; "" where neither is known.
std::string cache_folder(const char* name);

}  // namespace seamwright::models
