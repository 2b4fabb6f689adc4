// SPDX-License-Identifier: GPL-3.0-or-later
// Tubes that cannot be where they are drawn, each on both sides of its edge, by hand.
#include "engine/shape/clash.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <random>
#include <set>

#include "tests/engine/shape/tubes.h"

namespace seamwright::shape {

TEST_CASE("tubes that cross without a node run through each other by radii less distance") {
  const auto at = [](double height) {
    frame::Frame f = tubes();
    tube_between(f, "a", "40x2", {0, 0, 0}, {400, 0, 0});
    tube_between(f, "b", "20x2", {200, -200, height}, {200, 200, height});
    return f;
  };
  CHECK(crossing_mm(at(29.9)) == Approx(0.1));
  CHECK(crossing_mm(at(30.1)) == 0);
  CHECK(crossing_mm(at(0)) == Approx(30));
  try {
    check_clashes(at(12), {});
    FAIL("not refused");
  } catch (const Fault& fault) {
    CHECK(std::string(fault.what()) == "shape.crossing");
    for (const Argument& a : fault.message.arguments) {
      if (a.name == "first") CHECK(std::get<std::string>(a.value) == "a");
      if (a.name == "second") CHECK(std::get<std::string>(a.value) == "b");
      if (a.name == "overlap") CHECK(std::get<double>(a.value) == Approx(18));
      if (a.name == "all") CHECK(std::get<std::string>(a.value) == "a + b");
    }
  }
  check_clashes(at(30.1), {});
}

TEST_CASE("two tubes through one node cannot both run on, and one that ends there can") {
  frame::Frame f = tubes();
  for (const auto& [id, x, y] :
       {std::tuple("w", -200, 0), {"e", 200, 0}, {"s", 0, -200}, {"n", 0, 200}, {"o", 0, 0}})
    node(f, id, Vec3(x, y, 0));
  member(f, "long", "40x2", {"w", "o", "e"});
  frame::Frame crossed = f, ended = f;
  member(crossed, "cross", "20x2", {"s", "o", "n"});
  CHECK(kinds(crossed) == std::vector{ClashKind::through});
  member(ended, "south", "20x2", {"s", "o"});
  member(ended, "north", "20x2", {"o", "n"});
  CHECK(kinds(ended).empty());
}

TEST_CASE("a member that turns back lies in its own tube, and a bend does not") {
  const auto rail = [](std::vector<double> stations) {
    frame::Frame f = tubes();
    std::vector<std::string> nodes;
    for (const double x : stations)
      nodes.push_back(node(f, std::string(1, static_cast<char>('A' + nodes.size())), {x, 280, 330}));
    member(f, "rail", "40x2", nodes);
    return f;
  };
  CHECK(kinds(rail({800, 1000, 1250, 1450, 1650})).empty());
  CHECK(kinds(rail({800, 1000, 1500, 1450, 1650})) == std::vector{ClashKind::doubled_back});
  CHECK(clashes(rail({800, 1000, 1500, 1450, 1650}), {})[0].where == "C");
  // Bends: at a right angle; a half circle of twenty pieces about 45 mm; and one about 15 mm, less than the
  // radius.
  const auto arc = [](double radius) {
    frame::Frame f = tubes();
    std::vector<std::string> nodes{node(f, "in", {-200, radius, 0})};
    for (int i = 0; i <= 20; ++i) {
      const double angle = 3.14159265 * i / 20;
      nodes.push_back(
          node(f, "n" + std::to_string(i), {radius * std::sin(angle), radius * std::cos(angle), 0}));
    }
    nodes.push_back(node(f, "out", {-200, -radius, 0}));
    member(f, "bow", "40x2", nodes);
    return f;
  };
  CHECK(kinds(arc(45)).empty());
  CHECK(kinds(arc(20.5)).empty());
  CHECK(kinds(arc(15)) == std::vector{ClashKind::doubled_back});
}

TEST_CASE("tubes that meet may lie in each other near their node, not over a whole length") {
  // Crotch of equal tubes of radius r at an angle: r / tan(angle / 2) from the node.
  const auto fork = [](double degrees, double length) {
    frame::Frame f = tubes();
    const double angle = degrees * 3.14159265358979 / 180;
    node(f, "o", {0, 0, 0});
    member(f, "a", "20x2", {"o", node(f, "a", {500, 0, 0})});
    member(f, "b", "20x2", {"o", node(f, "b", {length * std::cos(angle), length * std::sin(angle), 0})});
    return f;
  };
  const double reach = 10 / std::tan(5 * 3.14159265358979 / 180);  // 114.3 mm
  CHECK(kinds(fork(10, reach - 0.1)) == std::vector{ClashKind::inside});
  CHECK(kinds(fork(10, reach + 0.1)).empty());
  CHECK(kinds(fork(0.2, 400)) == std::vector{ClashKind::inside});
  CHECK(kinds(fork(170, 60)).empty());
  CHECK(kinds(fork(90, 60)).empty());
}

TEST_CASE("one tube drawn twice, and a thinner one in its bore") {
  frame::Frame f = tubes();
  tube_between(f, "a", "40x2", {0, 0, 0}, {300, 0, 0});
  frame::Frame twice = f, lined = f, tight = f;
  member(twice, "again", "40x2", {"a.b", "a.a"});
  CHECK(kinds(twice).front() == ClashKind::same_nodes);
  CHECK_THROWS_AS(check_clashes(twice, {}), Fault);
  member(lined, "liner", "30x2", {"a.a", "a.b"});  // 30 in a bore of 36
  CHECK(kinds(lined).empty());
  add_tube(tight, 37, 2);
  member(tight, "liner", "37x2", {"a.a", "a.b"});
  CHECK(kinds(tight) == std::vector{ClashKind::inside});
}

TEST_CASE("a pin turns in its housing, and what is welded to the housing does not reach the pin") {
  frame::Frame f = tubes();
  add_tube(f, 50, 5);
  for (const auto& [id, z] :
       {std::pair("top", 300), {"p", 200}, {"low", 100}, {"h1", 260}, {"q", 200}, {"h2", 140}})
    node(f, id, Vec3(0, 0, z));
  member(f, "pin", "40x2", {"top", "p", "low"});
  member(f, "housing", "50x5", {"h1", "q", "h2"});
  f.hinges.push_back({"steering", "p", "q", {0, 0, 1}});
  member(f, "arm", "30x2", {"h2", node(f, "far", {-300, 0, 200})});
  const std::vector<joints::Weld> welded{weld("W1", "arm", "h2", "housing")};
  CHECK(crossing_mm(f, welded) == 0);
  CHECK(crossing_mm(f) > 10);  // not welded to the wall: the arm ends on the axis, in the pin
  f.tubes.back().section = frame::RoundTube{50, 6};  // a bore of 38 for a pin of 40
  CHECK(kinds(f, welded).front() == ClashKind::inside);
}

TEST_CASE("neighbours whose nodes a short piece joins are one joint") {
  const auto joined = [](double stub) {
    frame::Frame f = tubes();
    for (const auto& [id, x] : {std::pair("w", -200), {"o", 0}, {"e", 200}}) node(f, id, Vec3(x, 0, 0));
    member(f, "chord", "40x2", {"w", "o", "e"});
    node(f, "s", {0, 0, stub});
    member(f, "stub", "10x2", {"o", "s"});
    member(f, "brace", "30x2", {"s", node(f, "far", {0, 300, 60})});
    return f;
  };
  CHECK(crossing_mm(joined(25)) == 0);
  frame::Frame without = joined(25);
  without.members.erase(without.members.begin() + 1);
  CHECK(crossing_mm(without) > 5);
}

TEST_CASE("feet on one chord are trimmed at its wall, and braces that cross beyond it are told") {
  // Two upright braces of 20 on a chord of 40, their nodes 21 and 19 mm apart.
  const auto pair = [](double apart, double lean) {
    frame::Frame f = tubes();
    for (const auto& [id, x] : {std::pair("w", -200.0), {"p", 0.0}, {"q", apart}, {"e", 200.0}})
      node(f, id, Vec3(x, 0, 0));
    member(f, "chord", "40x2", {"w", "p", "q", "e"});
    member(f, "left", "20x2", {"p", node(f, "l", {lean, 0, 200})});
    member(f, "right", "20x2", {"q", node(f, "r", {apart - lean, 0, 200})});
    return f;
  };
  const std::vector<joints::Weld> welded{weld("W1", "left", "p", "chord"), weld("W2", "right", "q", "chord")};
  CHECK(crossing_mm(pair(21, 0), welded) == 0);
  CHECK(crossing_mm(pair(19, 0), welded) == Approx(1).margin(1e-6));
  CHECK(crossing_mm(pair(50, -20), welded) == 0);  // leaning apart
  CHECK(crossing_mm(pair(50, 100), welded) > 5);   // leaning together: they cross at half height
}

TEST_CASE("random tubes in general position: what is told is what their distances say") {
  std::mt19937_64 random(3);
  const auto uniform = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random() >> 11) / 9007199254740992.0;
  };
  std::size_t told = 0;
  for (int round = 0; round < 20; ++round) {
    frame::Frame f = tubes();
    for (int i = 0; i < 20; ++i)
      tube_between(f, "m" + std::to_string(i), i % 2 ? "20x2" : "40x2",
                   {uniform(0, 900), uniform(0, 900), uniform(0, 900)},
                   {uniform(0, 900), uniform(0, 900), uniform(0, 900)});
    std::set<std::pair<std::string, std::string>> found;
    for (const Clash& c : clashes(f, {})) found.insert({c.first, c.second});
    told += found.size();
    for (std::size_t i = 0; i < 20; ++i)
      for (std::size_t j = i + 1; j < 20; ++j) {
        const Cylinder a{f.nodes[2 * i].position_mm, f.nodes[2 * i + 1].position_mm, i % 2 ? 10.0 : 20.0},
            b{f.nodes[2 * j].position_mm, f.nodes[2 * j + 1].position_mm, j % 2 ? 10.0 : 20.0};
        double least = 1e300;  // of the axes, by samples: 900 mm in 400 steps
        for (int s = 0; s <= 400; ++s) {
          const Vec3 at = a.from + (a.to - a.from) * s / 400, axis = b.to - b.from;
          const double t = std::clamp((at - b.from).dot(axis) / axis.squaredNorm(), 0.0, 1.0);
          least = std::min(least, (at - b.from - t * axis).norm());
        }
        const bool is = found.contains({f.members[i].id, f.members[j].id});
        if (least > a.radius_mm + b.radius_mm + 2) CHECK_FALSE(is);
        // Nearer than the smaller radius: even where an end is the nearest place, it lies within the other.
        if (least < std::min(a.radius_mm, b.radius_mm) - 2) CHECK(is);
      }
  }
  CHECK(told > 20);
}

TEST_CASE("four hundred members are looked through in less than a tenth of a second") {
  frame::Frame f = tubes();
  for (int i = 0; i < 400; ++i)
    tube_between(f, "m" + std::to_string(i), "20x2", {i % 20 * 60.0, i / 20 * 60.0, 0},
                 {i % 20 * 60.0 + 30, i / 20 * 60.0 + 10, 500});
  const auto start = std::chrono::steady_clock::now();
  CHECK(clashes(f, {}).empty());
  CHECK(std::chrono::steady_clock::now() - start < std::chrono::milliseconds(100));
}

}  // namespace seamwright::shape
