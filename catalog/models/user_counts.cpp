// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/user_counts.h"

#include "catalog/published/sha256.h"

namespace seamwright {
extern const char* const counts_form;  // written by the build
}

namespace seamwright::models {

namespace {

std::string key_of(std::string_view inputs) { return sha256_hex(std::string(counts_form).append(inputs)); }

}  // namespace

std::optional<std::string> UserCounts::find(std::string_view inputs) { return files_.find(key_of(inputs)); }

void UserCounts::keep(std::string_view inputs, std::string_view bytes) {
  files_.keep(key_of(inputs), bytes);
  files_.tidy();
}

}  // namespace seamwright::models
