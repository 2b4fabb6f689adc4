// SPDX-License-Identifier: GPL-3.0-or-later
// The demonstration's joints come with the program, so that its first rating takes seconds. The file is frames (wire.h), in pairs:
// the SHA-256 of a task's bytes in hexadecimal, and its answer.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "catalog/models/modeller.h"

namespace seamwright::models {

/// The answer to a task with these bytes; none where it does not come with the program.
std::optional<Answer> shipped_answer(std::string_view task_bytes);

/// The file's content.
std::string shipped_file(const std::vector<Task>& tasks, const std::vector<Answer>& answers);

}  // namespace seamwright::models
