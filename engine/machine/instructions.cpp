// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/machine/instructions.h"

namespace seamwright::machine {

const std::vector<Instructions>& known_instructions() {
  static const std::vector<Instructions> known = [] {
    std::vector<Instructions> all{Instructions::baseline};
#if defined(__x86_64__) && !defined(__clang__)  // by GCC's pragmas
    if (__builtin_cpu_supports("x86-64-v3") != 0) all.push_back(Instructions::v3);
#endif
    return all;
  }();
  return known;
}

}  // namespace seamwright::machine
