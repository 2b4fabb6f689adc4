// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/bolt_torques.h"

#include <cmath>

#include "engine/design/design.h"
#include "engine/joints/bolt.h"

namespace seamwright::study {

std::vector<BoltTorque> bolt_torques(const design::Design& design) {
  std::vector<BoltTorque> rows;
  for (const design::BoltCircle& b : design.bolts) {
    if (!(b.preload_n > 0)) continue;
    BoltTorque row{b.id, b.count, b.preload_n, std::nan("")};
    if (b.friction > 0 && b.head_mm > 0)
      row.torque_nm =
          joints::tightening_torque({b.thread, b.preload_n, b.friction, b.friction, b.head_mm}).torque_nmm /
          1000;
    rows.push_back(row);
  }
  return rows;
}

}  // namespace seamwright::study
