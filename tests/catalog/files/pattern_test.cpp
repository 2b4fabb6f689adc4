// SPDX-License-Identifier: GPL-3.0-or-later
// The ranges of a new job's questions: at their corners and at random points of them the frame can be built, nothing lies in anything
// else at any steering angle, and it stands by itself.
#include <catch2/catch.hpp>
#include <cmath>
#include <optional>
#include <random>

#include "catalog/files/begin.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/frame/assembly.h"
#include "engine/loads/posed_trike.h"
#include "engine/rating/job.h"
#include "engine/shape/checks.h"
#include "engine/shape/clash.h"
#include "tests/catalog/files/folder.h"

using namespace seamwright;

namespace {

std::string told(const Fault& fault) {
  std::string all = fault.what();
  for (const Argument& a : fault.message.arguments)
    all += "; " + a.name + " " + (a.value.index() == 0 ? std::to_string(std::get<double>(a.value)) : std::get<std::string>(a.value));
  return all;
}

loads::Rider rider_of(double mass_kg) {
  loads::Rider rider;
  rider.mass_kg = mass_kg;
  rider.saddle_share = 0.65;
  rider.pedal_share = 0.25;
  rider.bar_share = 0.10;
  rider.vertical_frequency_hz = 5;
  rider.vertical_damping = 0.475;
  rider.height_above_saddle_mm = 250;
  return rider;
}

// A link stands for what holds the steering, and follows it.
bool is_link(const frame::Frame& frame, const std::string& id) {
  for (const frame::Member& m : frame.members)
    if (m.id == id) return m.axial_only;
  return false;
}

// Names what is wrong with the frame of these answers; "" for nothing.
std::string wrong_with(const std::map<files::Ask, double>& given) {
  try {
    const design::Design d =
        files::read_design_text("design.toml", files::new_design_text({"tried", given, {}}), published::catalog());
    for (const shape::WeldFinding& finding : shape::weld_findings(d))
      if (!finding.preparation) return told(Fault{finding.message});
    const frame::Frame cut = design::frame_with_cuts(d);
    for (const double steering_deg : {0.0, -20.0, 20.0, -40.0, 40.0}) {
      const frame::Frame turned = loads::frame_in({0, 0, 0, steering_deg}, cut, d.carriers, rider_of(80), d.steering);
      for (const shape::Clash& c : shape::clashes(turned, d.welds))
        if (!is_link(turned, c.first) && !is_link(turned, c.second))
          return "turned by " + std::to_string(steering_deg) + ": " + c.first + " in " + c.second + " by " + std::to_string(c.overlap_mm);
      // Parked with its load, ridden empty.
      for (const auto& [payload_kg, rider_kg] : {std::pair(200.0, 0.001), std::pair(0.0, 80.0)}) {
        const loads::PosedTrike trike({payload_kg, 0, 0, steering_deg}, cut, d.carriers, rider_of(rider_kg), d.steering);
        if (trike.wheel_loads(trike.standing_displacement()).minCoeff() <= 0) return "a wheel carries nothing";
      }
    }
  } catch (const Fault& fault) {
    return told(fault);
  }
  return {};
}

std::string listed(const std::map<files::Ask, double>& given) {
  std::string all;
  for (const auto& [ask, value] : given)
    all += std::string(files::questions()[static_cast<std::size_t>(ask)].option) + " " + std::to_string(value) + ", ";
  return all;
}

// Goes through the questions in their order; `share` says where in each range its answer lies, 0 to 1.
template <typename Share>
std::map<files::Ask, double> answers_at(Share share) {
  std::map<files::Ask, double> given;
  for (const files::Question& q : files::questions().first(files::frame_ask_count)) {
    const files::AskRange range = q.range(files::answered(given));
    given[q.ask] = range.least + share(q.ask) * (range.most - range.least);
  }
  return given;
}

}  // namespace

TEST_CASE("every answer within its range gives a sound frame, one at either end with the rest as usual") {
  CHECK(wrong_with({}) == "");
#ifndef __SANITIZE_ADDRESS__  // ten times slower
  for (const files::Question& q : files::questions().first(files::frame_ask_count)) {
    const files::AskRange range = q.range(files::answered({}));
    CHECK(range.least < range.most);
    for (const double value : {range.least, range.most}) {
      INFO(q.option << " " << value);
      CHECK(wrong_with({{q.ask, value}}) == "");
    }
  }
#endif
}

TEST_CASE("at corners and at random points of all ranges a new frame is sound") {
#ifdef __SANITIZE_ADDRESS__
  constexpr int tries = 2;
#else
  constexpr int tries = 25;
#endif
  std::mt19937 random(20261130);
  std::uniform_real_distribution<double> anywhere(0, 1);
  for (int i = 0; i < tries; ++i) {
    const auto corner = answers_at([&](files::Ask) { return anywhere(random) < 0.5 ? 0.0 : 1.0; });
    INFO(listed(corner));
    CHECK(wrong_with(corner) == "");
  }
  for (int i = 0; i < tries; ++i) {
    const auto point = answers_at([&](files::Ask) { return anywhere(random); });
    INFO(listed(point));
    CHECK(wrong_with(point) == "");
  }
}

TEST_CASE("at every corner of the questions on riding the duty reads, and its trip is as long as was answered") {
  const auto riding = files::questions().subspan(files::frame_ask_count);
  for (unsigned corner = 0; corner < 1u << riding.size(); ++corner) {
    files::NewJob job;
    job.name = "corner";
    for (std::size_t i = 0; i < riding.size(); ++i) {
      const files::AskRange range = riding[i].range(files::answered(job.given));
      job.given[riding[i].ask] = corner >> i & 1u ? range.most : range.least;
    }
    INFO(listed(job.given));
    const rating::Job read =
        files::read_job_texts("design.toml", files::new_design_text(job), "duty.toml", files::new_duty_text(job), published::catalog());
    double way = 0;
    for (const loads::Leg& leg : read.duty.trips.at(0).legs) way += leg.distance_km;
    CHECK(way == Approx(2 * job.given.at(files::Ask::distance)));
  }
}

