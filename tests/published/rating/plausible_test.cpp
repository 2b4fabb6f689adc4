// SPDX-License-Identifier: GPL-3.0-or-later
// Things that a frame builder knows of any frame, whatever its numbers: asked of the demonstration, by equations alone.
#include <cmath>

#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/rating/rate.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using seamwright::outside::Expected;

namespace {

rating::Job demo() {
  return files::read_job(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike", "", published::catalog());
}

rating::Rating quickly(const rating::Job& job) {
  return rating::rate(job, published::catalog().data, rating::Method::spectral, {});
}

rating::Job with_walls(double times) {
  rating::Job job = demo();
  for (frame::Tube& tube : job.design.frame.tubes)
    if (auto* round = std::get_if<frame::RoundTube>(&tube.section)) round->wall_mm = std::min(round->wall_mm * times, round->diameter_mm / 2);
  return job;
}

}  // namespace

TEST_CASE("thicker tubes never shorten the life of the frame") {
  SOURCE(recalled, "Common practice of frame builders, without a print", "none: an order");
  double last = 0;
  for (const double times : {0.7, 1.0, 1.4}) {
    INFO(times);
    const double life = quickly(with_walls(times)).predicted.life.median;
    CHECK(life > last);
    last = life;
  }
}

TEST_CASE("twice the stress divides every life by 2 to the slopes of its curve") {
  SOURCE(closed_form, "N = C / S^m with slopes from 3 below to 5 beyond the knee", "rounding of the arithmetic");
  rating::Job job = demo();
  const rating::Rating once = quickly(job);
  job.rules.load_bias = 2;
  const rating::Rating twice = quickly(job);
  std::size_t checked = 0;
  for (const rating::WeldRating& w : once.welds)
    for (const rating::WeldRating& other : twice.welds) {
      if (w.id != other.id || std::isnan(w.predicted.life.median)) continue;
      INFO(w.id);
      const double ratio = w.predicted.life.median / other.predicted.life.median;
      CHECK(ratio > 8 * (1 - 1e-9));
      CHECK(ratio < 32 * (1 + 1e-9));
      ++checked;
    }
  CHECK(checked > 60);
}

TEST_CASE("a smoother road, a shorter service and a lighter load crack no more frames") {
  SOURCE(recalled, "Common practice, without a print", "none: an order");
  const double before = quickly(demo()).predicted.cracked.mean;
  rating::Job smooth = demo(), brief = demo(), light = demo();
  for (loads::Road& road : smooth.duty.roads) road.gd_n0_m3 /= 64;  // a class is four times the next
  brief.duty.years /= 10;
  for (loads::Trip& trip : light.duty.trips)
    for (loads::Leg& leg : trip.legs) leg.pose.payload_kg /= 2;
  for (const rating::Job* job : {&smooth, &brief, &light}) CHECK(quickly(*job).predicted.cracked.mean <= before);
  CHECK(quickly(smooth).predicted.life.median > quickly(demo()).predicted.life.median);
}
