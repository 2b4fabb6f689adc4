// SPDX-License-Identifier: GPL-3.0-or-later
// A material as beam theory and strength need it.
#pragma once

#include <string>

namespace seamwright::frame {

struct Material {
  std::string id;
  double youngs_mpa = 0, poisson = 0, density_kg_m3 = 0;
  double yield_mpa = 0, ultimate_mpa = 0;  ///< 0 = not stated
  double haz_yield_mpa = 0;                ///< of the heat-affected zone; 0 = not stated
  bool operator==(const Material&) const = default;
};

}  // namespace seamwright::frame
