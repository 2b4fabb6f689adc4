// SPDX-License-Identifier: GPL-3.0-or-later
// Frames of a few round tubes, for tests of their geometry.
#pragma once

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "engine/shape/clash.h"
#include "engine/shape/cylinder.h"

namespace seamwright::shape {

/// One tube for each pair of diameter and wall, named "40x2".
inline void add_tube(frame::Frame& f, int diameter, int wall) {
  f.tubes.push_back({std::to_string(diameter) + "x" + std::to_string(wall),
                     frame::RoundTube{static_cast<double>(diameter), static_cast<double>(wall)}, "steel"});
}

inline frame::Frame tubes() {
  frame::Frame f;
  for (const int diameter : {10, 20, 30, 40, 60}) add_tube(f, diameter, 2);
  return f;
}

inline std::string node(frame::Frame& f, const std::string& id, const Vec3& at) {
  f.nodes.push_back({id, at});
  return id;
}

inline void member(frame::Frame& f, const std::string& id, const std::string& tube,
                   std::vector<std::string> nodes) {
  frame::Member m;
  m.id = id;
  m.tube = tube;
  m.nodes = std::move(nodes);
  f.members.push_back(m);
}

/// A straight member with two nodes of its own, "ID.a" and "ID.b".
inline void tube_between(frame::Frame& f, const std::string& id, const std::string& tube, const Vec3& from,
                         const Vec3& to) {
  member(f, id, tube, {node(f, id + ".a", from), node(f, id + ".b", to)});
}

inline joints::Weld weld(const std::string& id, const std::string& brace, const std::string& at,
                         const std::string& chord, bool at_start = true) {
  joints::Weld w;
  w.id = id;
  w.member = brace;
  w.node = at;
  w.chord = chord;
  w.at_start = at_start;
  w.throat_mm = 2;
  return w;
}

inline double crossing_mm(const frame::Frame& f, const std::vector<joints::Weld>& welds = {}) {
  double deepest = 0;
  for (const Clash& c : clashes(f, welds)) {
    CHECK(c.kind == ClashKind::crossing);
    deepest = std::max(deepest, c.overlap_mm);
  }
  return deepest;
}

inline std::vector<ClashKind> kinds(const frame::Frame& f, const std::vector<joints::Weld>& welds = {}) {
  std::vector<ClashKind> out;
  for (const Clash& c : clashes(f, welds)) out.push_back(c.kind);
  return out;
}

}  // namespace seamwright::shape
