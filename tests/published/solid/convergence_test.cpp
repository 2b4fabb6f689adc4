// SPDX-License-Identifier: GPL-3.0-or-later
// Elements as large as the wall, as ratings have them, against elements of half the size. By night.
#include <catch2/catch.hpp>

#include "tests/published/solid/tee.h"

namespace seamwright::solid {

TEST_CASE("stress through sections hardly hangs on the size of the elements", "[night]") {
  for (const double wall : {2.0, 2.5}) {
    Tee tee{40, wall, 120, {{25, 2, 90, 0, 0, 2.8, 3.2, false}}, 60, 1};
    const JointAnswer coarse = answered(task_of(tee));
    tee.size = 0.5;
    const JointAnswer fine = answered(task_of(tee));
    for (const Load load : {Load::axial, Load::in_plane, Load::out_of_plane})
      for (const auto& [kind, name] : section_kinds) {
        const auto worst = [&](const JointAnswer& a) {
          const Eigen::VectorXd columns = combined(a, {nominal_load(tee.braces[0], load)});
          double most = 0;
          for (const SectionStress& s : a.seams[0].sections[static_cast<std::size_t>(kind)])
            most = std::max(most, std::abs((s.membrane + s.bending).dot(columns)));
          return most;
        };
        // Legs that carry little say little: their share of the throat's stress is small.
        if (worst(fine) < 0.2) continue;
        CAPTURE(wall, std::string(name), static_cast<int>(load), worst(coarse), worst(fine));
        CHECK(worst(coarse) / worst(fine) > 0.9);
        CHECK(worst(coarse) / worst(fine) < 1.2);
      }
  }
}

}  // namespace seamwright::solid
