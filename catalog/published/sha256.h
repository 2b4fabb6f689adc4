// SPDX-License-Identifier: GPL-3.0-or-later
// The one hash of the house: of data, files, designs and entries of a book alike.
#pragma once

#include <string>
#include <string_view>

namespace seamwright {

/// SHA-256 of bytes, as 64 hexadecimal figures in small letters. Never throws but for want of memory.
std::string sha256_hex(std::string_view bytes);

}  // namespace seamwright
