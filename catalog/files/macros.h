// SPDX-License-Identifier: GPL-3.0-or-later
// Macro sections of procedure tests: what shows that a root is fused.
#pragma once

#include <string>

namespace seamwright::files {

/// Whether a file of folder/procedures/ (*.toml) holds a [[macro]] of this id with root = "fused". Throws the
/// Faults of reading for a file that is not one of the format "seamwright.procedure/1".
bool fused_macro(const std::string& folder, const std::string& id);

}  // namespace seamwright::files
