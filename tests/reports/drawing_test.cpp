// SPDX-License-Identifier: GPL-3.0-or-later
// Dimensioned drawings: each parameter stands at the distance that it sets, in true scale and within the page; a joint
// alone with its sizes, and the edge where a fillet is none.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "catalog/files/parameter_reach.h"
#include "catalog/files/patch.h"
#include "engine/design/weld_geometry.h"
#include "engine/evidence/constants.h"
#include "engine/shape/pieces.h"
#include "engine/shape/fibre.h"
#include "engine/shape/plan.h"
#include "reports/content/dimensioned_views.h"
#include "reports/content/dimensions.h"
#include "reports/content/joint_drawing.h"
#include "reports/content/preparation_picture.h"
#include "reports/sheets/shape_sheets.h"
#include "tests/reports/demonstration.h"

using namespace seamwright;
using namespace seamwright::reports;

namespace {

const std::string design_toml = demo_path + "/design.toml";

std::vector<ParameterDimension> demo_dimensions() {
  return parameter_dimensions(demo().design.frame, files::parameter_reaches(design_toml, published::catalog()));
}

const joints::Weld& weld_named(const std::string& id) {
  for (const joints::Weld& w : demo().design.welds)
    if (w.id == id) return w;
  throw std::runtime_error("no weld " + id);
}

// Lengths of the level and upright dimension lines, which are the thin ones of two points.
bool has_line(const Picture& p, double length_mm, bool upright) {
  for (const auto& item : p.items)
    if (const auto* path = std::get_if<Path>(&item); path && path->points.size() == 2 && !path->closed) {
      const double dx = std::abs(path->points[1].x - path->points[0].x), dy = std::abs(path->points[1].y - path->points[0].y);
      if (std::abs((upright ? dy : dx) - length_mm) < 1e-6 && (upright ? dx : dy) < 1e-9) return true;
    }
  return false;
}

bool has_value(const Picture& p, double value) {
  for (const auto& item : p.items)
    if (const auto* t = std::get_if<PictureText>(&item))
      if (const auto* q = std::get_if<Quantity>(&t->text); q && std::abs(q->value - value) < 1e-6) return true;
  return false;
}

const Message* message_in(const Picture& p, MessageId id) {
  for (const auto& item : p.items)
    if (const auto* t = std::get_if<PictureText>(&item))
      if (const auto* m = std::get_if<Message>(&t->text); m && m->id == id) return m;
  return nullptr;
}

double number_of(const Message& m, const std::string& name) {
  for (const Argument& a : m.arguments)
    if (a.name == name) return std::get<double>(a.value);
  return NAN;
}

// A joint as if the kernel had drawn a box around it.
DrawnJoint boxed(const std::string& weld) {
  DrawnJoint d{shape::joint_plan(demo().design, shape::plan_of(demo().design), weld), {}};
  const double r = d.joint.reach_mm;
  const shape::ViewLine box{"box", true, false, {{-r, -r}, {r, -r}, {r, r}, {-r, r}, {-r, -r}}};
  d.views.assign(3, {box});
  return d;
}

}  // namespace

TEST_CASE("a parameter stands at the distance that it sets, and moves it") {
  const auto dimensions = demo_dimensions();
  REQUIRE(dimensions.size() == 12);
  CHECK(dimensions[0].parameter == "wheelbase");  // in the order of the file
  std::map<std::string, int> axis;
  for (const ParameterDimension& d : dimensions) {
    axis[d.parameter] = d.axis;
    if (d.axis < 0) continue;
    CHECK(std::abs(d.to[d.axis] - d.from[d.axis]) == Approx((d.both_sides ? 2 : 1) * d.value));
  }
  CHECK(axis == std::map<std::string, int>{{"wheelbase", 0}, {"pivot_x", 0}, {"bb_x", 0}, {"half_hub", 1},
                                           {"half_deck", 1}, {"axle_half", 1}, {"stay_half", 1}, {"hub_z", 2},
                                           {"deck_z", 2}, {"pivot_z", 2}, {"bb_z", 2}, {"slope", -1}});
  // The design with 20 mm more between the axles: the places that the dimension names are 20 mm further apart.
  const std::string longer =
      files::patched(design_toml, files::read_text(design_toml), "parameters.wheelbase", 1270.0);
  const design::Design other = files::read_design_text(design_toml, longer, published::catalog());
  const auto place = [&](const frame::Vec3& p) {
    for (std::size_t i = 0; i < demo().design.frame.nodes.size(); ++i)
      if ((demo().design.frame.nodes[i].position_mm - p).norm() < 1e-6) return other.frame.nodes[i].position_mm;
    return frame::Vec3(NAN, NAN, NAN);
  };
  CHECK(place(dimensions[0].to).x() - place(dimensions[0].from).x() == Approx(1270));
}

