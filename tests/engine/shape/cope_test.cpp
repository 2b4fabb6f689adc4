// SPDX-License-Identifier: GPL-3.0-or-later
// The cut line at its edges: braces as wide as their chord, at small angles, solid, beside the chord, with
// neighbours and bends; and what must hold of every line.
#include <Eigen/Geometry>

#include "engine/evidence/constants.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"
#include "tests/engine/shape/jointed.h"

namespace seamwright::shape {

namespace {

constexpr double half_turn = std::numbers::pi;

double at_mm(const TubeEnd& e, double deg) { return cut_place(e, deg * degree)->cut_mm; }

// A place of the wall on the cut, at this share of the wall from outside.
Vec3 on_cut(const TubeEnd& e, const CutPlace& p, double radius) {
  const Vec3 away = std::cos(p.angle_rad) * e.top + std::sin(p.angle_rad) * e.out.cross(e.top);
  return (e.at_start ? e.stretches.front().from : e.stretches.back().to) + radius * away - p.cut_mm * e.out;
}

// Depth below the surface of a filled round tool; not more than 0 outside.
double below_mm(const Vec3& point, const Stretch& tool) {
  const Vec3 off = point - tool.from;
  return outer_radius_mm(tool.section) - off.cross(along(tool)).norm();
}

void check_line(const TubeEnd& e, double diameter, double wall) {
  REQUIRE(e.line.size() > 70);
  CHECK(e.line.front().angle_rad == -half_turn);
  CHECK(e.line.back().angle_rad == half_turn);
  CHECK(e.line.front().cut_mm == e.line.back().cut_mm);
  double deepest = 0;
  for (const CutPlace& p : e.line)
    for (const double share : {0.0, 0.13, 0.37, 0.5, 0.81, 1.0})
      for (const Cut& cut : e.cuts)
        if (const auto* tool = std::get_if<Stretch>(&cut.tool))
          deepest = std::max(deepest, below_mm(on_cut(e, p, diameter / 2 - share * wall), *tool));
  CHECK(deepest < 0.001);
  for (std::size_t i = 1; i < e.line.size(); ++i) {
    const CutPlace &a = e.line[i - 1], &b = e.line[i];
    const double middle = (a.angle_rad + b.angle_rad) / 2;
    if (b.angle_rad - a.angle_rad > 1e-4)
      CHECK(cut_place(e, middle)->cut_mm == Approx((a.cut_mm + b.cut_mm) / 2).margin(0.003));
  }
}

design::Design turned_by(design::Design d, const Eigen::Matrix3d& turn) {
  for (frame::Node& n : d.frame.nodes) n.position_mm = turn * n.position_mm;
  for (frame::Member& m : d.frame.members) {
    if (m.up) m.up = Vec3(turn * *m.up);
    m.start_offset_mm = turn * m.start_offset_mm;
    m.end_offset_mm = turn * m.end_offset_mm;
  }
  return d;
}

}  // namespace

TEST_CASE("every line closes, never cuts too little, and is straight between its places") {
  for (const double chord : {32.0, 40.0, 60.0})
    for (const double brace : {16.0, 25.0, 32.0})
      for (const double angle : {90.0, 60.0, 35.0, 20.0})
        for (const double aside : {0.0, 3.0}) {
          if (brace / 2 + aside > chord / 2) continue;
          INFO(chord << " " << brace << " " << angle << " " << aside);
          check_line(foot_end(tee(chord, brace, 2, angle, aside)), brace, 2);
        }
}

TEST_CASE("a square tee by hand: the inner edge touches at the saddle, the outer stands off") {
  const TubeEnd e = foot_end(tee(40, 30, 2));
  REQUIRE(e.kind == TubeEnd::Kind::coped);
  CHECK(e.weld == "W1");
  CHECK(e.onto == "chord");
  CHECK(e.angle_deg == Approx(90));
  CHECK(e.notch_radius_mm == 20);
  CHECK(e.offset_mm == Approx(0).margin(1e-9));
  REQUIRE(e.crown_rad);  // the chord's start is at -x; the top mark of an upright tube looks forward
  CHECK(std::abs(std::abs(*e.crown_rad) - half_turn) < 1e-9);
  CHECK(at_mm(e, 0) == Approx(20));
  CHECK(at_mm(e, 90) == Approx(std::sqrt(20.0 * 20 - 13 * 13)));
  const CutPlace saddle = *cut_place(e, half_turn / 2);
  CHECK_FALSE(saddle.outer_touches());
  CHECK(saddle.outer_mm == Approx(std::sqrt(20.0 * 20 - 15 * 15)));
  CHECK(saddle.gap_along_mm == Approx(saddle.inner_mm - saddle.outer_mm));
  CHECK(saddle.gap_square_mm == Approx(std::hypot(15, saddle.inner_mm) - 20));
  CHECK(e.long_point_mm == Approx(saddle.outer_mm));
}

TEST_CASE("the gap is a finding beyond half a millimetre alone") {
  // The square gap at the saddle is sqrt(R^2 + r^2 - (r - t)^2) - R: 0.69 mm for 20, 10, 1.5; 0.42 for 20,
  // 9, 1.
  const std::vector<Message> wide = gap_findings(blanks_of(tee(40, 20, 1.5))),
                             close = gap_findings(blanks_of(tee(40, 18, 1)));
  REQUIRE(wide.size() == 1);
  CHECK(wide[0].id == "shape.gap-wide");
  CHECK(std::get<double>(wide[0].arguments[3].value) ==
        Approx(std::sqrt(400 + 100 - 72.25) - 20).epsilon(1e-6));
  CHECK(std::get<std::string>(wide[0].arguments[5].value) == "shape.edge-inner");
  CHECK(close.empty());
}

TEST_CASE("a brace as wide as its chord comes down to the axis at the saddle by its outer edge alone") {
  const TubeEnd e = foot_end(tee(40, 40, 2));
  const CutPlace saddle = *cut_place(e, half_turn / 2);
  CHECK(saddle.outer_mm == Approx(0).margin(1e-5));
  CHECK(saddle.cut_mm == Approx(std::sqrt(400.0 - 18 * 18)));
  check_line(e, 40, 2);
}

TEST_CASE("five degrees: the line is as long as it must be") {
  const design::Design d = tee(40, 20, 2, 5);
  const TubeEnd e = foot_end(d);
  const double s = std::sin(5 * degree), c = std::cos(5 * degree);
  double most = 0;
  for (const CutPlace& p : e.line) most = std::max(most, p.cut_mm);
  CHECK(most == Approx((20 + 10 * c) / s).epsilon(1e-6));  // the heel, by its outer edge
  check_line(e, 20, 2);
}

TEST_CASE("a solid end seats by whatever of its section comes first") {
  design::Design d = tee(40, 20, 2, 60);
  d.frame.tubes[1].section = frame::SolidBar{20};
  const TubeEnd e = foot_end(d);
  check_line(e, 20, 10);
  CHECK(cut_place(e, 0)->cut_mm >= cut_place(e, 0)->inner_mm);
}

TEST_CASE("beside a narrower chord the line ends where the axis does, and says so") {
  const TubeEnd e = foot_end(tee(30, 40, 2));
  CHECK(cut_place(e, half_turn / 2)->free);
  CHECK(at_mm(e, 90) == Approx(0).margin(1e-9));
  CHECK_FALSE(cut_place(e, 0)->free);
  CHECK(at_mm(e, 0) == Approx(15));
  CHECK(e.long_point_mm == Approx(0).margin(1e-9));
  CHECK(e.line.front().cut_mm == e.line.back().cut_mm);
}

TEST_CASE("neighbours cut in the plan's order: only the second of two braces gives way") {
  design::Design d = tee(60, 40, 2);
  round_tube(d, "N", 30, 2);
  member(d.frame, "neighbour", "N", {"o", node(d.frame, "side", Vec3(300, 0, 300))});
  d.welds.push_back(weld("W2", "neighbour", "o", "chord"));
  const std::vector<Blank> all = blanks_of(d);
  CHECK(blank_named(all, "brace").start.others.empty());
  const TubeEnd e = blank_named(all, "neighbour").start;
  CHECK(e.others == std::vector<std::string>{"brace"});
  check_line(e, 30, 2);
  d.welds.pop_back();  // alone it goes down to the chord
  d.welds[0] = weld("W2", "neighbour", "o", "chord");
  const TubeEnd alone = foot_end([&] {
    design::Design other = d;
    std::swap(other.frame.members[1].id, other.frame.members[2].id);
    other.welds[0].member = "brace";
    return other;
  }());
  double more = 0;
  for (const CutPlace& p : e.line) more = std::max(more, p.cut_mm - cut_place(alone, p.angle_rad)->cut_mm);
  CHECK(more > 5);
}

TEST_CASE("a bend is no end: the line stays on its stretch, the length goes round the corner") {
  design::Design straight = tee(40, 20, 2), bent = straight;
  bent.frame.members[1].nodes.push_back(node(bent.frame, "beyond", Vec3(300, 0, 400)));
  const Blank a = blank_named(blanks_of(straight), "brace"), b = blank_named(blanks_of(bent), "brace");
  CHECK(a.bends == 0);
  CHECK(b.bends == 1);
  for (const double deg : {-120.0, 0.0, 50.0}) CHECK(at_mm(a.start, deg) == Approx(at_mm(b.start, deg)));
  CHECK(b.axis_mm == Approx(700));
  CHECK(b.blank_mm == Approx(a.blank_mm + 300));
  CHECK(a.blank_mm == Approx(400 - std::sqrt(400.0 - 100)));  // the long points of the start are its saddles
  // The top mark goes round: forward becomes down where the tube turns from up to forward.
  CHECK(b.start.top.isApprox(Vec3(1, 0, 0), 1e-9));
  CHECK(b.end.top.isApprox(Vec3(0, 0, -1), 1e-9));
}

TEST_CASE("turning the frame turns nothing on the paper") {
  design::Design d = tee(45, 25, 2, 50, 4);
  for (frame::Member& m : d.frame.members) m.up = Vec3(0.2, 1, 0.1);
  const TubeEnd e = foot_end(d);
  const Eigen::Matrix3d turn = Eigen::AngleAxisd(1.1, Vec3(1, 2, -0.5).normalized()).toRotationMatrix();
  const TubeEnd other = foot_end(turned_by(d, turn));
  for (int i = 0; i < 72; ++i) CHECK(at_mm(e, 5 * i) == Approx(at_mm(other, 5 * i)).margin(1e-6));
  CHECK(e.angle_deg == Approx(other.angle_deg));
  CHECK(*e.crown_rad == Approx(*other.crown_rad));
}

TEST_CASE("the mirrored twin is the mirror image") {
  design::Design d = tee(45, 25, 2, 50, 4);
  d.frame.nodes[3].position_mm.y() = 120;  // out of the middle plane
  design::Design twin = d;
  for (frame::Node& n : twin.frame.nodes) n.position_mm.y() *= -1;
  for (frame::Member& m : twin.frame.members) {
    m.start_offset_mm.y() *= -1;
    m.end_offset_mm.y() *= -1;
  }
  const TubeEnd e = foot_end(d), other = foot_end(twin);
  for (int i = 0; i < 72; ++i) CHECK(at_mm(e, 5 * i) == Approx(at_mm(other, -5 * i)).margin(1e-6));
  CHECK(std::abs(at_mm(e, 40) - at_mm(e, -40)) > 0.5);  // and not its own
}

TEST_CASE("a tube between two chords says how its ends are turned against each other") {
  for (const double turn_deg : {0.0, 30.0, 75.0, 90.0}) {
    design::Design d = tee(40, 20, 2);
    const double a = turn_deg * degree;
    const Vec3 along_second(std::cos(a), std::sin(a), 0), top(0, 0, 400);
    member(
        d.frame, "second", "C",
        {node(d.frame, "p", top - 300 * along_second), "top", node(d.frame, "q", top + 300 * along_second)});
    d.welds.push_back(weld("W2", "brace", "top", "second", false));
    const Blank b = blank_named(blanks_of(d), "brace");
    REQUIRE(b.twist_deg);
    CHECK(std::abs(*b.twist_deg) == Approx(turn_deg).margin(1e-6));  // 90 and -90 are the same turn
    if (turn_deg < 90) CHECK(*b.twist_deg == Approx(turn_deg).margin(1e-6));
    CHECK(b.axis_mm == Approx(400));
    CHECK(b.blank_mm == Approx(400 - 2 * std::sqrt(400.0 - 100)));
  }
}

TEST_CASE("a slotted end is square, with its slot told") {
  design::Design d = tee(40, 20, 2);
  joints::Weld w;
  w.id = "W2";
  w.member = "brace";
  w.node = "top";
  w.at_start = false;
  w.layout = joints::Layout::slotted;
  w.plate_mm = 5;
  w.line_mm = 30;
  w.plate_normal = Vec3(0, 1, 0);
  d.welds.push_back(w);
  const TubeEnd e = blank_named(blanks_of(d), "brace").end;
  CHECK(e.kind == TubeEnd::Kind::slotted);
  CHECK(e.slot_wide_mm == 5);
  CHECK(e.slot_deep_mm == 30);
  for (const CutPlace& p : e.line) CHECK(p.cut_mm == Approx(0).margin(1e-9));
}

}  // namespace seamwright::shape