TEST_CASE("an answer outside its range is refused with the range, which depends on the answers before it") {
  const auto range_told = [](const std::map<files::Ask, double>& given) -> std::optional<files::AskRange> {
    try {
      files::answered(given);
    } catch (const Fault& fault) {
      CHECK(fault.message.id == "new.outside");
      files::AskRange range;
      for (const Argument& a : fault.message.arguments) {
        if (a.name == "least") range.least = std::get<double>(a.value);
        if (a.name == "most") range.most = std::get<double>(a.value);
      }
      return range;
    }
    return std::nullopt;
  };
  using files::Ask;
  const auto alone = range_told({{Ask::wheelbase, 2000}});
  REQUIRE(alone);
  CHECK_FALSE(range_told({{Ask::wheelbase, alone->most}}));
  CHECK(range_told({{Ask::wheelbase, alone->most + 1}}));
  CHECK(range_told({{Ask::wheelbase, alone->least - 1}}));
  const auto behind = range_told({{Ask::bottom_bracket, 440}, {Ask::wheelbase, 2000}});
  REQUIRE(behind);
  CHECK(behind->most == alone->most - 40);
  CHECK(range_told({{Ask::years, std::nan("")}}));
}

namespace {

// The fault of beginning this job in a folder that is not there yet; what was begun is read and rated once more.
std::optional<Fault> fault_of_beginning(const std::filesystem::path& to, const files::NewJob& job) {
  std::optional<Fault> fault;
  try {
    files::begin_job(to.string(), job, published::catalog());
  } catch (const Fault& f) {
    fault = f;
  }
  CHECK(std::filesystem::exists(to) == !fault.has_value());
  if (!fault) CHECK_FALSE(files::read_job(to.string(), "", published::catalog()).design.welds.empty());
  return fault;
}

double number_in(const Fault& fault, const std::string& name) {
  for (const Argument& a : fault.message.arguments)
    if (a.name == name) return std::get<double>(a.value);
  return std::nan("");
}

}  // namespace

TEST_CASE("a new job refuses a tube that does not fit, and says which would") {
  const Folder folder;
  int tried = 0;
  const auto begun = [&](const std::string& tube) {
    return fault_of_beginning(folder.path / std::to_string(++tried), {"tried", {}, {files::named_tube_of(tube)}});
  };
  CHECK_FALSE(begun("rail=50x3"));
#ifndef __SANITIZE_ADDRESS__
  const std::optional<Fault> narrow = begun("rail=30x3");  // braces as wide as 42 mm stand on it
  REQUIRE(narrow);
  REQUIRE(narrow->message.id == "new.unsound-diameter");
  const double least = number_in(*narrow, "least");
  CHECK(least >= 42);
  CHECK(least < 45);
  const auto rail = [](double diameter) { return "rail=" + std::to_string(diameter) + "x3"; };
  CHECK_FALSE(begun(rail(least)));
  CHECK(begun(rail(least - 0.5)));
  const std::optional<Fault> thin = begun("rail=45x1");
  REQUIRE(thin);
  CHECK(thin->message.id == "new.unsound-wall");
#endif
  for (const char* wrong : {"rail", "rail=45", "rail=45x30", "rail=x", "=45x3", "rail=45x-3"})
    CHECK_THROWS_AS(files::named_tube_of(wrong), Fault);
  CHECK_THROWS_AS(files::named_tube_of("rial=45x3"), Fault);
  CHECK_THROWS_AS(files::new_design_text({"tried", {}, {{"rail", {45, 3}}, {"rail", {50, 3}}}}), Fault);
}

TEST_CASE("a new job claims nothing that its shop has not shown") {
  constexpr qualification::Date today = std::chrono::year{2026} / 11 / 30;
  const Folder folder;
  const std::filesystem::path to = folder.path / "mine";
  files::NewJob job{"mine", {{files::Ask::payload, 60}, {files::Ask::distance, 4}, {files::Ask::bad_road, 25}}, {}};
  REQUIRE_FALSE(fault_of_beginning(to, job));
  const rating::Job read = files::read_job(to.string(), "", published::catalog());
  for (const joints::Weld& weld : read.design.welds) CHECK(weld.root_proof.empty());
  for (const frame::Material& material : read.design.frame.materials) CHECK(material.yield_mpa == 0);
  CHECK(read.design.inside == design::Inside::vented);
  CHECK(read.rules.consequence == rules::Consequence::people);
  CHECK(read.rules.strategy == rules::Strategy::safe_life);
  CHECK(read.rules.look_every_km == 0);
  double out_km = 0, back_km = 0;
  for (const loads::Leg& leg : read.duty.trips.at(0).legs) (leg.pose.payload_kg > 0 ? out_km : back_km) += leg.distance_km;
  CHECK(out_km == 4);
  CHECK(back_km == 4);
  CHECK(read.duty.trips.at(0).legs.at(0).distance_km == 1);
  CHECK(read.duty.trips.at(0).legs.at(0).pose.payload_kg == 60);
  // The procedures are preliminary: nothing that they say is ever within a range.
  for (const char* name : {"tig-thin.toml", "tig-thick.toml"}) {
    files::ProcedureQuestion q;
    q.file = (to / "procedures" / name).string();
    q.on = q.today = today;
    CHECK(files::answer_of(files::procedure_report(q)) == qualification::Answer::cannot_decide);
  }
  CHECK(files::read_certificates((to / "certificates.toml").string(), today).all.empty());
}