TEST_CASE("a parameter that moves nothing by its own amount has no dimension") {
  frame::Frame f;
  f.nodes = {{"A", {0, 0, 0}}, {"B", {100, 0, 0}}, {"C", {130, 40, 0}}, {"D", {130, -40, 0}}};
  const frame::Vec3 still(0, 0, 0), x(1, 0, 0), y(0, 1, 0);
  const auto all = parameter_dimensions(f, {{"half as far", 100, {still, 0.5 * x, still, still}},
                                            {"elsewhere", 90, {still, x, still, still}},
                                            {"along", 100, {still, x, still, still}},
                                            {"half", 40, {still, still, y, -y}},
                                            {"not known", 7, {}},
                                            {"both go along", 30, {still, x, x, x}}});
  REQUIRE(all.size() == 6);
  CHECK(all[0].axis == -1);
  CHECK(all[1].axis == -1);
  CHECK(all[2].axis == 0);
  CHECK(all[3].both_sides);
  CHECK(all[4].axis == -1);
  CHECK(all[5].axis == -1);  // B and C stay 30 mm apart, whatever it is
}

TEST_CASE("views stand in a standard scale within the page, with dimension lines as long as they say") {
  FrameDrawing drawing = frame_drawing(demo().design);
  drawing.views.furthest_mm = {{{{-20, 0, 200}, {1680, 0, 390}}}, {{{1250, -410, 253}, {1250, 410, 253}}},
                               {{{1000, 0, 90}, {740, 0, 960}}}};
  const auto views = dimensioned_views(drawing, demo_dimensions());
  REQUIRE(views.size() == 4);
  for (const DimensionedView& v : views) {
    CHECK(std::find(std::begin(reductions), std::end(reductions), v.reduction) != std::end(reductions));
    CHECK(v.picture.width_mm <= landscape_wide_mm);
    CHECK(v.picture.height_mm <= landscape_high_mm);
    for (const auto& item : v.picture.items)
      if (const auto* t = std::get_if<PictureText>(&item)) {
        CHECK(t->at.x > 0);
        CHECK(t->at.x < v.picture.width_mm);
        CHECK(t->at.y > 0);
        CHECK(t->at.y < v.picture.height_mm);
      }
  }
  CHECK(views[0].reduction == 10);
  const Picture &side = views[0].picture, &top = views[1].picture;
  for (const double length : {1250.0, 1000.0, 480.0, 1700.0}) {  // the last one over all
    CHECK(has_value(side, length));
    CHECK(has_line(side, length / 10, false));
  }
  for (const double height : {253.0, 390.0, 215.0, 280.0, 870.0}) {
    CHECK(has_value(side, height));
    CHECK(has_line(side, height / 10, true));
  }
  for (const double width : {820.0, 560.0}) {
    CHECK(has_value(top, width));
    CHECK(has_line(top, width / 10, true));
  }
  CHECK(views[0].overall);
  CHECK_FALSE(views[2].overall);
  CHECK(std::get<Quantity>(millimetres(1250)).digits == 4);
  CHECK(std::get<Quantity>(millimetres(22.5)).digits == 3);
}

TEST_CASE("a short dimension has its arrows and value outside") {
  const auto drawn = [](double length) {
    Picture p{100, 100, {}};
    add_dimensions(p, {{{20, 50}, {20 + length, 50}, false, 60, Quantity{length, "", 2}, 8, "p"}});
    return p;
  };
  const auto value_x = [](const Picture& p) {
    for (const auto& item : p.items)
      if (const auto* t = std::get_if<PictureText>(&item); t && std::holds_alternative<Quantity>(t->text)) return t->at.x;
    return std::nan("");
  };
  CHECK(has_line(drawn(40), 40, false));
  CHECK(value_x(drawn(40)) == Approx(40));
  CHECK_FALSE(has_line(drawn(6), 6, false));
  CHECK(value_x(drawn(6)) > 26);
}

