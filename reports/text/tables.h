// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <span>
#include <string_view>

namespace seamwright::reports {

struct Entry {
  std::string_view id, english, german;
};
/// All sentences, both languages side by side.
std::span<const Entry> entries();

}  // namespace seamwright::reports
