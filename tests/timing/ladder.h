// SPDX-License-Identifier: GPL-3.0-or-later
// A drawing of any number of members, each with its flag.
#pragma once

#include <fmt/format.h>

#include "reports/content/frame_drawing.h"

namespace seamwright::timing {

inline reports::FrameDrawing ladder(std::size_t members) {
  reports::FrameDrawing d;
  for (std::size_t i = 0; i <= members; ++i)
    d.points.push_back({fmt::format("n{}", i),
                        {static_cast<double>(i % 40) * 50, static_cast<double>(i / 40) * 80,
                         static_cast<double>(i % 7) * 30}});
  for (std::size_t i = 0; i < members; ++i) {
    d.stretches.push_back({fmt::format("m{}", i), i, i + 1, 25, false});
    d.flags.push_back(
        {fmt::format("W{}", i), fmt::format("m{}", i), "n", i, d.points[i].at_mm, {0, 0, 1}, 25});
  }
  d.most_mm = {2000, 800, 180};
  return d;
}

}  // namespace seamwright::timing
