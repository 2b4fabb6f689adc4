// SPDX-License-Identifier: GPL-3.0-or-later
// The door to the geometry kernel. Bodies go in and out as its own binary text, so that callers need none of
// its types; only the worker program is linked with it. Not safe for threads; a process computes one answer.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/shape/part.h"
#include "engine/shape/solid.h"

namespace seamwright::shape::kernel {

/// A body as the kernel keeps it; "" = none.
using Body = std::string;

struct Built {
  Solid solid;
  Body body;
  std::string why;  ///< of a body that is none: what the kernel said, in its own words
};

/// Cuts one tool at a time; the volume is held against the plan's quadrature (a thousandth), else the tools are
/// shrunk by 0.05 mm once, else there is no body. Never throws.
Built build(const Part& part);
/// A fillet swept along its root curve, else a ring, else none.
Built build(const WeldBody& weld);

/// Two bodies share this. Depth: the least width of what they share, by its own axes.
struct Common {
  double volume_mm3 = 0, depth_mm = 0;
  Vec3 centre_mm{0, 0, 0};
};
Common common(const Body& a, const Body& b);

struct NamedBody {
  std::string id, colour;  ///< colour: a group that shares one
  const Body* body = nullptr;
};

/// Lines of a parallel view, mm of the picture: x to the right, y up; each line through several points.
struct ViewLine {
  std::string id;  ///< of the body; "" where bodies are not told apart
  bool visible = true, outline = true;
  std::vector<Eigen::Vector2d> points;
};
/// towards: from the eye into the picture; up: of the picture. Exact for curved surfaces. The view is tilted by
/// 0.1 degrees, since the kernel may not end where it looks exactly along a face.
std::vector<ViewLine> view(const std::vector<NamedBody>& bodies, const Vec3& towards, const Vec3& up);

/// ISO 10303-214 (AP214), millimetres. One product for each body, under one assembly. Throws
/// std::runtime_error with the kernel's words.
void write_step(const std::string& path, const std::string& name, const std::vector<NamedBody>& bodies);

/// "7.6.3": part of every cache key.
std::string version();

}  // namespace seamwright::shape::kernel
