// SPDX-License-Identifier: GPL-3.0-or-later
// joint: one joint by finite elements, beside the equations.
#include <algorithm>
#include <memory>

#include "app/cli/commands.h"
#include "app/cli/progress_bar.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"
#include "catalog/models/joint_library.h"
#include "catalog/models/joint_report.h"
#include "catalog/models/user_modeller.h"
#include "catalog/published/published_data.h"
#include "engine/rules/rules.h"
#include "engine/sites/joint_readings.h"
#include "reports/content/joint_blocks.h"
#include "reports/render/json.h"

namespace seamwright::cli {

namespace {

struct JointOptions {
  std::string job, name;
  bool json = false;
};

bool has(const std::vector<std::string>& all, const std::string& one) { return std::find(all.begin(), all.end(), one) != all.end(); }

int joint_of(const JointOptions& o, const Session& session) {
  const design::Design design = files::read_design(files::design_path(o.job), published::catalog());
  solid::FrameJoints joints = sites::frame_joints(design);
  for (const solid::Unmodelled& u : joints.without)
    if (u.weld == o.name) throw Fault{u.why};
  std::erase_if(joints.joints, [&](const solid::FrameJoint& j) { return !has(j.nodes, o.name) && !has(j.welds, o.name); });
  if (joints.joints.empty()) throw Fault{Message{"joint.none-there", {text("name", o.name)}}, Category::usage};
  joints.joints.resize(1);
  Bar bar;
  models::UserJoints modeller;
  const solid::JointLibrary library = models::joint_library(modeller, joints, bar.progress());
  if (!library.failed.empty()) throw Fault{solid::failed_message(joints.joints[0], library.failed[0].second), Category::machine};
  const std::vector<solid::ModelledJoint> modelled = solid::modelled_joints(joints, library);
  const models::JointReport report = models::joint_report(design, modelled.at(0), rules::Rules{}.chord_fixity);
  const std::string weld = has(modelled[0].joint.welds, o.name) ? o.name : "";
  if (o.json)
    print(reports::to_json(report));
  else
    print(reports::joint_document(report, weld), session);
  return 0;
}

}  // namespace

void add_joint(CLI::App& app, Session& session) {
  auto o = std::make_shared<JointOptions>();
  CLI::App* c = app.add_subcommand("joint", "One joint by finite elements from its solid: stresses, stiffness, beside the equations");
  c->add_option("job", o->job, "job folder or design file")->required();
  c->add_option("name", o->name, "a node of the joint, or one of its welds")->required();
  c->add_flag("--json", o->json, "one JSON document");
  c->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, "", [&] { return joint_of(*o, session); }); };
  });
}

}  // namespace seamwright::cli
