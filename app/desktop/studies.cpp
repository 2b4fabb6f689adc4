// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/studies.h"

#include "app/desktop/window_words.h"
#include "catalog/files/compared_jobs.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/planned_tests.h"
#include "catalog/files/recorded_ride.h"
#include "catalog/files/returns_reader.h"
#include "catalog/files/small_table.h"
#include "catalog/files/source.h"
#include "catalog/sweeps/sweep_table.h"
#include "catalog/published/published_data.h"
#include "engine/rating/memory.h"
#include "engine/study/duty_stability.h"
#include "engine/study/frame_deck.h"
#include "engine/study/recalibration.h"
#include "reports/content/measured_blocks.h"
#include "reports/content/plot_pictures.h"
#include "reports/content/ride_blocks.h"
#include "reports/content/stability_blocks.h"
#include "reports/content/study_blocks.h"
#include "reports/content/test_plan_blocks.h"

namespace seamwright::desktop {

namespace {

using Kind = StudyField::Kind;

StudyAnswer second_design(const StudyInput& in, const rating::Progress& progress) {
  const std::string path = files::design_path(in.text_of("design"));
  const auto second = std::make_shared<SecondDesign>();
  // The second is rated under the duty of the first, so that only the designs differ.
  rating::Job job = *in.job;
  job.design = files::read_design(path, published::catalog());
  files::ComparedJobs c =
      files::compare_jobs({*in.job, in.design_path, in.design_text}, {job, path, files::read_text(path)},
                          rating::Method::spectral, progress);
  reports::Document document = reports::compare_document(c);
  second->name = c.second;
  second->rating = std::move(c.rated.second);
  second->design = std::move(job.design);
  return {std::move(document), second};
}

StudyAnswer influence(const StudyInput& in, const rating::Progress& progress) {
  return {reports::influence_document(study::influences(*in.job, published::catalog().data, progress)), {}};
}

StudyAnswer suggest(const StudyInput& in, const rating::Progress& progress) {
  const published::Catalog& catalog = published::catalog();
  std::vector<frame::RoundTube> stock;
  for (const published::TubeSize& t : catalog.tubes) stock.push_back({t.diameter_mm, t.wall_mm});
  const std::string weld = in.text_of("weld");
  return {reports::suggest_document(weld, study::suggestions(*in.job, catalog.data, stock, weld,
                                                             rating::Method::spectral, progress)),
          {}};
}

StudyAnswer test_plan(const StudyInput& in, const rating::Progress& progress) {
  rating::Memory memory;
  const rating::Rating rating = rating::rate(*in.job, published::catalog().data, rating::Method::spectral, progress, {}, {nullptr, &memory});
  study::TestWishes wishes;
  if (const std::string weld = in.text_of("weld"); !weld.empty()) wishes.welds = {weld};
  return {reports::test_plan_document({rating.design.name + " " + rating.design.revision, in.folder, rating.service_km,
                                       files::planned_tests(*in.job, rating, in.design_path, wishes, memory)}),
          {}};
}

constexpr std::size_t shown_lines = 101;  // of a table of variants: its head and a hundred rows

StudyAnswer sweep(const StudyInput& in, const rating::Progress& progress) {
  const sweeps::Sweep sweep = sweeps::read_sweep(in.text_of("sweep"));
  const std::size_t count = sweeps::variants_of(sweep);
  if (count > study::ask_above)
    throw Fault{Message{
        "sweep.ask",
        {number("count", static_cast<double>(count), ""), sentence_argument("remedy", "remedy.share-out")}}};
  sweeps::SweepRun run;
  run.job = in.folder;
  run.csv = in.text_of("csv");
  run.joint_models = in.job->joint_models;
  run.sentence_of = [](const Message& m) { return sentence_of(m).toStdString(); };
  const std::size_t rows = sweeps::run_sweep(sweep, run, progress);
  return {reports::sweep_document(run.csv, rows, sweeps::sweep_cells(run.csv, shown_lines)), {}};
}

StudyAnswer stability(const StudyInput& in, const rating::Progress&) {
  const loads::Stability s = study::stability_of(*in.job, static_cast<std::size_t>(in.number("angles")));
  reports::Document d = reports::stability_document(in.job->design, s, in.number("friction"));
  const auto behind_answer = d.blocks.begin() + 1;
  d.blocks.insert(behind_answer,
                  reports::PictureBlock{reports::tip_plot(s, in.number("friction")), {"desk.tip-plot", {}}});
  return {d, {}};
}

StudyAnswer ride(const StudyInput& in, const rating::Progress&) {
  files::RideQuestion q;
  q.file = in.text_of("recording");
  q.channel = in.text_of("channel");
  if (!q.channel.empty() && !in.text_of("node").empty()) {
    q.road.emplace();
    q.road->node = in.text_of("node");
    q.road->speed_kmh = in.number("speed");
    q.road->payload_kg = in.number("payload");
  }
  if (!q.channel.empty() && !in.text_of("curve").empty())
    q.damage = {in.text_of("curve"), in.number("thickness"), in.number("km")};
  return {reports::ride_document(files::work_through(q, in.job.get())), {}};
}

StudyAnswer gauges(const StudyInput& in, const rating::Progress&) {
  const measured::GaugePlan plan =
      measured::gauge_plan(*in.job, static_cast<std::size_t>(in.number("count")));
  std::optional<measured::GaugeResult> result;
  if (!in.text_of("readings").empty())
    result = measured::judge_readings(plan, files::read_readings(in.text_of("readings"), plan));
  return {reports::gauges_document(*in.job, plan, result), {}};
}

StudyAnswer returns(const StudyInput& in, const rating::Progress& progress) {
  const files::ReturnsFile file = files::read_returns(in.text_of("returns"), in.job->design);
  return {
      reports::calibration_document(
          study::recalibrate(*in.job, published::catalog().data, file.returns, file.prior, progress), file),
      {}};
}

StudyAnswer deck(const StudyInput& in, const rating::Progress&) {
  const bool at_rest = in.text_of("what") == sentence_of("desk.deck-at-rest").toStdString();
  files::write_text(in.text_of("deck"), study::frame_deck(in.job->design, at_rest ? &in.job->duty : nullptr,
                                                          static_cast<int>(in.number("divisions"))));
  reports::Document d;
  d.title = {"desk.deck", {}};
  d.blocks.push_back(reports::Paragraph{{"deck.done", {text("file", in.text_of("deck"))}}});
  return {d, {}};
}

QStringList nodes_of(const rating::Job& job) {
  QStringList all{QString()};
  for (const frame::Node& n : job.design.frame.nodes) all << QString::fromStdString(n.id);
  return all;
}
QStringList welds_of(const rating::Job& job) {
  QStringList all;
  for (const joints::Weld& w : job.design.welds) all << QString::fromStdString(w.id);
  return all;
}
QStringList welds_or_none(const rating::Job& job) { return QStringList{QString()} + welds_of(job); }
QStringList curves_of(const rating::Job&) {
  QStringList all{QString()};
  for (const auto& c : published::catalog().data.curves) all << QString::fromStdString(c.id);
  return all;
}
QStringList deck_kinds(const rating::Job&) {
  return {sentence_of("desk.deck-at-rest"), sentence_of("desk.deck-cases")};
}

StudyField file_field(Kind kind, const char* id, MessageId label, MessageId help, bool needed = true) {
  StudyField f{kind, id, label, help};
  f.needed = needed;
  return f;
}
StudyField choice_field(const char* id, MessageId label, MessageId help,
                        QStringList (*choices)(const rating::Job&)) {
  StudyField f{Kind::choice, id, label, help};
  f.choices = choices;
  return f;
}

}  // namespace

const std::vector<Study>& studies() {
  static const std::vector<Study> all{
      {"second",
       "desk.second",
       "desk.second-why",
       {file_field(Kind::file, "design", "desk.second-file", "desk.second-file-help")},
       second_design},
      {"influence", "desk.influence", "desk.influence-why", {}, influence},
      {"suggest",
       "desk.suggest",
       "desk.suggest-why",
       {choice_field("weld", "desk.weld", "desk.weld-help", welds_of)},
       suggest},
      {"testplan", "desk.testplan", "desk.testplan-why",
       {choice_field("weld", "desk.weld", "desk.testplan-weld-help", welds_or_none)}, test_plan},
      {"sweep",
       "desk.sweep",
       "desk.sweep-why",
       {file_field(Kind::file, "sweep", "desk.sweep-file", "desk.sweep-file-help"),
        file_field(Kind::new_file, "csv", "desk.sweep-csv", "desk.sweep-csv-help")},
       sweep},
      {"stability",
       "desk.stability",
       "desk.stability-why",
       {{Kind::number, "angles", "desk.angles", "desk.angles-help", "", 5, 181, 15},
        {Kind::number, "friction", "desk.friction", "desk.friction-help", "", 0.05, 2, 0.7}},
       stability},
      {"ride",
       "desk.ride",
       "desk.ride-why",
       {file_field(Kind::file, "recording", "desk.recording", "desk.recording-help"),
        file_field(Kind::text, "channel", "desk.channel", "desk.channel-help", false),
        choice_field("node", "desk.node", "desk.node-help", nodes_of),
        {Kind::number, "speed", "desk.speed", "desk.speed-help", "km/h", 1, 100, 15},
        {Kind::number, "payload", "desk.payload", "desk.payload-help", "kg", 0, 1000, 0},
        choice_field("curve", "desk.curve", "desk.curve-help", curves_of),
        {Kind::number, "thickness", "desk.thickness", "desk.thickness-help", "mm", 0, 100, 0},
        {Kind::number, "km", "desk.km", "desk.km-help", "km", 0, 1e6, 0}},
       ride},
      {"gauges",
       "desk.gauges",
       "desk.gauges-why",
       {{Kind::number, "count", "desk.count", "desk.count-help", "", 1, 12, 6},
        file_field(Kind::file, "readings", "desk.readings", "desk.readings-help", false)},
       gauges},
      {"returns",
       "desk.returns",
       "desk.returns-why",
       {file_field(Kind::file, "returns", "desk.returns-file", "desk.returns-file-help")},
       returns},
      {"deck",
       "desk.deck",
       "desk.deck-why",
       {file_field(Kind::new_file, "deck", "desk.deck-file", "desk.deck-file-help"),
        choice_field("what", "desk.deck-what", "desk.deck-what-help", deck_kinds),
        {Kind::number, "divisions", "desk.divisions", "desk.divisions-help", "", 1, 200, 8}},
       deck},
  };
  return all;
}

}  // namespace seamwright::desktop
