// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of a duty that say what happens on the way.
#pragma once

#include "catalog/files/reader.h"
#include "catalog/published/published_data.h"
#include "engine/loads/duty.h"

namespace seamwright::files {

/// Reads roads, manoeuvres, obstacles and trips of a duty (profiles lie beside it). Throws the
/// reader's Faults, and those of the profiles' tables.
void read_service(Reader& root, const published::Catalog& catalog, loads::Duty& duty);

}  // namespace seamwright::files
