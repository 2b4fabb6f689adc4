// SPDX-License-Identifier: GPL-3.0-or-later
// A braced tower of 200 members, 16 right-hand sides: time to assemble, to factor and solve, over the aim of
// 10 ms; its modes; and, where CalculiX is installed, over its run on the same tower (one B32R element to a
// member, reading and writing files included). Prints figures; judges nothing.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <limits>

#include "engine/frame/modes.h"
#include "engine/frame/statics.h"
#include "tests/timing/line.h"

namespace {

using namespace seamwright::frame;

constexpr int levels = 17, right_sides = 16;
constexpr double aim_ms = 10;

double seconds_of(const auto& work, int times) {
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < times; ++i) {
    const auto start = std::chrono::steady_clock::now();
    work();
    best = std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
  }
  return best;
}

Frame tower() {
  Frame f;
  f.materials = {{"steel", 210000, 0.3, 7850, 0, 0}};
  f.tubes = {{"tube", RoundTube{40, 2}, "steel"}};
  const auto id = [](int level, int corner) { return fmt::format("{}.{}", level, corner % 4); };
  const auto join = [&](const std::string& a, const std::string& b) {
    Member m;
    m.id = fmt::format("m{}", f.members.size());
    m.tube = "tube";
    m.nodes = {a, b};
    f.members.push_back(m);
  };
  for (int level = 0; level <= levels; ++level)
    for (int c = 0; c < 4; ++c)
      f.nodes.push_back(
          {id(level, c), {c == 1 || c == 2 ? 500.0 : 0.0, c >= 2 ? 400.0 : 0.0, 450.0 * level}});
  for (int level = 0; level < levels; ++level)
    for (int c = 0; c < 4; ++c) {
      join(id(level, c), id(level + 1, c));
      join(id(level + 1, c), id(level + 1, c + 1));
      join(id(level, c), id(level + 1, c + 1));
    }
  f.members.resize(200);
  for (int c = 0; c < 4; ++c) f.supports.push_back({id(0, c), {true, true, true, true, true, true}});
  return f;
}

void write_deck(const Frame& f, const std::filesystem::path& path) {
  std::ofstream out(path);
  out << "*NODE, NSET=ALL\n";
  std::map<std::string, std::size_t> number;
  std::map<std::string, Vec3> place;
  for (const Node& n : f.nodes) {
    number[n.id] = number.size() + 1;
    place[n.id] = n.position_mm;
    out << fmt::format("{}, {}, {}, {}\n", number[n.id], n.position_mm.x(), n.position_mm.y(),
                       n.position_mm.z());
  }
  std::size_t next = number.size();
  std::string elements("*ELEMENT, TYPE=B32R, ELSET=E\n");
  for (std::size_t i = 0; i < f.members.size(); ++i) {
    const auto& m = f.members[i].nodes;
    const Vec3 middle = 0.5 * (place[m[0]] + place[m[1]]);
    out << fmt::format("{}, {}, {}, {}\n", ++next, middle.x(), middle.y(), middle.z());
    elements.append(fmt::format("{}, {}, {}, {}\n", i + 1, number[m[0]], next, number[m[1]]));
  }
  out << elements
      << "*MATERIAL, NAME=S\n*ELASTIC\n210000., .3\n*BEAM SECTION, ELSET=E, MATERIAL=S, SECTION=PIPE\n20., "
         "2.\n.31, .47, .83\n"
      << "*BOUNDARY\n1, 1, 6\n2, 1, 6\n3, 1, 6\n4, 1, 6\n";
  for (int k = 0; k < right_sides; ++k)
    out << fmt::format("*STEP\n*STATIC\n*CLOAD, OP=NEW\n{}, {}, 100.\n*NODE PRINT, NSET=ALL\nU\n*END STEP\n",
                       10 + 3 * k, 1 + k % 3);
}

}  // namespace

int main() {
  const Frame f = tower();
  Assembly a = assemble(f, Footing::supports);
  const Eigen::MatrixXd loads = [&] {
    Eigen::MatrixXd l = Eigen::MatrixXd::Zero(a.full_size, right_sides);
    for (Eigen::Index k = 0; k < right_sides; ++k) l(6 * (9 + 3 * k) + k % 3, k) = 100;
    return l;
  }();
  const double building = seconds_of([&] { a = assemble(f, Footing::supports); }, 7);
  const double solving = seconds_of([&] { Statics(a).solve(loads); }, 7);
  fmt::print("frame: {} members, {} unknowns, {} right-hand sides\n", f.members.size(), a.expand.cols(),
             right_sides);
  seamwright::timing::beside("assemble", 1e3 * building, "ms", building / solving, "of factor and solve");
  seamwright::timing::aim("factor and solve", 1e3 * solving, "ms", aim_ms);
  const double modes_s = seconds_of([&] { modes(a, 300); }, 3);
  seamwright::timing::beside("modes up to 300 Hz", 1e3 * modes_s, "ms", modes_s / solving,
                             "of factor and solve");
  const auto folder = std::filesystem::temp_directory_path() / "seamwright-timing";
  std::filesystem::create_directories(folder);
  write_deck(f, folder / "tower.inp");
  const std::string command = "cd " + folder.string() + " && ccx tower > log 2>&1";
  int failed = std::system("command -v ccx > /dev/null");
  const double other = failed == 0 ? seconds_of([&] { failed = std::system(command.c_str()); }, 1) : 0;
  if (failed == 0) {
    seamwright::timing::beside("CalculiX, whole run", 1e3 * other, "ms", other / (building + solving),
                               "of ours with assembly");
  } else {
    fmt::print("  CalculiX is not there or failed: no ratio\n");
  }
  std::filesystem::remove_all(folder);
}
