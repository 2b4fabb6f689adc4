// SPDX-License-Identifier: GPL-3.0-or-later
// solve, modes and fe-export.
#include <algorithm>
#include <memory>
#include <optional>
#include <set>

#include "app/cli/commands.h"
#include "app/cli/joint_models.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/loads/channels.h"
#include "engine/rating/service.h"
#include "engine/study/frame_deck.h"
#include "reports/content/frame_blocks.h"
#include "reports/content/study_blocks.h"
#include "reports/render/json.h"
#include "reports/text/text.h"

namespace seamwright::cli {

namespace {

struct FrameOptions {
  std::string job, duty, load_case, channel;
  double payload = -1, steering = 0, supported_hz = 0;
  std::string out;
  int divisions = 8;
  bool json = false, at_rest = false, equations = false;
};

const frame::LoadCase& case_of(const frame::Frame& frame, const std::string& id) {
  std::string known;
  for (const frame::LoadCase& c : frame.cases) {
    if (c.id == id) return c;
    known.append(known.empty() ? "" : ", ").append(c.id);
  }
  throw Fault{Message{"solution.unknown-case", {text("case", id), text("known", known)}}};
}

// The pose asked for; the duty's heaviest payload unless one is given.
loads::Pose pose_of(const FrameOptions& o, const loads::Duty& duty) {
  loads::Pose pose;
  for (const loads::Leg* leg : loads::all_legs(duty))
    if (leg->pose.payload_kg >= pose.payload_kg) pose = leg->pose;
  if (o.payload >= 0) pose.payload_kg = o.payload;
  pose.steering_deg = o.steering;
  return pose;
}

loads::ChannelSolution solved(const FrameOptions& o) {
  const published::Catalog& catalog = published::catalog();
  if (!o.load_case.empty()) {
    const design::Design design = files::read_design(files::design_path(o.job), catalog);
    loads::ChannelSolution s;
    s.assembly = frame::assemble(design::frame_with_cuts(design), frame::Footing::supports);
    s.solution =
        frame::Statics(s.assembly).solve(frame::case_load(s.assembly, case_of(design.frame, o.load_case)));
    return s;
  }
  const rating::Job job = files::read_job(o.job, o.duty, catalog);
  return loads::solve_channel(design::frame_with_cuts(job.design), job.design.carriers, job.duty.rider,
                              job.design.steering, pose_of(o, job.duty), o.channel);
}

int solve(const FrameOptions& o, const Session& session) {
  const loads::ChannelSolution s = solved(o);
  const std::string& what = o.load_case.empty() ? o.channel : o.load_case;
  if (o.json)
    print(reports::to_json(what, s.assembly, s.solution));
  else
    print(reports::solution_document(what, s.assembly, s.solution), session);
  return 0;
}

int show(const std::vector<reports::NamedModes>& all, const FrameOptions& o, const Session& session) {
  if (o.json)
    print(reports::to_json(all));
  else
    print(reports::modes_document(all), session);
  return 0;
}

// A design alone, held by its supports.
int supported_modes(const FrameOptions& o, const Session& session) {
  const design::Design design = files::read_design(files::design_path(o.job), published::catalog());
  const frame::Assembly assembly = frame::assemble(design::frame_with_cuts(design), frame::Footing::supports);
  return show({{"supports", 0, &assembly, frame::modes(assembly, o.supported_hz)}}, o, session);
}

int modes(const FrameOptions& o, const Session& session) {
  if (o.supported_hz > 0) return supported_modes(o, session);
  rating::Job job = files::read_job(o.job, o.duty, published::catalog());
  if (!o.equations) add_joint_models(job, session.language);
  const frame::Frame cut = rating::jointed_frame(job, rating::joints_of(job));
  std::set<loads::Pose> poses;
  for (const loads::Leg* leg : loads::all_legs(job.duty)) {
    loads::Pose pose = leg->pose;
    pose.steering_deg = o.steering;
    poses.insert(pose);
  }
  if (o.payload >= 0) poses = {pose_of(o, job.duty)};
  std::vector<std::unique_ptr<frame::Assembly>> assemblies;
  std::vector<reports::NamedModes> all;
  const auto add = [&](const char* where, double payload, const frame::Frame& frame, frame::Footing on) {
    assemblies.push_back(std::make_unique<frame::Assembly>(frame::assemble(frame, on)));
    all.push_back({where, payload, assemblies.back().get(),
                   frame::modes(*assemblies.back(), job.duty.highest_frequency_hz)});
  };
  for (const loads::Pose& pose : poses)
    add("tyres", pose.payload_kg,
        loads::frame_in(pose, cut, job.design.carriers, job.duty.rider, job.design.steering),
        frame::Footing::tyres);
  add("nothing", 0, cut, frame::Footing::nothing);
  return show(all, o, session);
}

int deck(const FrameOptions& o, const Session& session) {
  const published::Catalog& catalog = published::catalog();
  const design::Design design = files::read_design(files::design_path(o.job), catalog);
  std::optional<loads::Duty> duty;
  if (o.at_rest) duty = files::read_job(o.job, o.duty, catalog).duty;
  files::write_text(o.out, study::frame_deck(design, duty ? &*duty : nullptr, o.divisions));
  print(reports::sentence({"deck.done", {text("file", o.out)}}, session.language) + "\n");
  return 0;
}

CLI::App* with_job(CLI::App& app, const char* name, const char* what,
                   const std::shared_ptr<FrameOptions>& o) {
  CLI::App* command = app.add_subcommand(name, what);
  command->add_option("job", o->job, "job folder or design file")->required();
  command->add_option("--duty", o->duty, "duty file in place of the job's");
  command->add_option("--payload", o->payload, "payload in the box in place of the duty's, kg")
      ->check(CLI::Range(0.0, 1000.0));
  command->add_option("--steering", o->steering, "steering angle, degrees to the left")
      ->check(CLI::Range(-80.0, 80.0));
  command->add_flag("--json", o->json, "one JSON document on stdout");
  return command;
}

}  // namespace

void add_solve(CLI::App& app, Session& session) {
  auto o = std::make_shared<FrameOptions>();
  o->channel = "standing";
  CLI::App* command = with_job(app, "solve", "Statics: displacements, section forces, reactions", o);
  auto* of_case = command->add_option("--case", o->load_case, "load case of the design, on its supports");
  command->add_option("--channel", o->channel, "load channel of the frame on its tyres: standing, payload, road-FL, road-FR, road-R")
      ->capture_default_str()
      ->excludes(of_case);
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return solve(*o, session); }); };
  });
}

