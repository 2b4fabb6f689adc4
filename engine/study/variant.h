// SPDX-License-Identifier: GPL-3.0-or-later
// Studies share these: a rating boiled down, and the mass of a frame.
#pragma once

#include <string>
#include <vector>

namespace seamwright::frame {
struct Frame;
}
namespace seamwright::rating {
struct WeldRating;
}

namespace seamwright::study {

/// Mass of the welded tubes, kg: section times length between the nodes, without cuts and weld metal.
double frame_mass_kg(const frame::Frame& frame);

/// Life of the worst site of a weld, km with factors; NaN when the weld is not there or not covered.
double life_km(const std::vector<rating::WeldRating>& welds, const std::string& weld);

}  // namespace seamwright::study
