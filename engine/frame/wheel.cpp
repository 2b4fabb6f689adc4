// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <numbers>

#include "engine/frame/frame.h"

#include "engine/evidence/constants.h"

namespace seamwright::frame {

double side_of(const Wheel& wheel) { return wheel.id == "FL" ? 1 : wheel.id == "FR" ? -1 : 0; }

Vec3 contact_arm_mm(const Wheel& w) {
  const double circle = w.radius_mm - w.section_radius_mm, heading = w.heading_deg * degree;
  const double out = side_of(w) * circle * std::sin(w.camber_deg * degree);
  return {-std::sin(heading) * out, std::cos(heading) * out,
          -circle * std::cos(w.camber_deg * degree) - w.section_radius_mm};
}

}  // namespace seamwright::frame