void add_modes(CLI::App& app, Session& session) {
  auto o = std::make_shared<FrameOptions>();
  CLI::App* command =
      with_job(app, "modes", "Natural frequencies on the tyres, for each payload, and of the free frame", o);
  command
      ->add_option("--on-supports", o->supported_hz,
                   "modes of the design on its supports instead, up to this frequency, Hz; needs no duty")
      ->check(CLI::Range(0.1, 10000.0));
  add_equations(*command, o->equations);
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return modes(*o, session); }); };
  });
}

void add_deck(CLI::App& app, Session& session) {
  auto o = std::make_shared<FrameOptions>();
  CLI::App* command =
      app.add_subcommand("fe-export", "Export frame and load cases as an input file for a general finite-element program (FE export)");
  command->add_option("job", o->job, "job folder or design file")->required();
  auto* at_rest = command->add_flag("--at-rest", o->at_rest,
                                    "the trike at rest with the duty's payloads, in place of the load cases");
  command->add_option("--duty", o->duty, "duty file in place of the job's")->needs(at_rest);
  command->add_option("--out", o->out, "file of the FE export, such as F.inp")->required();
  command->add_option("--divisions", o->divisions, "number of elements between two nodes of a member")
      ->check(CLI::Range(1, 200))
      ->capture_default_str();
  command->callback([o, &session] {
    session.run = [o, &session] { return on_job(o->job, o->duty, [&] { return deck(*o, session); }); };
  });
}

}  // namespace seamwright::cli
