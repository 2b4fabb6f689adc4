// SPDX-License-Identifier: GPL-3.0-or-later
// The door to the geometry kernel. Bodies go in and out as its own binary text, so that callers need none of
// its types; only the worker program is linked with it. Not safe for threads; a process computes one answer.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "engine/shape/part.h"
#include "engine/shape/solid.h"

namespace seamwright::shape::kernel {

/// Cuts one tool at a time; the volume is held against the plan's quadrature (a thousandth), else the tools are
/// shrunk by 0.05 mm once, else there is no body. Never throws.
Built build(const Part& part);
/// A fillet swept along its root curve, else a ring, else none.
Built build(const WeldBody& weld);

Common common(const Body& a, const Body& b);

/// A hidden-line view, exact for curved surfaces. towards: from the eye into the picture; up: of the picture. The view is tilted by
/// 0.1 degrees, since the kernel may not end where it looks exactly along a face.
std::vector<ViewLine> view(const std::vector<NamedBody>& bodies, const Vec3& towards, const Vec3& up);

/// An exchange file (ISO 10303-21, AP214), millimetres: one product for each body, under one assembly; the first `fused` of
/// them are one. Throws std::runtime_error with the kernel's words.
std::string step_file(const std::string& name, const std::vector<NamedBody>& bodies, std::size_t fused);

/// Runs a step of the kernel: "" when it went well, else what the kernel said, in its own words.
std::string failure_of(const std::function<void()>& step);

}  // namespace seamwright::shape::kernel
