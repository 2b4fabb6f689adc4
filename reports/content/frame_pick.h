// SPDX-License-Identifier: GPL-3.0-or-later
// Picking by pointer: the body nearest to the viewer, and the place on it.
#pragma once

#include <optional>

#include "reports/content/frame_bands.h"

namespace seamwright::reports {

struct Picked {
  std::string id;
  bool weld = false;
  frame::Vec3 place_mm{0, 0, 0};
};
/// The frame moved by `scale` times the mesh's motion. Nothing for the ground behind the frame. What a
/// section took away is not there.
std::optional<Picked> picked_at(const FrameDrawing& drawing, const FrameMesh& mesh, const FrameBands& bands,
                                const FrameCamera& camera, const std::optional<HalfSpace>& kept, double scale,
                                const Point& point);

/// The view pulled to a flag's joint and turned, by no more than it takes, to where its band is seen.
FrameView facing_view(const FrameDrawing& drawing, const FrameMesh& mesh, const FrameBands& bands,
                      const FrameView& view, const std::string& flag, double width_mm, double height_mm);

}  // namespace seamwright::reports
