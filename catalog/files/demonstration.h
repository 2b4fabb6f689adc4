// SPDX-License-Identifier: GPL-3.0-or-later
// An invented workshop on the disk, to try the program on.
#pragma once

#include <string>
#include <vector>

#include "catalog/files/wording.h"

namespace seamwright::files {

/// Writes both revisions of the demonstration's job and the samples into a folder, which is made where it is not: "trike", "trike-b",
/// "samples". Its texts are worded in the language given. Returns the paths of these three. Throws Fault "new.exists" before anything is written when one of the files is there already,
/// std::runtime_error where nothing can be written.
std::vector<std::string> write_demonstration(const std::string& folder, const Wording& wording = {});

/// The first revision alone, straight into a folder; throws as write_demonstration().
void write_demonstration_job(const std::string& folder, const Wording& wording = {});

}  // namespace seamwright::files
