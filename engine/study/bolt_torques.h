// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace seamwright::design {
struct Design;
}

namespace seamwright::study {

struct BoltTorque {
  std::string bolts;
  int count = 0;
  double preload_n = 0, torque_nm = 0;  ///< torque NaN: friction or bearing diameter are not stated
};
/// Every circle of bolts with a preload, and the torque for it where the design states what it takes.
std::vector<BoltTorque> bolt_torques(const design::Design& design);

}  // namespace seamwright::study
