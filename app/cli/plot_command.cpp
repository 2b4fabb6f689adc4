// SPDX-License-Identifier: GPL-3.0-or-later
// plot: one picture as SVG or PNG.
#include <algorithm>
#include <filesystem>
#include <iostream>
#include <memory>

#include "app/cli/commands.h"
#include "app/cli/joint_models.h"
#include "app/cli/progress_bar.h"
#include "app/cli/solids.h"
#include "catalog/files/column.h"
#include "catalog/files/details_reader.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/recording_reader.h"
#include "catalog/files/source.h"
#include "engine/cycles/rainflow.h"
#include "engine/signal/survey.h"
#include "engine/study/duty_stability.h"
#include "reports/content/dimensioned_views.h"
#include "reports/content/frame_picture.h"
#include "reports/content/plot_pictures.h"
#include "reports/content/true_scale.h"
#include "reports/pages/paint.h"
#include "reports/render/cells.h"
#include "reports/render/render.h"

namespace seamwright::cli {

namespace {

using reports::Picture;

struct PlotOptions {
  std::string kind, source, duty, weld, column, view = "oblique", out;
  std::size_t mode = 1;
  double width_mm = 180, friction = 0.7;
  fatigue::FitOptions fit;
  bool equations = false;
  reports::Language language = reports::language_named("en");  ///< of the session
};

rating::Job job_of(const PlotOptions& o) { return files::read_job(o.source, o.duty, published::catalog()); }

rating::Rating rated(const PlotOptions& o, rating::Job& job, const std::string& explained = {}) {
  if (!o.equations) add_joint_models(job, o.language);
  Bar bar;
  return rating::rate(job, published::catalog().data, rating::Method::spectral, bar.progress(), explained);
}

Picture frame(const PlotOptions& o, std::vector<Message>& notes) {
  rating::Job job = job_of(o);
  const bool at_rest = o.kind != "deformed" && o.kind != "mode";
  const reports::FrameDrawing drawing = reports::frame_drawing(
      job.design, at_rest ? drawn_views(job.design, {o.view.c_str()}) : reports::DrawnViews{});
  notes = drawing.views.notes;
  reports::FrameLook look;
  if (o.kind == "life") look = reports::look_of(rated(o, job));
  look.names = reports::FrameLook::Names::border;
  std::vector<reports::FrameMotion> motions;
  if (o.kind == "deformed" || o.kind == "mode") {
    if (!o.equations) add_joint_models(job, o.language);
    motions = reports::frame_motions(job, drawing, 1000);
    const std::size_t which = o.kind == "mode" ? o.mode : 0;
    if (which >= motions.size())
      throw Fault{Message{"plot.unknown-mode",
                          {number("mode", static_cast<double>(which), ""),
                           number("count", static_cast<double>(motions.size() - 1), "")}}};
    look.motion = &motions[which];
    look.motion_mm = 0.05 * (drawing.most_mm - drawing.least_mm).norm();
    look.flags = false;
  }
  if (!o.weld.empty()) look.chosen = files::weld_of(job.design, o.weld).id;
  return reports::frame_picture(drawing, reports::view_of(o.view), look, o.width_mm, 0.68 * o.width_mm)
      .picture;
}

// The frame with its dimensions, or the joint of a weld, in a standard scale.
Picture dimensioned(const PlotOptions& o, std::vector<Message>& notes) {
  const design::Design design = files::read_design(files::design_path(o.source), published::catalog());
  if (o.weld.empty()) {
    const reports::FrameDrawing drawing = reports::frame_drawing(design, drawn_views(design, {o.view.c_str()}));
    notes = drawing.views.notes;
    const auto reaches = files::parameter_reaches(files::design_path(o.source), published::catalog());
    for (reports::DimensionedView& v :
         reports::dimensioned_views(drawing, reports::parameter_dimensions(design.frame, reaches)))
      if (v.name == o.view) return std::move(v.picture);
  }
  const joints::Weld& weld = files::weld_of(design, o.weld);
  const reports::DrawnJoint drawn = drawn_joint(design, weld.id);
  if (drawn.views.empty()) throw Fault{drawn.notes.at(0), Category::machine};
  const reports::JointPictures joint = reports::joint_pictures(design, weld, drawn);
  Picture both{joint.measured.width_mm + joint.others.width_mm,
               std::max(joint.measured.height_mm, joint.others.height_mm), {}};
  reports::add_drawing(both, joint.measured, {0, 0});
  reports::add_drawing(both, joint.others, {joint.measured.width_mm, 0});
  return both;
}

Picture of_weld(const PlotOptions& o) {
  rating::Job job = job_of(o);
  const rating::Rating r = rated(o, job, o.weld);
  const std::string weld = o.weld.empty() ? r.governing_weld : o.weld;
  const reports::WeldCard card = reports::weld_card(job, r, weld);
  return o.kind == "sn" ? reports::sn_plot(card.plot) : reports::shares_plot(card.by_cause);
}

Picture of_signal(const PlotOptions& o) {
  std::vector<cycles::Cycle> all;
  cycles::Rainflow flow;
  files::read_column(o.source, o.column, [&](std::span<const double> block) { flow.push(block, all); });
  flow.finish(cycles::Residue::half, all);
  return o.kind == "exceedance" ? reports::exceedance_plot(all) : reports::range_mean_plot(all);
}

Picture spectrum(const PlotOptions& o) {
  const files::Recording r = files::inspect_recording(o.source, {});
  const std::size_t channel = files::channel_index(r, o.column);
  const signal::Survey s = signal::survey(
      r.channels.size(),
      [&](const std::function<void(double, std::span<const double>)>& sink) { files::read_rows(r, sink); },
      0);
  return reports::spectrum_plot(s.channels[channel].frequency_hz, s.channels[channel].density, o.column);
}

Picture fitted(const PlotOptions& o) {
  const std::vector<fatigue::Test> tests = files::read_tests(o.source);
  return reports::fit_plot(fatigue::fit_curve(tests, o.fit), tests);
}

Picture picture_of(const PlotOptions& o, std::vector<Message>& notes) {
  if (o.kind == "sn" || o.kind == "shares") return of_weld(o);
  if (o.kind == "range-mean" || o.kind == "exceedance") return of_signal(o);
  if (o.kind == "spectrum") return spectrum(o);
  if (o.kind == "tests") return fitted(o);
  if (o.kind == "wheel-loads") {
    rating::Job job = job_of(o);
    return reports::wheel_loads_plot(rated(o, job));
  }
  if (o.kind == "tip") return reports::tip_plot(study::stability_of(job_of(o), 41), o.friction);
  if (o.kind == "drawing") return dimensioned(o, notes);
  return frame(o, notes);
}

// The sketch of the joint that a weld sits in: a drawing of the catalog.
std::string joint(const PlotOptions& o) {
  const rating::Job job = job_of(o);
  for (std::size_t i = 0; i < design::subject_count(job.design); ++i) {
    const design::Subject s = design::subject_of(job.design, i);
    if (s.id == o.weld) return std::string(published::drawing_of(s.kind));
  }
  files::weld_of(job.design, o.weld);  // says which are known
  return {};
}

bool as_png(const PlotOptions& o) { return std::filesystem::path(o.out).extension() == ".png"; }

void check(const PlotOptions& o) {
  if (!as_png(o) && std::filesystem::path(o.out).extension() != ".svg")
    throw usage_fault("usage.picture-name");
  const bool of_column = o.kind == "range-mean" || o.kind == "exceedance" || o.kind == "spectrum";
  if (of_column && o.column.empty())
    throw usage_fault("usage.needed", {text("key", "--column"), text("kind", o.kind)});
  if (o.kind != "joint") return;
  if (o.weld.empty()) throw usage_fault("usage.needed", {text("key", "--weld"), text("kind", o.kind)});
  if (as_png(o)) throw usage_fault("usage.sketch-name");
}

int plot(const PlotOptions& o, const Session& session) {
  check(o);
  if (o.kind == "joint") {
    files::write_text(o.out, joint(o));
    return 0;
  }
  std::vector<Message> notes;
  const Picture picture = picture_of(o, notes);
  for (const Message& note : notes) std::cerr << reports::visible(reports::sentence(note, session.language)) << "\n";
  files::write_text(o.out, as_png(o) ? reports::to_png(picture, session.language)
                                     : reports::to_svg(picture, session.language));
  return 0;
}

}  // namespace

void add_plot(CLI::App& app, Session& session) {
  auto o = std::make_shared<PlotOptions>();
  CLI::App* command = app.add_subcommand("plot", "Draw one picture, as SVG or PNG according to the file extension");
  command
      ->add_option("kind", o->kind,
                   "picture of a job: frame, drawing, life, deformed, mode, sn, shares, wheel-loads, tip, joint; of a table: "
                   "range-mean, exceedance, spectrum, tests")
      ->required()
      ->check(CLI::IsMember({"frame", "drawing", "life", "deformed", "mode", "sn", "shares", "wheel-loads", "tip",
                             "joint", "range-mean", "exceedance", "spectrum", "tests"}));
  command->add_option("source", o->source, "job folder, design file or table")->required();
  command->add_option("--out", o->out, "file to write: .svg or .png")->required();
  command->add_option("--duty", o->duty, "duty file in place of the job's");
  command->add_option("--weld", o->weld, "weld of sn, shares and joint; marked in views; drawn alone by drawing; otherwise the governing weld");
  command->add_option("--view", o->view, "view of the frame")
      ->check(CLI::IsMember({"side", "top", "front", "oblique"}))
      ->capture_default_str();
  command->add_option("--mode", o->mode, "number of the mode shape, lowest first")
      ->check(CLI::Range(std::size_t{1}, std::size_t{999}))
      ->capture_default_str();
  command->add_option("--width", o->width_mm, "width of a view of the frame, mm")
      ->check(CLI::Range(60.0, 1000.0))
      ->capture_default_str();
  command->add_option("--friction", o->friction, "friction coefficient of the tyres on the road, for tip")
      ->check(CLI::Range(0.05, 2.0))
      ->capture_default_str();
  command->add_option("--column", o->column, "column of the table");
  add_equations(*command, o->equations);
  command->callback([o, &session] {
    session.run = [o, &session] {
      o->language = session.language;
      return on_job(o->source, o->duty, [&] { return plot(*o, session); }); };
  });
}

}  // namespace seamwright::cli
