// SPDX-License-Identifier: GPL-3.0-or-later
// The same mesh in a general finite-element program (CalculiX).
#include "tests/published/outside/outside.h"
#include "tests/published/solid/calculix.h"
#include "tests/published/solid/tee.h"

namespace seamwright::solid {

TEST_CASE("CalculiX finds the same displacements and stresses on the same mesh") {
  if (!has_calculix()) return;
  const Tee t{40, 2, 60, {{25, 2, 70, 0, 0, 2.8, 3.5, false}}, 60, 1.0};
  const JointTask task = task_of(t);
  MeshedJoint joint = mesher::mesh_of(task);
  open_roots(task, joint);
  SupportedBody body{joint.mesh, task.steel, {}, {}};
  for (const End& e : task.ends) body.ends.push_back(rigid_end(task, joint, e));
  const UnitAnswers a = unit_answers(body, mesher::solve);
  Eigen::Matrix<double, 6, 1> load;
  load << 300, -200, 1000, 4000, 9000, -2000;
  const Eigen::VectorXd moved = a.moved.rightCols<6>() * load;

  const CalculixAnswer theirs = calculix_answer(body, 1, {{body.ends.size() - 1, load}});
  {
    SOURCE(evaluated, "CalculiX 2.20 (ccx) on the same mesh, C3D10", "a thousandth of the largest displacement: what it prints has seven digits");
    CHECK((moved - theirs.moved).cwiseAbs().maxCoeff() / theirs.moved.cwiseAbs().maxCoeff() < 1e-3);
    CHECK(moved.cwiseAbs().maxCoeff() == outside::Expected(theirs.moved.cwiseAbs().maxCoeff()).epsilon(1e-3));
  }
  SOURCE(evaluated, "CalculiX 2.20 (ccx) on the same mesh, stress at the integration points of every element", "a thousandth of the largest");
  CHECK(stress_apart(body, theirs, 0) < 1e-3);
}

}  // namespace seamwright::solid
