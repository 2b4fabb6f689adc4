// SPDX-License-Identifier: GPL-3.0-or-later
// The names of the measured road surfaces, where nothing else of the catalog is needed.
#pragma once

#include <string>
#include <vector>

namespace seamwright::published {

/// The ids of the measured road surfaces, in the order of the table.
std::vector<std::string> surface_names();

}  // namespace seamwright::published
