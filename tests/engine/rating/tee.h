// SPDX-License-Identifier: GPL-3.0-or-later
// A brace 30 x 2 upright on the middle of a chord 60 x 3 along x.
#pragma once

#include "engine/rating/job.h"

namespace seamwright::rating {

inline design::Design tee() {
  design::Design design;
  frame::Frame& f = design.frame;
  f.materials = {{"steel", 210000, 0.3, 7850, 0, 0}};
  f.tubes = {{"chord", frame::RoundTube{60, 3}, "steel"}, {"brace", frame::RoundTube{30, 2}, "steel"}};
  f.nodes = {{"A", {0, 0, 0}}, {"J", {400, 0, 0}}, {"B", {800, 0, 0}}, {"T", {400, 0, 300}}};
  frame::Member chord, brace;
  chord.id = "C";
  chord.tube = "chord";
  chord.nodes = {"A", "J", "B"};
  brace.id = "b";
  brace.tube = "brace";
  brace.nodes = {"J", "T"};
  f.members = {chord, brace};
  joints::Weld w;
  w.id = "W";
  w.member = "b";
  w.node = "J";
  w.joint = "J";
  w.kind = "tube-tee";
  w.chord = "C";
  w.throat_mm = 2;
  design.welds = {w};
  return design;
}

}  // namespace seamwright::rating
