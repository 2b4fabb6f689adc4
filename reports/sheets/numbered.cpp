// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "reports/content/numbered_views.h"
#include "reports/sheets/sheets.h"

namespace seamwright::reports {

void add_numbered_views(Document& d, const design::Design& design, std::initializer_list<const char*> views,
                        double height_mm, const DrawnViews* drawn) {
  const FrameDrawing drawing = frame_drawing(design, drawn ? *drawn : DrawnViews{});
  std::set<std::string> numbered;
  for (const char* view : views) {
    const std::vector<FramePicture> pictures = numbered_views(drawing, view_of(view), 182, height_mm);
    numbered.merge(numbered_in(pictures));
    for (std::size_t i = 0; i < pictures.size(); ++i) {
      Message caption{pictures.size() == 1 ? MessageId("plot.frame-caption") : "plot.part-caption",
                      {text("design", design.identity.name),
                       sentence_argument("view", composed_id("view.", view))}};
      if (pictures.size() > 1) {
        caption.arguments.push_back(number("part", static_cast<double>(i + 1), ""));
        caption.arguments.push_back(number("parts", static_cast<double>(pictures.size()), ""));
      }
      d.blocks.emplace_back(PictureBlock{pictures[i].picture, std::move(caption)});
    }
  }
  std::string missing;
  for (const FrameDrawing::Flag& f : drawing.flags)
    if (!numbered.contains(f.id)) missing.append(missing.empty() ? "" : ", ").append(f.id);
  if (!missing.empty()) d.blocks.emplace_back(Paragraph{{"sheet.unnumbered", {text("welds", missing)}}});
}

}  // namespace seamwright::reports
