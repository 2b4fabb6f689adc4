// SPDX-License-Identifier: GPL-3.0-or-later
// Keys, salts and names of books out of a counter instead of chance, so that what is made twice is the same.
#pragma once

#include <sodium.h>

#include <cstddef>
#include <cstdint>
#include <stdexcept>

namespace seamwright::book {

/// libsodium draws the same bytes in the same order while one of these lives. One at a time.
class FixedBytes {
 public:
  /// Counting goes on from a number, so that what is drawn later differs from what was drawn before.
  explicit FixedBytes(std::uint64_t from = 0) {
    if (sodium_init() < 0) throw std::runtime_error("libsodium does not start");  // before it puts its own in
    drawn() = from;
    static randombytes_implementation counter{
        [] { return "counter"; },
        [] { return word(); },
        nullptr,
        nullptr,
        [](void* const to, const std::size_t size) { fill(static_cast<unsigned char*>(to), size); },
        nullptr};
    randombytes_set_implementation(&counter);
  }
  ~FixedBytes() { randombytes_set_implementation(&randombytes_sysrandom_implementation); }
  FixedBytes(const FixedBytes&) = delete;
  FixedBytes& operator=(const FixedBytes&) = delete;

 private:
  static std::uint64_t& drawn() {
    static std::uint64_t count = 0;
    return count;
  }
  // The finishing steps of SplitMix64 over a counter: plain, and as good as any for a test.
  static std::uint32_t word() {
    std::uint64_t z = ++drawn() * 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return static_cast<std::uint32_t>((z ^ (z >> 31)) >> 32);
  }
  static void fill(unsigned char* to, std::size_t size) {
    for (std::size_t i = 0; i < size; ++i) to[i] = static_cast<unsigned char>(word());
  }
};

}  // namespace seamwright::book
