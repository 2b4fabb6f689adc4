// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/shape_findings.h"

#include <algorithm>
#include <set>
#include <string>

#include "engine/design/design.h"
#include "engine/loads/steering.h"
#include "engine/shape/checks.h"
#include "engine/shape/clash.h"

namespace seamwright::rating {

namespace {

constexpr double step_deg = 10;

std::vector<double> steering_angles(const loads::Steering& steering) {
  std::vector<double> angles;
  for (double a = step_deg; a < std::max(steering.left_deg, steering.right_deg) + step_deg; a += step_deg) {
    if (a < steering.left_deg + step_deg) angles.push_back(std::min(a, steering.left_deg));
    if (a < steering.right_deg + step_deg) angles.push_back(-std::min(a, steering.right_deg));
  }
  std::erase(angles, 0.0);
  return angles;
}

// The front wheels hang on one side of the hinge alone.
bool steers(const frame::Frame& frame, const std::string& hinge) {
  try {
    loads::steered_frame(frame, {hinge, 1, 1}, 1);
    return true;
  } catch (const Fault&) {
    return false;
  }
}

std::vector<Message> turned_clashes(const design::Design& design) {
  std::vector<Message> found;
  if (design.steering.hinge.empty()) {
    for (const frame::Hinge& hinge : design.frame.hinges)
      if (steers(design.frame, hinge.id)) found.push_back({"shape.stops-unknown", {text("hinge", hinge.id)}});
    return found;
  }
  std::set<std::string> links;
  for (const frame::Member& m : design.frame.members)
    if (m.axial_only) links.insert(m.id);
  for (const double angle : steering_angles(design.steering)) {
    for (const shape::Clash& c : shape::clashes(loads::steered_frame(design.frame, design.steering, angle), design.welds))
      if (!links.contains(c.first) && !links.contains(c.second))
        found.push_back({"shape.turned-clash",
                         {number("angle", angle, "deg"), text("first", c.first), text("second", c.second),
                          number("overlap", c.overlap_mm, "mm")}});
    if (!found.empty()) break;  // beyond that the front does not turn
  }
  return found;
}

}  // namespace

std::vector<Message> shape_findings(const design::Design& design) {
  std::vector<Message> wrong;
  for (shape::WeldFinding& found : shape::weld_findings(design))
    if (!found.preparation) wrong.push_back(std::move(found.message));
  for (Message& clash : turned_clashes(design)) wrong.push_back(std::move(clash));
  return wrong;
}

}  // namespace seamwright::rating
