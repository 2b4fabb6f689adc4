// SPDX-License-Identifier: GPL-3.0-or-later
// A small steered trike for tests: invented figures.
#pragma once

#include "tests/engine/frame/small_frames.h"

namespace seamwright::frame {

/// Rear frame, front frame that steers about a leaning pivot, steering link, rider on a spring, load on four
/// nodes.
inline Frame trike() {
  Frame f = frame_of(RoundTube{50, 1.5});
  f.tubes.push_back({"rod", SolidBar{10}, "steel"});
  f.nodes = {{"rear", {0, 0, 250}},         {"seat", {150, 0, 700}},        {"crank", {450, 0, 350}},
             {"bar", {700, 0, 900}},        {"pivot", {800, 0, 400}},       {"fork", {800, 0, 400}},
             {"FL", {1300, 400, 250}},      {"FR", {1300, -400, 250}},      {"mid", {1300, 0, 300}},
             {"front L", {1600, 250, 300}}, {"front R", {1600, -250, 300}}, {"arm", {900, 150, 400}},
             {"lever", {720, 140, 420}}};
  f.members = {member("stay", {"rear", "crank", "pivot"}),
               member("seat tube", {"seat", "crank"}),
               member("seat stay", {"rear", "seat"}),
               member("mast", {"pivot", "bar"}),
               member("main", {"fork", "mid"}),
               member("axle", {"FL", "mid", "FR"}),
               member("rim", {"FL", "front L", "front R", "FR"}),
               member("steering arm", {"fork", "arm"}),
               member("steering lever", {"pivot", "lever"}),
               member("link", {"lever", "arm"})};
  f.members.back().tube = "rod";
  f.members.back().axial_only = true;
  f.hinges = {{"steering", "pivot", "fork", {-0.2, 0, 1}}};
  f.dampers = {{"steering damper", "lever", "arm", 500}};
  f.masses = {{"load", 80, {1450, 0, 600}, {"FL", "FR", "front L", "front R"}, {5, 5, 5}},
              {"drive", 8, {450, 0, 350}, {"crank"}, {0.05, 0.05, 0.05}}};
  f.sprung_masses = {{"rider", 60, {150, 0, 950}, "seat", {{{0, 0, 1}, 5, 0.475}}}};
  f.wheels = {{"FL", "FL", 250, 100, 60, 250, 40},
              {"FR", "FR", 250, 100, 60, 250, 40},
              {"R", "rear", 250, 120, 72, 300, 40}};
  return f;
}

}  // namespace seamwright::frame
