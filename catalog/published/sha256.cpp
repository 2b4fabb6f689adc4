// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/published/sha256.h"

#include <sodium.h>

#include <array>

namespace seamwright {

std::string sha256_hex(std::string_view bytes) {
  std::array<unsigned char, crypto_hash_sha256_BYTES> digest{};
  crypto_hash_sha256(digest.data(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
  std::array<char, 2 * crypto_hash_sha256_BYTES + 1> hex{};
  return sodium_bin2hex(hex.data(), hex.size(), digest.data(), digest.size());
}

}  // namespace seamwright
