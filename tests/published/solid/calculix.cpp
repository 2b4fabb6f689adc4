// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/published/solid/calculix.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <unistd.h>

namespace seamwright::solid {

namespace {

namespace fs = std::filesystem;

// A rigid end has two nodes beyond those of the mesh, counted from 1: one for its motion, one for its turning.
Eigen::Index motion_node(const SupportedBody& body, std::size_t end) { return body.mesh.nodes.cols() + 2 * static_cast<Eigen::Index>(end) + 1; }

void write_mesh(std::ostream& out, const SupportedBody& body) {
  out << "*NODE, NSET=ALL\n";
  for (Eigen::Index n = 0; n < body.mesh.nodes.cols(); ++n)
    out << n + 1 << ", " << body.mesh.nodes(0, n) << ", " << body.mesh.nodes(1, n) << ", " << body.mesh.nodes(2, n) << "\n";
  out << "*NODE\n";
  for (std::size_t e = 0; e < body.ends.size(); ++e)
    for (int turn = 0; turn < 2; ++turn)
      out << motion_node(body, e) + turn << ", " << body.ends[e].at.x() << ", " << body.ends[e].at.y() << ", " << body.ends[e].at.z() << "\n";
  out << "*ELEMENT, TYPE=C3D10, ELSET=EALL\n";
  for (std::size_t t = 0; t < body.mesh.tets.size(); ++t) {
    out << t + 1;
    for (const int n : body.mesh.tets[t]) out << ", " << n + 1;
    out << "\n";
  }
}

void write_deck(const fs::path& path, const SupportedBody& body, std::size_t held, const std::vector<EndLoad>& loads) {
  std::ofstream out(path);
  out.precision(13);  // it reads no longer numbers than twenty characters
  write_mesh(out, body);
  for (std::size_t e = 0; e < body.ends.size(); ++e) {
    out << "*NSET, NSET=END" << e << "\n";
    for (const int n : body.ends[e].nodes) out << n + 1 << ",\n";
    if (e >= held)
      out << "*RIGID BODY, NSET=END" << e << ", REF NODE=" << motion_node(body, e) << ", ROT NODE=" << motion_node(body, e) + 1 << "\n";
  }
  out << "*MATERIAL, NAME=STEEL\n*ELASTIC\n" << body.steel.youngs_mpa << ", " << body.steel.poisson
      << "\n*SOLID SECTION, ELSET=EALL, MATERIAL=STEEL\n*BOUNDARY\n";
  for (std::size_t e = 0; e < held; ++e) out << "END" << e << ", 1, 3\n";
  out << "*NSET, NSET=TOLD\nALL\n";
  for (std::size_t e = held; e < body.ends.size(); ++e) out << motion_node(body, e) << "\n";
  for (const EndLoad& l : loads) {
    out << "*STEP\n*STATIC\n*CLOAD, OP=NEW\n";
    for (int i = 0; i < 6; ++i)
      if (l.load[i] != 0) out << motion_node(body, l.end) + i / 3 << ", " << i % 3 + 1 << ", " << l.load[i] << "\n";
    out << "*NODE PRINT, NSET=TOLD\nU\n*EL PRINT, ELSET=EALL\nS\n*END STEP\n";
  }
}

CalculixAnswer read_answer(const fs::path& path, const SupportedBody& body, std::size_t held, std::size_t loads) {
  const Eigen::Index nodes = body.mesh.nodes.cols(), ends = static_cast<Eigen::Index>(body.ends.size());
  const std::size_t tets = body.mesh.tets.size();
  CalculixAnswer out;
  out.moved.setZero(3 * nodes, static_cast<Eigen::Index>(loads));
  out.end_moved.setZero(3 * ends, static_cast<Eigen::Index>(loads));
  out.stress.assign(loads, std::vector<std::array<Stress, 4>>(tets));
  std::size_t nodes_told = 0, points_told = 0;
  Eigen::Index load = -1;
  bool of_nodes = false;
  std::ifstream in(path);
  for (std::string line; std::getline(in, line);) {
    if (line.find("displacements") != std::string::npos) {
      of_nodes = true;
      ++load;
    }
    if (line.find("stresses") != std::string::npos) of_nodes = false;
    std::istringstream words(line);
    long number = 0, point = 0;
    if (of_nodes) {
      Vec3 u;
      if (!(words >> number >> u[0] >> u[1] >> u[2])) continue;
      ++nodes_told;
      if (number <= nodes)
        out.moved.block<3, 1>(3 * (number - 1), load) = u;
      else
        out.end_moved.block<3, 1>(3 * ((number - nodes - 1) / 2), load) = u;
    } else {
      Stress s;  // theirs: xx yy zz xy xz yz
      if (!(words >> number >> point >> s[0] >> s[1] >> s[2] >> s[3] >> s[5] >> s[4])) continue;
      ++points_told;
      out.stress.at(static_cast<std::size_t>(load)).at(static_cast<std::size_t>(number - 1)).at(static_cast<std::size_t>(point - 1)) = s;
    }
  }
  if (nodes_told != loads * (static_cast<std::size_t>(nodes) + body.ends.size() - held) || points_told != loads * tets * 4)
    throw std::runtime_error("CalculiX told " + std::to_string(nodes_told) + " nodes and " + std::to_string(points_told) + " points");
  return out;
}

}  // namespace

bool has_calculix() {
  if (std::system("command -v ccx > /dev/null") == 0) return true;
  WARN("ccx is missing");
  return false;
}

CalculixAnswer calculix_answer(const SupportedBody& body, std::size_t held, const std::vector<EndLoad>& loads) {
  const fs::path folder = fs::temp_directory_path() / ("seamwright-calculix-" + std::to_string(getpid()));
  fs::create_directories(folder);
  write_deck(folder / "body.inp", body, held, loads);
  if (std::system(("cd " + folder.string() + " && OMP_NUM_THREADS=1 ccx body > log 2>&1").c_str()) != 0)
    throw std::runtime_error("CalculiX failed in " + folder.string());
  CalculixAnswer out = read_answer(folder / "body.dat", body, held, loads.size());
  fs::remove_all(folder);
  return out;
}

double stress_apart(const SupportedBody& body, const CalculixAnswer& theirs, std::size_t load) {
  // The shares of a corner's stress at its own Gauss point and at another.
  const double inner = (5 + 3 * std::sqrt(5.0)) / 20, outer = (5 - std::sqrt(5.0)) / 20;
  double apart = 0, largest = 0;
  for (std::size_t t = 0; t < body.mesh.tets.size(); ++t) {
    const Tet& tet = body.mesh.tets[t];
    Eigen::VectorXd own(30);
    for (int i = 0; i < 10; ++i)
      own.segment<3>(3 * i) = theirs.moved.block<3, 1>(3 * tet[static_cast<std::size_t>(i)], static_cast<Eigen::Index>(load));
    const Eigen::VectorXd corners = nodal_stress_map(corners_of(body.mesh, tet), body.steel) * own;
    for (std::size_t g = 0; g < 4; ++g) {
      Stress s = Stress::Zero();
      for (std::size_t c = 0; c < 4; ++c) s += (c == g ? inner : outer) * corners.segment<6>(6 * static_cast<Eigen::Index>(c));
      const Stress& printed = theirs.stress[load][t][g];
      apart = std::max(apart, (s - printed).cwiseAbs().maxCoeff());
      largest = std::max(largest, printed.cwiseAbs().maxCoeff());
    }
  }
  return apart / largest;
}

}  // namespace seamwright::solid
