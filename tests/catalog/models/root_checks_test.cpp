// SPDX-License-Identifier: GPL-3.0-or-later
// Checks beside the roots of the demonstration, by the models that come with the program.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <memory>

#include "catalog/files/job_reader.h"
#include "catalog/models/joint_library.h"
#include "catalog/published/published_data.h"
#include "engine/rating/memory.h"
#include "engine/rating/rate.h"
#include "engine/sites/joint_readings.h"

namespace seamwright::models {

namespace {

rating::Job demonstration(const rules::RuleSet& set) {
  rating::Job job = files::read_job(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike", "", published::catalog());
  job.joint_models = std::make_shared<const solid::JointLibrary>(shipped_joints(sites::frame_joints(job.design)));
  rules::change_set(job.rules, set);
  return job;
}

double life_of(const std::vector<rating::SiteRating>& all, const std::string& kind) {
  double least = HUGE_VAL;
  for (const rating::SiteRating& s : all)
    if (s.kind == kind) least = std::min(least, s.life_km_unfactored);
  return least;
}

}  // namespace

TEST_CASE("open roots have their checks beside them, which change nothing") {
  for (const rules::RuleSet* set : {&rules::dnv, &rules::iiw}) {
    INFO(name_of(set));
    const rating::Job job = demonstration(*set);
    const rating::Rating r = rating::rate(job, published::catalog().data, rating::Method::spectral, {});
    rating::Memory memory;
    const rating::BriefRating without = rating::rate_briefly(job, published::catalog().data, rating::Method::spectral, memory);
    std::size_t slits = 0, evens = 0, legs = 0, apart = 0;
    for (std::size_t i = 0; i < r.welds.size(); ++i) {
      const rating::WeldRating& w = r.welds[i];
      INFO(w.id);
      REQUIRE(without.welds.at(i).id == w.id);
      CHECK(std::isinf(life_of(without.welds[i].checks, "slit-crack")));
      CHECK(without.welds[i].verdict == w.verdict);
      CHECK(without.welds[i].governing_site == w.governing_site);
      for (const char* kind : {"slit-crack", "root-leg", "root-even"}) CHECK(std::isinf(life_of(w.sites, kind)));
      const double slit = life_of(w.checks, "slit-crack"), leg = life_of(w.checks, "root-leg"), root = life_of(w.sites, "root");
      if (std::isinf(slit) || std::isinf(root)) continue;
      ++slits;
      CHECK(slit > 0);
      if (std::isfinite(life_of(w.checks, "root-even"))) ++evens;
      if (std::abs(std::log(slit / root)) > std::log(3.0)) ++apart;
      if (std::isinf(leg)) continue;
      ++legs;
      CHECK(leg > root);  // a milder class, on a longer section
    }
    CHECK(slits > 60);
    CHECK(evens + 1 >= slits);  // the seat tube's beam ends within its joint: it has no nominal force there
    CHECK((legs > 0) == (set == &rules::iiw));
    const auto note = std::find_if(r.notes.begin(), r.notes.end(), [](const Message& m) { return m.id == "rating.slits-apart"; });
    REQUIRE(note != r.notes.end());
    CHECK(std::get<double>(note->arguments.at(0).value) == static_cast<double>(apart));
  }
}

}  // namespace seamwright::models