TEST_CASE("a joint is cut out with all that is welded there, its node at the origin") {
  const shape::Plan whole = shape::plan_of(demo().design);
  const shape::JointPlan joint = shape::joint_plan(demo().design, whole, "W16");
  std::set<std::string> members, welds;
  for (const shape::Part& p : joint.plan.parts) {
    members.insert(p.member);
    for (const shape::Stretch& s : std::get<shape::Hollow>(p.body).stretches)
      for (const shape::Vec3& end : {s.from, s.to}) CHECK(end.norm() <= joint.reach_mm + 1e-6);
  }
  for (const shape::WeldBody& b : joint.plan.welds) welds.insert(b.id);
  CHECK(members == std::set<std::string>{"cross-1.L", "cross-1.R", "pin", "spine"});
  CHECK(welds == std::set<std::string>{"W15.L", "W15.R", "W16"});
  CHECK(joint.brace.dot(shape::Vec3(0, 0, -1)) == Approx(1));
  CHECK(joint.reach_mm == Approx(1.9 * 60));
  for (const joints::Weld& w : demo().design.welds) {  // each of them can be drawn
    const shape::JointPlan j = shape::joint_plan(demo().design, whole, w.id);
    if (!w.member.empty())
      CHECK(std::any_of(j.plan.parts.begin(), j.plan.parts.end(), [&](const shape::Part& p) { return p.member == w.member; }));
    for (const shape::WeldBody& b : j.plan.welds)  // a tube is seen over the whole of its seams
      if (const auto* lines = std::get_if<std::vector<shape::FilletAlong>>(&b.body))
        for (const shape::FilletAlong& line : *lines) CHECK(std::max(line.from.norm(), line.to.norm()) < j.reach_mm);
    CHECK_FALSE(j.plan.parts.empty());
    CHECK(std::abs(j.up.dot(j.right)) < 1e-9);
    CHECK(j.up.norm() == Approx(1));
    CHECK(j.right.norm() == Approx(1));
  }
}

TEST_CASE("the drawing of a joint bears its sizes, the angle of its axes and its throat") {
  for (const char* id : {"W16", "W27", "W11.L", "W43.L", "W51.L", "W54.L"}) {
    const joints::Weld& weld = weld_named(id);
    const JointPictures p = joint_pictures(demo().design, weld, boxed(id));
    CHECK(p.measured.width_mm <= landscape_wide_mm);
    CHECK(p.others.width_mm <= landscape_wide_mm);
    CHECK(std::max(p.measured.height_mm, p.others.height_mm) <= landscape_high_mm);
    const Message* angle = message_in(p.measured, "drawing.angle");
    const bool pair = !weld.member.empty() && !weld.chord.empty();
    CHECK((angle != nullptr) == pair);
    if (!pair) continue;
    const double axes = design::seat_of(demo().design.frame, weld).angle_deg;
    CHECK(number_of(*angle, "angle") == Approx(std::min(axes, 180 - axes)).margin(0.051));
    const Message* tube = message_in(p.measured, "drawing.tube");
    REQUIRE(tube);
    CHECK(number_of(*tube, "diameter") == design::round_tube(demo().design.frame, weld.member)->diameter_mm);
    const Message* throat = message_in(p.measured, "drawing.throat");
    REQUIRE(throat);
    CHECK(number_of(*throat, "throat") == weld.throat_mm);
  }
}

TEST_CASE("the edge is drawn where the walls stand too far apart, and nowhere else") {
  const shape::Plan plan = shape::plan_of(demo().design);
  std::size_t prepared = 0;
  for (const shape::WeldBody& body : plan.welds) {
    const auto* fillet = std::get_if<shape::FilletAround>(&body.body);
    if (!fillet) continue;
    const auto edge = preparation_of(demo().design, weld_named(body.id), *fillet);
    const double r = shape::outer_radius_mm(fillet->brace.section), big = shape::outer_radius_mm(fillet->chord.section);
    const double lean = std::abs(fillet->crown.dot(shape::along(fillet->chord)));  // how far the crown looks along it
    if (lean > 0.999 && std::abs(shape::along(fillet->brace).dot(shape::along(fillet->chord))) < 1e-9) {
      // Square to its chord the walls stand widest at the saddle: 90 degrees and the angle whose sine is r / R.
      const double saddle = 90 + std::asin(r / big) / degree;
      CHECK(edge.has_value() == (saddle > 120 + 1e-6));
      if (edge) CHECK(edge->widest_deg == Approx(saddle).margin(0.05));
    }
    prepared += edge.has_value();
  }
  CHECK(prepared > 0);
  CHECK(prepared < plan.welds.size());
}

TEST_CASE("a drawing's sheet has a page for each view and a row for each parameter") {
  const Document d =
      drawing_sheet(demo().design, files::parameter_reaches(design_toml, published::catalog()), {}, nullptr);
  std::size_t pictures = 0, rows = 0;
  for (const Block& b : d.blocks) {
    if (const auto* p = std::get_if<PictureBlock>(&b)) pictures += p->true_scale;
    if (const auto* t = std::get_if<Table>(&b)) rows += t->rows.size();
  }
  CHECK(d.landscape);
  CHECK(pictures == 4);
  CHECK(rows == 12);
  CHECK(joint_sheet(demo().design, weld_named("W16"), boxed("W16"), {}).blocks.size() == 4);
}
