// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer's door: SEAMWRIGHT_FUZZ names the target.
#include <cstdint>
#include <cstdlib>

#include "tests/fuzz/targets.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const seamwright::fuzz::Target* target = [] {
    const char* name = std::getenv("SEAMWRIGHT_FUZZ");
    return seamwright::fuzz::target_named(name ? name : "");
  }();
  if (!target) std::abort();
  seamwright::fuzz::run(*target, {reinterpret_cast<const char*>(data), size});
  return 0;
}
