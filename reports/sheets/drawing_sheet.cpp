// SPDX-License-Identifier: GPL-3.0-or-later
// The frame as a dimensioned drawing, a view on each page, and its parameters in a table; one joint alone.
#include <cmath>

#include "engine/evidence/constants.h"
#include "engine/shape/fillet.h"
#include "reports/content/dimensioned_views.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/preparation_picture.h"
#include "reports/sheets/shape_sheets.h"

namespace seamwright::reports {

namespace {

Cell shown_cell(const ParameterDimension& p) {
  if (p.axis < 0) return Message{"drawing.no-distance", {}};
  const MessageId view = p.axis == 1 ? MessageId("view.top") : "view.side";
  if (!p.both_sides) return Message{view, {}};
  return Message{"drawing.both-sides",
                 {sentence_argument("view", view), number("distance", std::abs(p.to[p.axis] - p.from[p.axis]), "mm")}};
}

Facts joint_facts(const joints::Weld& w, const shape::JointPlan& joint) {
  Facts f;
  const auto add = [&](MessageId label, Cell value) { f.facts.push_back({message_of(label), std::move(value)}); };
  add("column.kind", term_cell("joint-kind.", w.kind));
  if (!w.member.empty()) add("column.brace", Verbatim{w.member});
  if (!w.chord.empty()) add("column.chord", Verbatim{w.chord});
  if (joint.has_angle)
    add("column.angle", Quantity{std::acos(std::min(1.0, std::abs(joint.brace.dot(joint.right)))) / degree, "deg", 3});
  if (w.throat_mm > 0) add("column.throat", Quantity{w.throat_mm, "mm", 3});
  for (const shape::WeldBody& body : joint.plan.welds) {
    const auto* fillet = std::get_if<shape::FilletAround>(&body.body);
    if (body.id != w.id || !fillet) continue;
    add("column.leg-crown", Quantity{fillet->leg_crown_mm, "mm", 2});
    if (fillet->leg_opposite_mm > 0) add("column.leg-opposite", Quantity{fillet->leg_opposite_mm, "mm", 2});
    add("column.leg-saddle", Quantity{fillet->leg_saddle_mm, "mm", 2});
    if (w.fusion_mm > 0) add("column.fusion", Quantity{w.fusion_mm, "mm", 2});
    const shape::TubePair pair = shape::pair_of(*fillet);
    const shape::Dihedrals walls = shape::dihedrals(pair);
    if (const auto length = shape::root_length_mm(pair)) {
      add("drawing.root-length", Quantity{*length, "mm", 3});
      add("drawing.walls",
          Message{"drawing.span", {number("low", walls.least_deg, "deg"), number("high", walls.most_deg, "deg")}});
    }
  }
  if (!w.procedure.empty()) add("column.procedure", Verbatim{w.procedure});
  return f;
}

void add_preparation(Document& d, const design::Design& design, const joints::Weld& weld,
                     const shape::JointPlan& joint) {
  for (const shape::WeldBody& body : joint.plan.welds) {
    const auto* fillet = std::get_if<shape::FilletAround>(&body.body);
    if (body.id != weld.id || !fillet) continue;
    if (const auto edge = preparation_of(design, weld, *fillet))
      d.blocks.emplace_back(PictureBlock{
          edge->picture,
          {"drawing.preparation",
           {number("angle", edge->widest_deg, "deg"), number("share", edge->share_percent, "%"),
            number("most", edge->most_deg, "deg"), text("member", weld.member),
            text("scale", std::to_string(preparation_enlargement) + ":1")}},
          true});
  }
}

}  // namespace

Document drawing_sheet(const design::Design& design, const std::vector<files::ParameterReach>& reaches,
                       const Anchor& a, const DrawnViews* drawn) {
  Document d;
  d.landscape = true;
  d.title = {"drawing.title", {text("design", design.identity.name + " " + design.identity.revision)}};
  const FrameDrawing drawing = frame_drawing(design, drawn ? *drawn : DrawnViews{});
  const std::vector<ParameterDimension> dimensions = parameter_dimensions(design.frame, reaches);
  for (const DimensionedView& v : dimensioned_views(drawing, dimensions)) {
    if (!d.blocks.empty()) d.blocks.emplace_back(PageBreak{});
    d.blocks.emplace_back(
        PictureBlock{v.picture,
                     {v.overall ? MessageId("drawing.caption-overall") : "drawing.caption",
                      {sentence_argument("view", composed_id("view.", v.name)),
                       text("scale", "1:" + std::to_string(v.reduction))}},
                     true});
  }
  if (drawing.views.lines.empty() && drawing.views.notes.empty())  // those say why
    d.blocks.emplace_back(Paragraph{message_of("drawing.without-solids")});
  if (!dimensions.empty()) {
    Table t = table_of({"column.parameter", "column.value", "column.shown-in"});
    for (const ParameterDimension& p : dimensions)
      t.rows.push_back({Verbatim{p.parameter},
                        p.axis < 0 ? Cell(Quantity{p.value, "", 4}) : Cell(Quantity{p.value, "mm", 5}), shown_cell(p)});
    d.blocks.emplace_back(PageBreak{});
    d.blocks.emplace_back(Heading{2, message_of("drawing.parameters")});
    d.blocks.emplace_back(std::move(t));
  }
  add_design_foot(d, design);
  anchor(d, a);
  return d;
}

Document joint_sheet(const design::Design& design, const joints::Weld& weld, const DrawnJoint& drawn,
                     const Anchor& a) {
  Document d;
  d.landscape = true;
  d.title = {"drawing.joint-title",
             {text("weld", weld.id), text("design", design.identity.name + " " + design.identity.revision)}};
  if (drawn.views.empty()) {
    d.blocks.emplace_back(Paragraph{message_of("drawing.without-joint")});
  } else {
    const JointPictures pictures = joint_pictures(design, weld, drawn);
    const Message caption{"drawing.joint-caption", {text("scale", "1:" + std::to_string(pictures.reduction))}};
    d.blocks = {PictureBlock{pictures.measured, caption, true}, PictureBlock{pictures.others, caption, true}};
  }
  d.blocks.emplace_back(joint_facts(weld, drawn.joint));
  add_preparation(d, design, weld, drawn.joint);
  add_design_foot(d, design);
  anchor(d, a);
  return d;
}

}  // namespace seamwright::reports
