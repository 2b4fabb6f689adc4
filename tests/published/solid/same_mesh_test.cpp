// SPDX-License-Identifier: GPL-3.0-or-later
// The same mesh in a general finite-element program (CalculiX).
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <unistd.h>

#include "tests/published/outside/outside.h"
#include "tests/published/solid/tee.h"

namespace seamwright::solid {

namespace {

namespace fs = std::filesystem;

RigidEnd end_of(const MeshedJoint& joint, const End& end) {
  RigidEnd out{end.at, {}};
  for (int n = 0; n < static_cast<int>(joint.mesh.nodes.cols()); ++n)
    if (std::abs((joint.mesh.nodes.col(n) - end.at).dot(end.out)) < 1e-4) out.nodes.push_back(n);
  return out;
}

// The deck: the first end held, the others rigid about a node of their own; a force and a moment on the last.
void write_deck(const fs::path& path, const SupportedBody& body, const Eigen::Matrix<double, 6, 1>& load) {
  std::ofstream out(path);
  out.precision(17);
  out << "*NODE, NSET=ALL\n";
  for (Eigen::Index n = 0; n < body.mesh.nodes.cols(); ++n)
    out << n + 1 << ", " << body.mesh.nodes(0, n) << ", " << body.mesh.nodes(1, n) << ", " << body.mesh.nodes(2, n) << "\n";
  const Eigen::Index own = body.mesh.nodes.cols();
  for (std::size_t e = 1; e < body.ends.size(); ++e)
    for (int turn = 0; turn < 2; ++turn)
      out << own + 2 * static_cast<Eigen::Index>(e) - 1 + turn << ", " << body.ends[e].at.x() << ", " << body.ends[e].at.y() << ", " << body.ends[e].at.z() << "\n";
  out << "*ELEMENT, TYPE=C3D10, ELSET=EALL\n";
  for (std::size_t t = 0; t < body.mesh.tets.size(); ++t) {
    out << t + 1;
    for (const int n : body.mesh.tets[t]) out << ", " << n + 1;
    out << "\n";
  }
  for (std::size_t e = 0; e < body.ends.size(); ++e) {
    out << "*NSET, NSET=END" << e << "\n";
    for (const int n : body.ends[e].nodes) out << n + 1 << ",\n";
    if (e > 0)
      out << "*RIGID BODY, NSET=END" << e << ", REF NODE=" << own + 2 * static_cast<Eigen::Index>(e) - 1
          << ", ROT NODE=" << own + 2 * static_cast<Eigen::Index>(e) << "\n";
  }
  out << "*MATERIAL, NAME=STEEL\n*ELASTIC\n" << body.steel.youngs_mpa << ", " << body.steel.poisson
      << "\n*SOLID SECTION, ELSET=EALL, MATERIAL=STEEL\n*BOUNDARY\nEND0, 1, 3\n*STEP\n*STATIC\n*CLOAD\n";
  const Eigen::Index last = own + 2 * static_cast<Eigen::Index>(body.ends.size() - 1) - 1;
  for (int i = 0; i < 3; ++i) {
    if (load[i] != 0) out << last << ", " << i + 1 << ", " << load[i] << "\n";
    if (load[i + 3] != 0) out << last + 1 << ", " << i + 1 << ", " << load[i + 3] << "\n";
  }
  out << "*NODE PRINT, NSET=ALL\nU\n*EL PRINT, ELSET=EALL\nS\n*END STEP\n";
}

double mises(const Stress& s) {
  const double a = s[0] - s[1], b = s[1] - s[2], c = s[2] - s[0];
  return std::sqrt((a * a + b * b + c * c) / 2 + 3 * (s[3] * s[3] + s[4] * s[4] + s[5] * s[5]));
}

// Its displacements, and the largest equivalent stress at the integration points of each element.
struct Theirs {
  Eigen::VectorXd moved;
  std::vector<double> stress;
  Eigen::Index nodes_told = 0;
};

Theirs read_results(const fs::path& path, const TetMesh& mesh) {
  Theirs out{Eigen::VectorXd::Zero(3 * mesh.nodes.cols()), std::vector<double>(mesh.tets.size(), 0), 0};
  std::ifstream in(path);
  enum { none, displacements, stresses } at = none;
  for (std::string line; std::getline(in, line);) {
    if (line.find("displacements") != std::string::npos) at = displacements;
    if (line.find("stresses") != std::string::npos) at = stresses;
    std::istringstream words(line);
    if (long n = 0; at == displacements && words >> n) {
      Vec3 u;
      if (!(words >> u[0] >> u[1] >> u[2]) || n > mesh.nodes.cols()) continue;
      out.moved.segment<3>(3 * (n - 1)) = u;
      ++out.nodes_told;
    } else if (long e = 0, point = 0; at == stresses && words >> e >> point) {
      Stress s;
      if (!(words >> s[0] >> s[1] >> s[2] >> s[3] >> s[5] >> s[4])) continue;  // theirs: xx yy zz xy xz yz
      double& most = out.stress[static_cast<std::size_t>(e - 1)];
      most = std::max(most, mises(s));
    }
  }
  return out;
}

// The same of ours: stress at the Gauss points, drawn back from the corners: inner of its own, outer of the others.
double largest_mises(const TetMesh& mesh, const Tet& tet, const Elastic& steel, const Eigen::VectorXd& moved) {
  const double inner = (5 + 3 * std::sqrt(5.0)) / 20, outer = (5 - std::sqrt(5.0)) / 20;
  Eigen::VectorXd own(30);
  for (int i = 0; i < 10; ++i) own.segment<3>(3 * i) = moved.segment<3>(3 * tet[static_cast<std::size_t>(i)]);
  const Eigen::VectorXd corners = nodal_stress_map(corners_of(mesh, tet), steel) * own;
  double most = 0;
  for (int g = 0; g < 4; ++g) {
    Stress s = Stress::Zero();
    for (int c = 0; c < 4; ++c) s += (c == g ? inner : outer) * corners.segment<6>(6 * c);
    most = std::max(most, mises(s));
  }
  return most;
}

}  // namespace

TEST_CASE("CalculiX finds the same displacements and stresses on the same mesh") {
  if (std::system("command -v ccx > /dev/null") != 0) {
    WARN("ccx is missing");
    return;
  }
  const Tee t{40, 2, 60, {{25, 2, 70, 0, 0, 2.8, 3.5, false}}, 60, 1.0};
  const JointTask task = task_of(t);
  MeshedJoint joint = mesher::mesh_of(task);
  open_roots(task, joint);
  SupportedBody body{joint.mesh, task.steel, {}, {}};
  for (const End& e : task.ends) body.ends.push_back(end_of(joint, e));
  const UnitAnswers a = unit_answers(body, mesher::solve);
  Eigen::Matrix<double, 6, 1> load;
  load << 300, -200, 1000, 4000, 9000, -2000;
  const Eigen::VectorXd moved = a.moved.rightCols<6>() * load;

  const fs::path folder = fs::temp_directory_path() / ("seamwright-same-mesh-" + std::to_string(getpid()));
  fs::create_directories(folder);
  write_deck(folder / "joint.inp", body, load);
  REQUIRE(std::system(("cd " + folder.string() + " && OMP_NUM_THREADS=1 ccx joint > log 2>&1").c_str()) == 0);
  const Theirs theirs = read_results(folder / "joint.dat", joint.mesh);
  fs::remove_all(folder);
  REQUIRE(theirs.nodes_told == joint.mesh.nodes.cols());
  {
    SOURCE(evaluated, "CalculiX 2.20 (ccx) on the same mesh, C3D10", "a thousandth of the largest displacement: what it prints has seven digits");
    CHECK((moved - theirs.moved).cwiseAbs().maxCoeff() / theirs.moved.cwiseAbs().maxCoeff() < 1e-3);
    CHECK(moved.cwiseAbs().maxCoeff() == outside::Expected(theirs.moved.cwiseAbs().maxCoeff()).epsilon(1e-3));
  }
  double worst = 0, most = 0;
  for (std::size_t e = 0; e < joint.mesh.tets.size(); ++e) {
    most = std::max(most, theirs.stress[e]);
    worst = std::max(worst, std::abs(largest_mises(joint.mesh, joint.mesh.tets[e], task.steel, moved) - theirs.stress[e]));
  }
  SOURCE(evaluated, "CalculiX 2.20 (ccx) on the same mesh, equivalent stress at the integration points of every element", "a thousandth of the largest");
  CHECK(worst / most < 1e-3);
}

}  // namespace seamwright::solid
