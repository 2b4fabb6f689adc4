// SPDX-License-Identifier: GPL-3.0-or-later
// joint: one joint by finite elements, beside the equations.
#include <algorithm>
#include <filesystem>
#include <memory>

#include "app/cli/commands.h"
#include "app/cli/progress_bar.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"
#include "catalog/models/joint_library.h"
#include "catalog/models/joint_report.h"
#include "catalog/models/user_modeller.h"
#include "catalog/published/nearest.h"
#include "catalog/published/published_data.h"
#include "engine/rules/rules.h"
#include "engine/sites/joint_readings.h"
#include "reports/content/joint_blocks.h"
#include "reports/content/seam_picture.h"
#include "reports/content/true_scale.h"
#include "reports/pages/paint.h"
#include "reports/render/json.h"
#include "reports/render/render.h"

namespace seamwright::cli {

namespace {

struct JointOptions {
  std::string job, name, picture;
  bool json = false;
};

bool has(const std::vector<std::string>& all, const std::string& one) { return std::find(all.begin(), all.end(), one) != all.end(); }

std::string suffix_of(const std::string& path) { return std::filesystem::path(path).extension().string(); }

// One below the other.
reports::Picture stacked(const std::vector<reports::SeamPicture>& pictures) {
  reports::Picture all;
  for (const reports::SeamPicture& one : pictures) {
    reports::add_drawing(all, one.picture, {0, all.height_mm});
    all.width_mm = std::max(all.width_mm, one.picture.width_mm);
    all.height_mm += one.picture.height_mm;
  }
  return all;
}

// The welds that are named and that a load reaches; a weld named alone must be one of them.
void write_picture(const JointOptions& o, const solid::FrameJoint& joint, const models::JointReport& report, const std::string& weld,
                   const Session& session) {
  std::vector<reports::SeamPicture> pictures;
  for (const models::JointReport::Seam& seam : report.seams)
    if (weld.empty() ? seam.loaded : seam.weld == weld) pictures.push_back(reports::stress_picture(joint, seam));
  if (pictures.empty()) throw Fault{Message{"seam.not-drawn", {text("weld", joint.welds.at(0))}}};
  if (suffix_of(o.picture) == ".pdf") {
    reports::Document d;
    d.title = {"joint.title", {text("node", report.id)}};
    for (reports::SeamPicture& p : pictures) d.blocks.emplace_back(reports::block_of(std::move(p)));
    write_pdf(o.picture, d, session);
  } else {
    const reports::Picture picture = stacked(pictures);
    files::write_text(o.picture, suffix_of(o.picture) == ".png" ? reports::to_png(picture, session.language)
                                                                : reports::to_svg(picture, session.language));
  }
}

int joint_of(const JointOptions& o, const Session& session) {
  if (!o.picture.empty() && !has({".svg", ".png", ".pdf"}, suffix_of(o.picture))) throw usage_fault("usage.joint-picture-name");
  const design::Design design = files::read_design(files::design_path(o.job), published::catalog());
  solid::FrameJoints joints = sites::frame_joints(design);
  for (const solid::Unmodelled& u : joints.without)
    if (u.weld == o.name) throw Fault{u.why};
  std::erase_if(joints.joints, [&](const solid::FrameJoint& j) { return !has(j.nodes, o.name) && !has(j.welds, o.name); });
  if (joints.joints.empty()) {
    std::vector<std::string> known;
    for (const joints::Weld& w : design.welds) known.push_back(w.id);
    for (const auto& node : design.frame.nodes) known.push_back(node.id);
    if (!has(known, o.name))
      throw Fault{Message{"joint.unknown-name", {text("name", o.name), text("nearest", published::nearest_or_some(o.name, known))}}, Category::usage};
  }
  if (joints.joints.empty()) throw Fault{Message{"joint.none-there", {text("name", o.name)}}, Category::usage};
  joints.joints.resize(1);
  Bar bar;
  models::UserJoints modeller;
  const solid::JointLibrary library = models::joint_library(modeller, joints, bar.progress());
  if (!library.failed.empty()) throw Fault{solid::failed_message(joints.joints[0], library.failed[0].second), Category::machine};
  const std::vector<solid::ModelledJoint> modelled = solid::modelled_joints(joints, library);
  const models::JointReport report = models::joint_report(design, modelled.at(0), rules::Rules{}.chord_fixity);
  const std::string weld = has(modelled[0].joint.welds, o.name) ? o.name : "";
  if (!o.picture.empty()) write_picture(o, modelled[0].joint, report, weld, session);
  if (o.json)
    print(reports::to_json(report));
  else
    print(reports::joint_document(report, weld), session);
  return 0;
}

}  // namespace

void add_joint(CLI::App& app, Session& session) {
  auto o = std::make_shared<JointOptions>();
  CLI::App* c = app.add_subcommand("joint", "Analyse one joint by finite elements from its solid: stresses and stiffness, beside the equations");
  c->add_option("job", o->job, "job folder or design file")->required();
  c->add_option("name", o->name, "node of the joint, or one of its welds")->required();
  c->add_option("--picture", o->picture, "also draw the stress around the toes and root of each weld: .svg, .png or .pdf");
  c->add_flag("--json", o->json, "one JSON document");
  c->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, "", [&] { return joint_of(*o, session); }); };
  });
}

}  // namespace seamwright::cli
