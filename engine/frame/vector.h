// SPDX-License-Identifier: GPL-3.0-or-later
// A place or a direction in the axes of the frame: x forward, y left, z up.
#pragma once

#include <Eigen/Core>

namespace seamwright::frame {

using Vec3 = Eigen::Vector3d;

}  // namespace seamwright::frame
