// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/frame.h"

namespace seamwright::frame {

bool JointBody::operator==(const JointBody& o) const {
  return id == o.id && ends == o.ends && nodes == o.nodes && within == o.within && axes == o.axes &&
         stiffness.rows() == o.stiffness.rows() && stiffness.cols() == o.stiffness.cols() && stiffness == o.stiffness;
}

}  // namespace seamwright::frame
