// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of a duty that say what happens on the way.
#pragma once

#include <vector>

#include "catalog/files/reader.h"
#include "catalog/published/published_data.h"
#include "engine/loads/acts.h"

namespace seamwright::files {

/// Reads what a manoeuvre of one act has beside id and act.
struct ActKeys {
  const loads::Act* act;
  void (*read)(Reader& reader, loads::Manoeuvre& manoeuvre);
};
const std::vector<ActKeys>& act_keys();
/// Throws the reader's Faults; an act that is none of these is refused with their names.
loads::Manoeuvre read_manoeuvre(Reader reader, const std::vector<ActKeys>& acts);

/// Reads roads, manoeuvres, obstacles and trips of a duty (profiles lie beside it). Throws the
/// reader's Faults, and those of the profiles' tables.
void read_service(Reader& root, const published::Catalog& catalog, loads::Duty& duty);

}  // namespace seamwright::files
