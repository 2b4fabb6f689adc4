// SPDX-License-Identifier: GPL-3.0-or-later
// All that decides the rows of a table of variants has one name.
#pragma once

#include <string>

#include "catalog/sweeps/sweep_reader.h"

namespace seamwright::sweeps {

/// 16 hexadecimal figures over the sweep, every file that its job is read from with each of its duties, the published
/// data and the program's own sources. Throws the Faults of files that cannot be read.
std::string identity_of(const Sweep& sweep, const std::string& job);

}  // namespace seamwright::sweeps
