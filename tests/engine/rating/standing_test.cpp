// SPDX-License-Identifier: GPL-3.0-or-later
// A foot that no published factor takes is a place that is not covered, and never helps its weld.
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::rating;

namespace {

const Message* note_in(const Evidence& e, MessageId id) {
  for (const Message& m : e.notes)
    if (m.id == id) return &m;
  for (const Evidence& b : e.because)
    if (const Message* m = note_in(b, id)) return m;
  return nullptr;
}

const Message* told_at(const WeldRating& w, MessageId id) {
  for (const SiteRating& s : w.sites)
    if (s.coverage == Coverage::none)
      if (const Message* m = note_in(s.evidence, id)) return m;
  return nullptr;
}

// The stays' bend drawn in to the straight line from the seat tube to the axle.
Job with_stays_together() {
  Job job = straight(one_leg());
  for (frame::Node& n : job.design.frame.nodes) {
    if (n.id.starts_with("SSb.")) n.position_mm.y() = std::copysign(13, n.position_mm.y());
    if (n.id.starts_with("SSm.")) n.position_mm.y() = std::copysign(19.5, n.position_mm.y());
  }
  return job;
}

}  // namespace

TEST_CASE("stays in each other at the seat tube: no weld goes around either") {
  const Rating apart = rated(straight(one_leg()), Method::spectral),
               together = rated(with_stays_together(), Method::spectral);
  for (const char* id : {"W38.L", "W38.R"}) {
    CHECK(told_at(weld(apart, id), "shape.foot-in-brace") == nullptr);
    CHECK(told_at(weld(together, id), "shape.foot-in-brace") != nullptr);
    CHECK(weld(together, id).verdict != Verdict::meets);
  }
}

TEST_CASE("a brace wider than its chord says by how much") {
  Job job = straight(one_leg());
  for (frame::Tube& t : job.design.frame.tubes)
    if (t.id == "cross") std::get<frame::RoundTube>(t.section).diameter_mm = 60;  // on rails of 40
  const Rating r = rated(job, Method::spectral);
  for (const char* id : {"W02", "W03"}) {
    const Message* told = told_at(weld(r, id), "shape.foot-wider");
    REQUIRE(told != nullptr);
    for (const Argument& a : told->arguments)
      if (a.name == "beyond") CHECK(std::get<double>(a.value) == Approx(10));
    CHECK(weld(r, id).verdict != Verdict::meets);
  }
}
