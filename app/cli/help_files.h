// SPDX-License-Identifier: GPL-3.0-or-later
// The help's words in other languages, built in.
#pragma once

#include <string>
#include <vector>

namespace seamwright::cli {

struct HelpFile {
  std::string name, text;  ///< "de.txt"
};
const std::vector<HelpFile>& help_files();

}  // namespace seamwright::cli
