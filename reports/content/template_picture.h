// SPDX-License-Identifier: GPL-3.0-or-later
// The template of a tube's end as a picture in true scale: the outer surface unrolled, seen from outside, the
// end up.
#pragma once

#include <string>
#include <vector>

#include "engine/shape/cope.h"
#include "reports/content/picture.h"

namespace seamwright::reports {

/// Ends that are cut alike.
struct Template {
  const shape::TubeEnd* end = nullptr;
  std::vector<const shape::TubeEnd*> same;  ///< others that it serves
};

/// All coped and mitred ends of round tubes in the order of the blanks. Ends share a template when the tubes
/// are alike, both lines lie within 0.01 mm of each other all round, from the long point, and the top mark
/// looks the same way. The blanks must outlive it.
std::vector<Template> templates_of(const std::vector<shape::Blank>& blanks);

/// The picture is pi times the diameter wide, from edge to edge at the seam.
Picture template_picture(const Template& one, const shape::Blank& blank);

/// The way a top mark looks, by the axis that it is nearest to: "templates.faces-up" and so on.
MessageId facing(const frame::Vec3& top);

}  // namespace seamwright::reports
