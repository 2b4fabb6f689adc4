// SPDX-License-Identifier: GPL-3.0-or-later
// Small frames for tests.
#pragma once

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "engine/frame/assembly.h"
#include "engine/frame/modes.h"
#include "engine/frame/statics.h"

namespace seamwright::frame {

inline constexpr std::array<bool, 6> clamped{true, true, true, true, true, true};

/// G = 80000 MPa.
inline Material steel() { return {"steel", 205000, 205000.0 / (2 * 80000.0) - 1, 7850, 0, 0}; }

/// Steel, one tube named "tube".
inline Frame frame_of(const Section& section, const Material& material = steel()) {
  Frame f;
  f.materials = {material};
  f.tubes = {{"tube", section, material.id}};
  return f;
}

inline Member member(std::string id, std::vector<std::string> nodes) {
  Member m;
  m.id = std::move(id);
  m.tube = "tube";
  m.nodes = std::move(nodes);
  return m;
}

/// A straight beam of equal elements from a to b: nodes "0" ... "n", one member "beam".
inline Frame beam(const Section& section, const Vec3& a, const Vec3& b, int elements,
                  const Material& material = steel()) {
  Frame f = frame_of(section, material);
  Member m = member("beam", {});
  for (int i = 0; i <= elements; ++i) {
    f.nodes.push_back({std::to_string(i), a + (b - a) * i / elements});
    m.nodes.push_back(std::to_string(i));
  }
  f.members = {m};
  return f;
}

inline LoadCase force_at(const std::string& node, const Vec3& force, const Vec3& moment = Vec3::Zero()) {
  return {"case", {{node, force, moment}}, 0};
}

/// Displacements and rotations of a node.
inline Eigen::VectorXd at(const Assembly& a, const Eigen::VectorXd& full, const std::string& node) {
  return full.segment(6 * static_cast<Eigen::Index>(a.node_index.at(node)), 6);
}

inline Solution solve(const Frame& f, const LoadCase& c, Footing on = Footing::supports) {
  const Assembly a = assemble(f, on);
  return Statics(a).solve(case_load(a, c));
}

/// The Fault's message; fails the test when there is none.
template <class Call>
Message fault_of(Call call) {
  try {
    call();
  } catch (const Fault& f) {
    return f.message;
  }
  FAIL("no Fault was thrown");
  return {};
}

inline std::string text_of(const Message& m, const std::string& name) {
  for (const Argument& a : m.arguments)
    if (a.name == name) return std::get<std::string>(a.value);
  return "no such argument";
}

}  // namespace seamwright::frame
