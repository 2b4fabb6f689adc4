// SPDX-License-Identifier: GPL-3.0-or-later
// A QR code (ISO/IEC 18004) as a picture.
#pragma once

#include <string>

#include "reports/content/picture.h"

namespace seamwright::reports {

/// 16 mm square with its quiet zone, error correction M (about 15 %); empty for no text and for more than a
/// code holds.
Picture code_of(const std::string& text);

}  // namespace seamwright::reports
