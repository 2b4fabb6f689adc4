// SPDX-License-Identifier: GPL-3.0-or-later
// The nodes of a design move so with each of its parameters.
#pragma once

#include <string>
#include <vector>

#include "catalog/files/source.h"
#include "engine/frame/vector.h"

namespace seamwright::published {
struct Catalog;
}

namespace seamwright::files {

struct ParameterReach {
  std::string name;
  double value = 0;
  std::vector<frame::Vec3> moves;  ///< of each node of the design, mm for a unit of the parameter; empty: not known
};

/// The parameters in their order in the file. A parameter's effect is a difference: the design is read once with a
/// little more and once with a little less of it, all else as written; where the reader refuses one of the two, from
/// the value itself to the other. Throws what read_design() throws.
std::vector<ParameterReach> parameter_reaches(const SourceFile& design, const published::Catalog& catalog);

}  // namespace seamwright::files
