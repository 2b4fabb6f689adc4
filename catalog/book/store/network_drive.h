// SPDX-License-Identifier: GPL-3.0-or-later
// A file system that other machines share may report data as written that are not, and keep no locks.
#pragma once

#include <string>

namespace seamwright::book {

struct FileSystem {
  long type = 0;           ///< as statfs(2) says it
  std::string mounted_as;  ///< as /proc/self/mountinfo names it; asked where the type alone does not tell
};

/// Looks where a file is, or is to be; a test puts another in its place.
inline FileSystem (*file_system_of)(const std::string& path) = nullptr;

/// Names the kind of network drive that a path is on, "" for a disk of this machine.
std::string network_drive_of(const std::string& path);

}  // namespace seamwright::book
