// SPDX-License-Identifier: GPL-3.0-or-later
// Two TOML files are compared place by place.
#pragma once

#include <string>
#include <vector>

namespace seamwright::files {

struct Difference {
  std::string place, first, second;  ///< values as written; "" where the place is not there
};
/// Places as in patched(): rows by their id. Comments and the order of rows do not matter. Throws Fault
/// "file.missing", "file.syntax" and the like.
std::vector<Difference> differences(const std::string& first, const std::string& second);
/// The same of two texts; file is for messages.
std::vector<Difference> differences_of(const std::string& file, const std::string& first,
                                       const std::string& second);

}  // namespace seamwright::files
