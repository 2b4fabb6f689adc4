// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/numbered_views.h"

#include <algorithm>
#include <cmath>

#include "reports/content/frame_names.h"

namespace seamwright::reports {

namespace {

// So many of the seats at the border may be filled: with more, leaders lead far from the places that they name.
constexpr double filled_share = 0.55;
constexpr double around_mm = 70;    // of the frame, around the welds of a part
constexpr double most_larger = 4;   // than the whole
constexpr std::size_t most_parts = 16;

struct Part {
  std::vector<NamedPlace> places;  // in the picture of the whole
};

// Two halves along the longer side, at the widest gap near the middle: a joint stays in one.
std::pair<Part, Part> halved(Part part) {
  Point least{1e9, 1e9}, most{-1e9, -1e9};
  for (const NamedPlace& p : part.places) {
    least = {std::min(least.x, p.at.x), std::min(least.y, p.at.y)};
    most = {std::max(most.x, p.at.x), std::max(most.y, p.at.y)};
  }
  const bool along_x = most.x - least.x >= most.y - least.y;
  const auto place = [&](const NamedPlace& p) { return along_x ? p.at.x : p.at.y; };
  std::stable_sort(part.places.begin(), part.places.end(),
                   [&](const NamedPlace& a, const NamedPlace& b) { return place(a) < place(b); });
  const std::size_t count = part.places.size();
  std::size_t cut = count / 2;
  double widest = -1;
  for (std::size_t i = std::max<std::size_t>(1, 2 * count / 5); i <= 3 * count / 5; ++i)
    if (const double gap = place(part.places[i]) - place(part.places[i - 1]); gap > widest) {
      widest = gap;
      cut = i;
    }
  const auto middle = part.places.begin() + static_cast<std::ptrdiff_t>(cut);
  return {{{part.places.begin(), middle}}, {{middle, part.places.end()}}};
}

std::vector<Part> view_parts(Part whole, std::size_t room) {
  std::vector<Part> parts{std::move(whole)};
  for (std::size_t i = 0; i < parts.size();) {
    if (parts[i].places.size() <= room || parts.size() >= most_parts) {
      ++i;
      continue;
    }
    auto [first, second] = halved(std::move(parts[i]));
    parts[i] = std::move(first);
    parts.insert(parts.begin() + static_cast<std::ptrdiff_t>(i) + 1, std::move(second));
  }
  return parts;
}

// The view pulled to these places, as large as the border lets it.
FrameView pulled_to_part(const Part& part, const FrameView& view, const FrameCamera& camera, const Border& border,
                         double height_mm) {
  Point least{1e9, 1e9}, most{-1e9, -1e9};
  for (const NamedPlace& p : part.places) {
    least = {std::min(least.x, p.at.x), std::min(least.y, p.at.y)};
    most = {std::max(most.x, p.at.x), std::max(most.y, p.at.y)};
  }
  const double wide = (most.x - least.x) / camera.scale + 2 * around_mm,
               high = (most.y - least.y) / camera.scale + 2 * around_mm;
  const double scale = std::min({(border.inner.right - border.inner.left) / wide,
                                 (border.inner.bottom - border.inner.top) / high, most_larger * camera.scale});
  FrameView pulled = view;
  pulled.held = {unprojected(camera, {0.5 * (least.x + most.x), 0.5 * (least.y + most.y)}, 0), height_mm / scale};
  return pulled;
}

}  // namespace

std::vector<FramePicture> numbered_views(const FrameDrawing& drawing, const FrameView& view, double width_mm,
                                         double height_mm) {
  FrameLook look;
  look.names = FrameLook::Names::border;
  const Border border = border_of(drawing, view, look, width_mm, height_mm);
  const FrameView fitted = fitted_within(drawing, view, border, height_mm);
  const FrameCamera camera = camera_of(drawing, fitted, width_mm, height_mm);
  std::vector<FlagPlace> flags;
  for (const FrameDrawing::Flag& f : drawing.flags) flags.push_back({f.id, projected(camera, f.at_mm)});
  const auto room = static_cast<std::size_t>(filled_share * static_cast<double>(room_of(border)));
  const std::vector<Part> parts = view_parts({named_places(flags)}, std::max<std::size_t>(1, room));
  if (parts.size() == 1) return {frame_picture(drawing, view, look, width_mm, height_mm)};
  std::vector<FramePicture> pictures;
  for (const Part& part : parts) {
    look.named.clear();
    for (const NamedPlace& p : part.places)
      for (const std::size_t f : p.flags) look.named.insert(flags[f].id);
    pictures.push_back(frame_picture(drawing, pulled_to_part(part, view, camera, border, height_mm), look, width_mm, height_mm));
  }
  return pictures;
}

std::set<std::string> numbered_in(const std::vector<FramePicture>& pictures) {
  std::set<std::string> ids;
  for (const FramePicture& p : pictures)
    for (const FrameHits::Flag& f : p.hits.flags)
      if (f.label_size.x > 0) ids.insert(f.id);
  return ids;
}

}  // namespace seamwright::reports
