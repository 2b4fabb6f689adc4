// SPDX-License-Identifier: GPL-3.0-or-later
// Frames of many members, studies of many variants, a long column: seconds, memory and how they grow, over their aims.
// Prints figures; judges nothing.
#include <filesystem>
#include <fstream>
#include <random>

#include "catalog/files/column.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/patch.h"
#include "catalog/published/published_data.h"
#include "engine/cycles/rainflow.h"
#include "engine/machine/parallel.h"
#include "engine/rating/memory.h"
#include "engine/rating/rate.h"
#include "engine/study/influence.h"
#include "engine/study/suggest.h"
#include "tests/timing/apart.h"
#include "tests/timing/line.h"

namespace {

using namespace seamwright;
using timing::Cost;

const std::string demo = SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike";

rating::Job demonstration() { return files::read_job(demo, "", published::catalog()); }

// Two masts on the rear posts with rungs between them, as light as air so that the trike stands; each end of a rung is a weld.
rating::Job with_rungs(rating::Job job, int count) {
  frame::Frame& f = job.design.frame;
  frame::Material airy = f.materials[0];
  airy.id = "airy";
  airy.density_kg_m3 = 1;
  f.materials.push_back(airy);
  f.tubes.push_back({"rung", frame::RoundTube{30, 2}, "airy"});
  f.tubes.push_back({"mast", frame::RoundTube{50, 2}, "airy"});
  joints::Weld like;
  for (const joints::Weld& w : job.design.welds)
    if (w.id == "W04") like = w;
  for (const std::string side : {".L", ".R"}) {
    frame::Member mast;
    mast.id = "mast" + side;
    mast.tube = "mast";
    mast.nodes = {"T" + side};
    frame::Vec3 foot{0, 0, 0};
    for (const frame::Node& n : f.nodes)
      if (n.id == mast.nodes[0]) foot = n.position_mm;
    for (int i = 1; i <= count; ++i) {
      mast.nodes.push_back(fmt::format("M{}{}", i, side));
      f.nodes.push_back({mast.nodes.back(), foot + frame::Vec3(0, 0, 5.0 * i)});
    }
    f.members.push_back(mast);
  }
  for (int i = 1; i <= count; ++i) {
    frame::Member rung;
    rung.id = fmt::format("rung{}", i);
    rung.tube = "rung";
    rung.nodes = {fmt::format("M{}.L", i), fmt::format("M{}.R", i)};
    f.members.push_back(rung);
    for (const bool start : {true, false}) {
      joints::Weld w = like;
      w.id = w.joint = rung.id + (start ? ".L" : ".R");
      w.node = rung.nodes[start ? 0 : 1];
      w.member = rung.id;
      w.chord = start ? "mast.L" : "mast.R";
      w.at_start = start;
      job.design.welds.push_back(w);
    }
  }
  return job;
}

void report_members(const rating::Job& job) {
  const auto cost_of = [&](int rungs) {
    const rating::Job more = with_rungs(job, rungs);
    return timing::apart([&] { rating::rate(more, published::catalog().data, rating::Method::spectral, {}); });
  };
  const Cost few = cost_of(200), many = cost_of(411);
  timing::aim("411 members more, spectral", many.seconds, "s", 3);
  timing::aim("411 members more, memory", many.peak_mb, "MB", 300);
  timing::aim("exponent against members", std::log(many.processor_s / few.processor_s) / std::log(411.0 / 200), "", 1.1);
}

void report_studies(const rating::Job& job) {
  const published::Catalog& catalog = published::catalog();
  const Cost once = timing::apart([&] { rating::rate(demonstration(), catalog.data, rating::Method::spectral, {}); });
  timing::aim("spectral, read and rated", once.seconds, "s", 0.15);
  const Cost influence = timing::apart([&] { study::influences(job, catalog.data, {}); });
  timing::aim("influence of the demonstration", influence.seconds, "s", 3);
  timing::beside("influence, memory", influence.peak_mb, "MB", influence.processor_s / once.processor_s, "ratings' processor time");
  std::vector<frame::RoundTube> stock;
  for (const published::TubeSize& t : catalog.tubes) stock.push_back({t.diameter_mm, t.wall_mm});
  const Cost suggest = timing::apart([&] { study::suggestions(job, catalog.data, stock, "W38.L", rating::Method::spectral, {}); });
  timing::aim("suggestions for its governing weld", suggest.seconds, "s", 3);
  constexpr int variants = 60;
  const Cost swept = timing::apart([&] {
    rating::Memory memory;
    machine::over_tasks(variants, 0, [&](std::size_t i) {
      files::Changes changes;
      changes.design.emplace_back("parameters.wheelbase", 1200.0 + static_cast<double>(i));
      rating::rate_briefly(files::read_job(demo, "", catalog, changes), catalog.data, rating::Method::spectral, memory);
    });
  });
  timing::aim("1,000 variants on these processors, from 60", swept.seconds * 1000 / variants, "s", 60);
}

void report_column() {
  const auto path = std::filesystem::temp_directory_path() / fmt::format("seamwright-column-{}.csv", ::getpid());
  {
    std::ofstream out(path);
    std::mt19937_64 engine(1);
    std::normal_distribution<double> normal;
    out << "a\n";
    for (int i = 0; i < 10'000'000; ++i) out << fmt::format("{:.5g}\n", normal(engine));
  }
  double ranges = 0;
  const Cost counted = timing::apart([&] {
    cycles::Rainflow flow(0);
    const auto sink = [&](const cycles::Cycle& c) { ranges += c.range(); };
    files::read_column(path.string(), "a", [&](std::span<const double> block) { flow.push(block, sink); });
    flow.finish(cycles::Residue::half, sink);
  });
  std::filesystem::remove(path);
  timing::aim("ten million rows counted, memory", counted.peak_mb, "MB", 50);
  timing::beside("ten million rows counted", counted.seconds, "s", counted.seconds * 100, "ns a row");
}

}  // namespace

int main() {
  machine::keep_freed_memory();
  const rating::Job job = demonstration();
  report_members(job);
  report_studies(job);
  report_column();
}
