// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/evidence/possible.h"

#include <algorithm>
#include <limits>
#include <stdexcept>
#include <string_view>

namespace seamwright {

namespace {

constexpr double no_bound = std::numeric_limits<double>::infinity();

constexpr PhysicalLimit table[] = {
    {"wall-least", "wall of a tube", 0.5, no_bound, "mm", "iso-5817", "scope", true},
    {"wall-radius", "wall over outer radius of a tube", 0, 1, "", "seamwright", "geometry", false},
    {"throat-wall", "throat of a fillet over the thinnest wall that it joins", 0, 2, "", "seamwright",
     "common practice", false},
    {"inertia", "largest moment of inertia of a mass over the sum of the other two", 0, 1, "", "seamwright",
     "mechanics", false},
    {"gyration", "largest radius of gyration of a mass over half the frame's extent", 0, 1, "", "seamwright",
     "geometry", false},
    {"tyre-section", "radius of a tyre's section over half the wheel's radius", 0, 1, "", "seamwright",
     "geometry", false},
    {"hole", "diameter of a hole over that of its tube", 0, 1, "", "seamwright", "geometry", false},
    {"weld-line", "length of a weld line along a tube over the tube's", 0, 1, "", "seamwright", "geometry",
     false},
    {"kerb", "height of an upright edge over the radius of the smallest wheel", 0, 1, "", "seamwright",
     "mechanics", false},
};

}  // namespace

std::span<const PhysicalLimit> physical_limits() { return table; }

void check_possible(const char* limit_id, const std::string& of, double value) {
  const auto* row = std::find_if(std::begin(table), std::end(table),
                                 [&](const PhysicalLimit& l) { return std::string_view(l.id) == limit_id; });
  if (row == std::end(table)) throw std::logic_error(std::string("no physical limit ") + limit_id);
  if (limit(row->quantity, value, row->unit, row->least, row->most).inside) return;
  throw Fault{Message{composed_id("possible.", limit_id),
                      {text("id", of), number("found", value, row->unit),
                       number("least", row->least, row->unit), number("most", row->most, row->unit)}}};
}

}  // namespace seamwright
