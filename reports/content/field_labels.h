// SPDX-License-Identifier: GPL-3.0-or-later
// Keys of the files have these labels in a form.
#pragma once

#include <string>
#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::reports {

struct Field {
  Message label;
  std::string unit;  ///< "" = dimensionless, or not a measure
};
/// "wall_mm" -> wall, mm. A key that has no name here is shown as it is written, as parameters and the rates
/// of a leg ("per_km.bend") are: their names are the user's.
Field field_of(const std::string& table, const std::string& key);
/// Tells what a field is, its unit, and what the reader takes for it: the sentences of a help line. Empty for
/// a name of the user's. file: "design" or "duty".
std::vector<Message> about_field(const std::string& file, const std::string& table, const std::string& key);
/// "tube" -> Tubes.
Message table_title(const std::string& table);

}  // namespace seamwright::reports
