// SPDX-License-Identifier: GPL-3.0-or-later
// The plan of a frame: who runs through, where ends are sawn, how long parts are, and which welds have room.
#include "engine/shape/plan.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/evidence/constants.h"
#include "engine/shape/checks.h"
#include "engine/shape/fibre.h"
#include "engine/shape/fillet.h"
#include "engine/shape/pieces.h"
#include "engine/shape/quadrature.h"
#include "tests/engine/shape/tubes.h"

namespace seamwright::shape {

namespace {

constexpr double straight_angle = std::numbers::pi;

// A chord along x with a brace standing up from its middle, or leaning along it.
design::Design standing_tee(int chord = 60, int brace = 30, double lean_mm = 0) {
  design::Design d;
  d.frame = tubes();
  d.frame.materials = {{"steel", 210000, 0.3, 7850}};
  for (const auto& [id, x, z] : {std::tuple("w", -300.0, 0.0), {"o", 0.0, 0.0}, {"e", 300.0, 0.0}, {"t", lean_mm, 200.0}})
    node(d.frame, id, {x, 0, z});
  member(d.frame, "chord", std::to_string(chord) + "x2", {"w", "o", "e"});
  member(d.frame, "brace", std::to_string(brace) + "x2", {"o", "t"});
  d.welds = {weld("W1", "brace", "o", "chord")};
  return d;
}

const Part& plan_part(const Plan& plan, const std::string& id) {
  return *std::find_if(plan.parts.begin(), plan.parts.end(), [&](const Part& p) { return p.id == id; });
}

bool is_cut_by(const Plan& plan, const std::string& part, const std::string& other) {
  const std::vector<Cut>& cuts = plan_part(plan, part).cuts;
  return std::any_of(cuts.begin(), cuts.end(), [&](const Cut& c) { return c.by == other; });
}

std::vector<std::string> findings(const design::Design& d, bool preparation) {
  std::vector<std::string> ids;
  for (const WeldFinding& f : weld_findings(d))
    if (f.preparation == preparation) ids.emplace_back(f.message.id.text());
  return ids;
}

bool has(const std::vector<std::string>& ids, const std::string& id) {
  return std::find(ids.begin(), ids.end(), id) != ids.end();
}

}  // namespace

TEST_CASE("a node off the line by no more than a drawing's rounding does not bend its tube, and one further off does") {
  for (const auto& [aside_mm, stretches] : {std::pair(0.0, 1U), {0.09, 1U}, {0.5, 2U}}) {
    design::Design d = standing_tee();
    for (frame::Node& n : d.frame.nodes) {
      if (n.id == "w") n.position_mm.x() = -30;  // so near that 0.09 mm are more than a tenth of a degree
      if (n.id == "o") n.position_mm.z() = aside_mm;
    }
    CAPTURE(aside_mm);
    const Plan plan = plan_of(d);
    CHECK(std::get<Hollow>(plan_part(plan, "chord").body).stretches.size() == stretches);
  }
}

TEST_CASE("a brace is cut by its chord and the chord by nothing") {
  const Plan plan = plan_of(standing_tee());
  CHECK(is_cut_by(plan, "brace", "chord"));
  CHECK(plan_part(plan, "chord").cuts.empty());
  REQUIRE(plan.welds.size() == 1);
  CHECK(plan.welds[0].id == "W1");
  // At the crown the brace begins at the chord's wall, at the saddle by R - sqrt(R^2 - r^2) lower.
  const auto begins = [&](double angle) { return fibre_of(plan_part(plan, "brace"), 0, 15, angle).front().from_mm; };
  const std::vector<double> ways{begins(0), begins(straight_angle / 2), begins(straight_angle), begins(3 * straight_angle / 2)};
  CHECK(*std::max_element(ways.begin(), ways.end()) == Approx(30));
  CHECK(*std::min_element(ways.begin(), ways.end()) == Approx(std::sqrt(900 - 225.0)));
}

TEST_CASE("another wall of a chord leaves the brace and their seam as they were") {
  const Plan plan = plan_of(standing_tee());
  const auto is_filled = [](const Stretch& s, double diameter) {
    const auto* bar = std::get_if<frame::SolidBar>(&s.section);
    return bar && bar->diameter_mm == diameter;
  };
  for (const Cut& c : plan_part(plan, "brace").cuts)
    if (const auto* tool = std::get_if<Stretch>(&c.tool)) CHECK(is_filled(*tool, 60));
  const auto& seam = std::get<FilletAround>(plan.welds[0].body);
  CHECK(is_filled(seam.chord, 60));
  CHECK(is_filled(seam.brace, 30));
  CHECK(std::holds_alternative<frame::RoundTube>(std::get<Hollow>(plan_part(plan, "brace").body).stretches[0].section));
}

TEST_CASE("of two braces the larger runs through, unless the design names the other") {
  design::Design d = standing_tee();
  node(d.frame, "s", {40, 0, 200});
  member(d.frame, "second", "20x2", {"o", "s"});
  d.welds.push_back(weld("W2", "second", "o", "chord"));
  const Plan larger = plan_of(d);
  CHECK(is_cut_by(larger, "second", "brace"));
  CHECK_FALSE(is_cut_by(larger, "brace", "second"));
  for (joints::Weld& w : d.welds) w.through = "second";
  const Plan named = plan_of(d);
  CHECK(is_cut_by(named, "brace", "second"));
  CHECK_FALSE(is_cut_by(named, "second", "brace"));
}

TEST_CASE("a chord that ends at its node goes on past the foot by twice the throat, or as the design has it") {
  design::Design d = standing_tee();
  d.frame.members[0].nodes = {"w", "o"};
  const auto chord_ends = [&] {
    return std::get<Hollow>(plan_part(plan_of(d), "chord").body).stretches.back().to.x();
  };
  CHECK(chord_ends() == Approx(15 + 2 * 2));
  d.frame.members[0].end_overhang_mm = 50;
  CHECK(chord_ends() == Approx(50));
  CHECK(findings(d, false).empty());
  d.frame.members[0].end_overhang_mm = 5;
  CHECK(findings(d, false) == std::vector<std::string>{"shape.beyond-end"});
  d.frame.members[0].end_overhang_mm = -10000;  // more than there is: the end stays at its node
  CHECK(chord_ends() == Approx(0));
}

TEST_CASE("by default the throat is kept at the blunt crown of a slanting brace, up to 120 degrees between the walls") {
  const double throat = 1.5;
  for (const auto& [angle_deg, expected] : {std::pair{45.0, throat * std::sqrt(2.0)}, {90.0, throat * std::sqrt(2.0)}, {110.0, throat / std::cos(55 * degree)},
                                           {120.0, 2 * throat}, {150.0, 2 * throat}})
    CHECK(default_leg_mm(throat, angle_deg * degree) == Approx(expected));
  design::Design d = standing_tee(60, 30, 100);  // 63 degrees
  const auto fillet = std::get<FilletAround>(plan_of(d).welds.at(0).body);
  const double crown = fillet.leg_crown_mm, opposite = fillet.leg_opposite_mm;
  CHECK(std::min(crown, opposite) == Approx(2 * std::sqrt(2.0)));
  CHECK(std::max(crown, opposite) == Approx(2 / std::cos((180 - std::atan2(2, 1) / degree) / 2 * degree)).epsilon(0.01));
  const auto sections = fillet_sections(fillet, 4);
  const auto leg = [&](std::size_t i) { return (sections[i].chord_toe - sections[i].root).norm(); };
  CHECK(leg(0) == Approx(crown).epsilon(0.01));
  CHECK(leg(2) == Approx(opposite).epsilon(0.01));
  // Legs that are given hold at both crowns.
  d.welds[0].leg_crown_mm = 3.5;
  CHECK(std::get<FilletAround>(plan_of(d).welds.at(0).body).leg_opposite_mm == 0);
}

TEST_CASE("a fillet has the legs that the weld gives, else those that follow from its throat") {
  design::Design d = standing_tee();
  const auto fillet = [&] { return std::get<FilletAround>(plan_of(d).welds.at(0).body); };
  CHECK(fillet().leg_crown_mm == Approx(2 * std::sqrt(2.0)));
  CHECK(fillet().leg_saddle_mm > fillet().leg_crown_mm);
  CHECK(fillet().leg_opposite_mm == 0);  // both crowns of a square brace are alike
  d.welds[0].leg_crown_mm = 3.5;
  d.welds[0].leg_saddle_mm = 5.5;
  CHECK(fillet().leg_crown_mm == 3.5);
  CHECK(fillet().leg_saddle_mm == 5.5);
}

TEST_CASE("a mitre halves the angle and keeps the length of the axis") {
  design::Design d;
  d.frame = tubes();
  for (const auto& [id, at] : {std::pair("a", Vec3(0, 0, 0)), {"b", Vec3(300, 0, 0)}, {"c", Vec3(300, 200, 0)}})
    node(d.frame, id, at);
  member(d.frame, "one", "30x2", {"a", "b"});
  member(d.frame, "two", "30x2", {"b", "c"});
  joints::Weld first = weld("W1", "one", "b", "", false), second = weld("W2", "two", "b", "");
  for (joints::Weld* w : {&first, &second}) {
    w->kind = "tube-mitre";
    w->layout = joints::Layout::tube_end;
    w->joint = "J";
  }
  d.welds = {first, second};
  const Plan plan = plan_of(d);
  const double area = straight_angle * (15 * 15 - 13 * 13);
  CHECK(quadrature(plan_part(plan, "one"))->volume_mm3 == Approx(area * 300).epsilon(1e-4));
  CHECK(quadrature(plan_part(plan, "two"))->volume_mm3 == Approx(area * 200).epsilon(1e-4));
}

TEST_CASE("a seam around a tube's end on a face is a ring there, a butt seam has no body and says so") {
  design::Design d = standing_tee();
  joints::Weld flange = weld("W2", "brace", "t", "", false);
  flange.kind = "tube-flange";
  flange.layout = joints::Layout::tube_end;
  d.welds.push_back(flange);
  Plan plan = plan_of(d);
  REQUIRE(plan.welds.size() == 2);
  const auto& ring = std::get<FilletRing>(plan.welds[1].body);
  CHECK((ring.tube.from - Vec3(0, 0, 200)).norm() == Approx(0).margin(1e-9));
  CHECK(along(ring.tube).z() == Approx(-1));  // the weld lies on the tube's side
  CHECK(plan.notes.empty());
  d.welds.back().kind = "tube-splice";
  plan = plan_of(d);
  CHECK(plan.welds.size() == 1);
  REQUIRE(plan.notes.size() == 1);
  CHECK(plan.notes[0].id == MessageId("shape.butt-not-drawn"));
}

TEST_CASE("a sleeve is as large as it says, split or whole, and a hole takes its metal") {
  design::Design d = standing_tee();
  d.sleeves = {{"outer", "chord", design::Sleeve::Kind::outer, 500, 40, 3, 0},
               {"inner", "chord", design::Sleeve::Kind::inner, 500, 40, 3, 0},
               {"split", "chord", design::Sleeve::Kind::split, 100, 40, 3, 6}};
  const auto volume = [&](const char* id) { return quadrature(plan_part(plan_of(d), id))->volume_mm3; };
  CHECK(volume("outer") == Approx(straight_angle * (33 * 33 - 30 * 30) * 40).epsilon(1e-6));
  CHECK(volume("inner") == Approx(straight_angle * (28 * 28 - 25 * 25) * 40).epsilon(1e-6));
  // The slot is 6 wide through a wall of 3: nearly a strip of 6 by 3 by 40.
  CHECK(volume("split") == Approx(volume("outer") - 6 * 3 * 40).epsilon(5e-3));
  const double whole = volume("chord");
  design::Notch hole;
  hole.id = "N1";
  hole.kind = "hole";
  hole.member = "chord";
  hole.at_mm = 200;
  hole.hole_mm = 8;
  hole.faces = {0, 1, 0};
  d.notches = {hole};
  CHECK(whole - volume("chord") == Approx(straight_angle * 16 * 2).epsilon(0.05));
}

namespace {

design::Notch notch_at(const std::string& kind, double at_mm) {
  design::Notch n;
  n.id = "N1";
  n.kind = kind;
  n.member = "chord";
  n.at_mm = at_mm;
  return n;
}

double chord_volume(const design::Design& d) { return quadrature(plan_part(plan_of(d), "chord"))->volume_mm3; }

// Area of a disc between two lines at this distance from its middle, to one side of the middle: elementary.
double half_strip(double radius, double half) {
  return half * std::sqrt(radius * radius - half * half) + radius * radius * std::asin(half / radius);
}

}  // namespace

TEST_CASE("seats and clamp slots with measures take their metal out to the nearer end, those without are named") {
  design::Design d = standing_tee();
  const double whole = chord_volume(d);
  d.notches = {notch_at("seat", 580)};  // of 600: bore 56 of a tube 60 x 2
  CHECK(chord_volume(d) == Approx(whole));
  const auto names_notch = [](const Message& m) { return m.id == MessageId("shape.notch-not-drawn"); };
  const std::vector<Message> notes = plan_of(d).notes;
  CHECK(std::any_of(notes.begin(), notes.end(), names_notch));
  d.notches[0].bore_mm = 57;
  CHECK(whole - chord_volume(d) == Approx(straight_angle / 4 * (57 * 57 - 56 * 56) * 20));
  CHECK(plan_of(d).notes.empty());
  d.notches = {notch_at("clamp-slot", 30)};
  d.notches[0].slot_mm = 3;
  d.notches[0].faces = {0, 0, 1};
  CHECK(whole - chord_volume(d) == Approx((half_strip(30, 1.5) - half_strip(28, 1.5)) * 30).epsilon(0.02));
}

TEST_CASE("a shoulder's larger end is a ring around a bar of the smaller diameter") {
  design::Design d = standing_tee();
  d.frame.tubes[4].section = frame::SolidBar{60};
  d.notches = {notch_at("shoulder", 40)};
  d.notches[0].shoulder = {70, 60, 2};
  CHECK(plan_of(d).parts.size() == 2);  // which end is large is not stated
  for (const auto& [end, from, to] : {std::tuple("start", -260.0, -300.0), {"end", -260.0, 300.0}}) {
    d.notches[0].large_end = end;
    const Plan plan = plan_of(d);
    REQUIRE(plan.parts.size() == 3);
    CHECK(plan.notes.empty());
    const Stretch& ring = std::get<Hollow>(plan_part(plan, "N1").body).stretches.at(0);
    CHECK(ring.from.x() == Approx(from));
    CHECK(ring.to.x() == Approx(to));
    CHECK(outer_radius_mm(ring.section) == 35);
    CHECK(bore_radius_mm(ring.section) == 30);
  }
  d.notches[0].large_end = "start";
  d.notches[0].at_mm = 0;  // nothing is left of the larger part
  CHECK(plan_of(d).notes.size() == 1);
  d.notches[0].at_mm = 40;
  CHECK(plan_of(d).notes.empty());
  d.notches[0].shoulder.small_mm = 50;  // of another bar than the member's
  CHECK(plan_of(d).notes.size() == 1);
}

TEST_CASE("welds without room are told, and sound ones are not") {
  CHECK(findings(standing_tee(), false).empty());
  CHECK(has(findings(standing_tee(60, 60), false), "shape.tangent-walls"));
  CHECK(has(findings(standing_tee(60, 30, 600), false), "shape.narrow-angle"));  // 18 degrees
  CHECK(has(findings(standing_tee(60, 30, 600), true), "shape.no-access-heel"));
  design::Design aside = standing_tee();
  aside.frame.members[1].start_offset_mm = aside.frame.members[1].end_offset_mm = {0, 50, 0};
  CHECK(has(findings(aside, false), "shape.end-in-air"));
  // The chord's wall is 30 mm from its axis at the crown, and the root of a brace 30 mm wide sinks to
  // sqrt(30^2 - 15^2) = 25.98 mm at its saddles: an end 28 mm off hangs 2.02 mm above those.
  design::Design shortened = standing_tee();
  shortened.frame.members[1].start_overhang_mm = -25.9;
  CHECK(findings(shortened, false).empty());
  shortened.frame.members[1].start_overhang_mm = -28;
  CHECK(has(findings(shortened, false), "shape.end-in-air"));
  design::Design beside = standing_tee();
  node(beside.frame, "o2", {31, 0, 0});
  node(beside.frame, "t2", {31, 0, 200});
  beside.frame.members[0].nodes = {"w", "o", "o2", "e"};
  member(beside.frame, "second", "30x2", {"o2", "t2"});
  beside.welds.push_back(weld("W2", "second", "o2", "chord"));
  CHECK(has(findings(beside, false), "shape.feet-close"));
}

// A segment of a circle is circle and chord: elementary geometry.
TEST_CASE("how deep a place lies within an outline, round or straight") {
  const auto triangle = design::triangle(60, 80);
  CHECK(design::depth_within_mm(triangle, 20, 20) == Approx(20));  // the circle within a 3-4-5 triangle
  CHECK(design::depth_within_mm(triangle, -5, 20) == Approx(-5));
  CHECK(design::depth_within_mm(triangle, 60, 80) == Approx(-48));  // the corner across: height over the long side
  const auto tongue = design::tongue(50, 30);
  CHECK(design::depth_within_mm(tongue, 35, 0) == Approx(15).epsilon(1e-3));  // middle of the round end
  CHECK(design::depth_within_mm(tongue, 49, 0) == Approx(1).epsilon(0.01));
  CHECK(design::depth_within_mm(tongue, 49, 14) < 0);  // beside the round
  const auto dished = design::dished(60, 60, 60);  // its arc has its middle 42.43 mm beyond the long side's
  const double middle = 30 + std::sqrt(60.0 * 60 - 2 * 30 * 30) / std::sqrt(2.0);
  const double depth = std::hypot(middle - 10, middle - 10) - 60;
  CHECK(design::depth_within_mm(dished, 10, 10) == Approx(std::min(10.0, depth)).epsilon(1e-2));
}

TEST_CASE("the wider the brace, the more of its seam is a butt weld") {
  double before = -1;
  for (const int brace : {10, 20, 30, 40}) {
    double share = 0;
    for (const WeldFinding& f : weld_findings(standing_tee(60, brace)))
      if (f.message.id == MessageId("shape.wide-dihedral"))
        for (const Argument& a : f.message.arguments)
          if (a.name == "share") share = std::get<double>(a.value);
    CHECK(share >= before);
    before = share;
  }
  CHECK(before > 30);
}

}  // namespace seamwright::shape
