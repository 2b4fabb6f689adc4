// SPDX-License-Identifier: GPL-3.0-or-later
// The search for a better frame against every frame of a small stock, on any number of threads, and with a stock that shrinks.
#include "engine/study/improve.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "catalog/published/published_data.h"
#include "engine/design/sides.h"
#include "engine/design/weld_geometry.h"
#include "engine/study/improve_problem.h"
#include "engine/study/variant.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::study;

namespace {

const rules::Published& improve_data() { return published::catalog().data; }
rating::Job improve_job() { return rating::straight(rating::one_leg()); }

// Three tubes with three sizes each; all others stay.
ImproveOrder small_order(const rating::Job& job) {
  ImproveOrder order;
  for (const auto& [d, w] : {std::pair{40.0, 2.0}, {40.0, 3.0}, {45.0, 2.5}, {60.0, 3.0}, {60.0, 4.0}, {50.0, 3.0}, {25.0, 1.5}, {25.0, 2.0}, {28.0, 2.0}})
    order.stock.tubes.push_back({"25CrMo4+N", {d, w}, 5 + d * w / 10});
  order.stock.weld_per_mm = 0.05;
  order.stock.set_up = 20;
  for (const frame::Tube& t : job.design.frame.tubes)
    if (t.id != "rail" && t.id != "spine" && t.id != "chain-stay") order.choose.keep.insert(t.id);
  order.search.most_trials = 2000;
  order.answers = 1;
  return order;
}

// The stock within reach of three tubes, by near sizes; the search may ask for all others too.
SearchResult exhausted(const rating::Job& job, const ImproveOrder& order, Trials& known) {
  const ImproveProblem problem(job, improve_data(), order);
  return search_exhaustively(problem.search(), order.search, known, {});
}

std::string improve_refusal(const rating::Job& job, const ImproveOrder& order) {
  Trials known;
  try {
    improve(job, improve_data(), order, known, {});
  } catch (const Fault& fault) {
    return fault.what();
  }
  return "";
}

}  // namespace

TEST_CASE("the search finds what trying every frame finds, on one thread or two, and tells it as a rating of its own does") {
  const rating::Job job = improve_job();
  ImproveOrder order = small_order(job);
  Trials all;
  const SearchResult best = exhausted(job, order, all);
  REQUIRE(best.trials > 50);
  INFO(best.trials << " frames, cost " << best.cost << ", shortfall " << shortfall_of(best.trial));
  std::vector<Improvement> found;
  for (const std::size_t threads : {1, 2}) {
    order.search.threads = threads;
    Trials known;
    found.push_back(improve(job, improve_data(), order, known, {}));
    REQUIRE_FALSE(found.back().answers.empty());
    CHECK(found.back().answers[0].point == best.best);
    CHECK(known.size() < all.size());
  }
  CHECK(found[0].trials == found[1].trials);
  CHECK(found[0].answers[0].figures.cracked_of_1000 == found[1].answers[0].figures.cracked_of_1000);
  const ImprovedFrame& answer = found[0].answers[0];
  rating::Job changed = job;
  changed.design = answer.design;
  const rating::Rating rated = rating::rated(changed, rating::Method::spectral);
  CHECK(answer.figures.cracked_of_1000 == Approx(1000 * rated.likelihood.frame.probability).epsilon(1e-9));
  CHECK(answer.figures.mass_kg == frame_mass_kg(changed.design.frame));
  CHECK(answer.figures.weld == rated.welds[0].id);
}

TEST_CASE("a smaller stock never gives a better frame", "[night]") {
  const rating::Job job = improve_job();
  const ImproveOrder order = small_order(job);
  Trials known;
  const SearchResult whole = exhausted(job, order, known);
  for (std::size_t i = 0; i < order.stock.tubes.size(); i += 2) {
    ImproveOrder less = order;
    less.stock.tubes.erase(less.stock.tubes.begin() + static_cast<std::ptrdiff_t>(i));
    Trials own;
    const SearchResult r = exhausted(job, less, own);
    INFO("without tube " << i);
    CHECK(shortfall_of(r.trial) >= shortfall_of(whole.trial));
    if (shortfall_of(r.trial) == shortfall_of(whole.trial)) CHECK(r.cost >= whole.cost);
  }
}

TEST_CASE("what the search asks a million times is what the design itself says") {
  const rating::Job job = improve_job();
  ImproveOrder order = small_order(job);
  order.choose.throats = true;
  const Choices choices = choices_of(job.design, order.stock, order.choose);
  const SeamLengths seams(job.design);
  const QuickFrame quick(job.design, choices, order.stock, seams);
  for (std::uint32_t k = 0; k < 5; ++k) {
    Point p;
    for (const Choice& c : choices.choices) p.push_back((k * 7 + static_cast<std::uint32_t>(p.size())) % static_cast<std::uint32_t>(c.count()));
    design::Design d = job.design;
    apply_choices(choices, p, d);
    CHECK(quick.tubes_kg(p) == Approx(frame_mass_kg(d.frame)).epsilon(1e-12));
    CHECK(quick.welds_kg(p) == Approx(seams.metal_kg(d)).epsilon(1e-12));
    CHECK(quick.price(p) == Approx(price_of(d, order.stock, seams)).epsilon(1e-12));
    CHECK(quick.sizes(p) == sizes_in(d));
  }
}

TEST_CASE("left and right stay equal, tubes that fit something else stay, and no throat passes twice a wall") {
  const rating::Job job = improve_job();
  ImproveOrder order = small_order(job);
  order.choose.keep.clear();
  order.choose.throats = true;
  const Choices choices = choices_of(job.design, order.stock, order.choose);
  const auto kept = [&](const std::string& tube) {
    const auto at = std::find_if(choices.kept.begin(), choices.kept.end(), [&](const KeptTube& k) { return k.tube == tube; });
    return at == choices.kept.end() ? std::string() : std::string(at->why.text());
  };
  CHECK(kept("pin") == "improve.kept-hinge");
  CHECK(kept("seat") == "improve.kept-end");
  CHECK(kept("seat-post") == "improve.kept-end");
  CHECK(kept("shell") == "improve.kept-hinge");
  CHECK(kept("rail").empty());
  Point p = choices.start();
  for (std::size_t i = 0; i < p.size(); ++i)
    if (choices.choices[i].throat) p[i] = static_cast<std::uint32_t>(choices.choices[i].count() - 1);
  design::Design d = job.design;
  apply_choices(choices, p, d);
  for (const joints::Weld& w : d.welds) {
    CHECK(w.throat_mm <= 2 * design::thinnest_wall_mm(d.frame, w) + 1e-9);
    for (const joints::Weld& other : d.welds)
      if (other.id == design::other_side(w.id)) CHECK(other.throat_mm == w.throat_mm);
  }
}

TEST_CASE("absurd orders are refused with what is wrong, and what is out of reach is told as the nearest") {
  const rating::Job job = improve_job();
  ImproveOrder order = small_order(job);
  order.search.most_trials = 30;
  order.search.most_kicks = 0;
  ImproveOrder empty = order;
  empty.stock.tubes.clear();
  CHECK(improve_refusal(job, empty) == "improve.nothing-to-choose");
  ImproveOrder unknown = order;
  unknown.choose.keep.insert("no such tube");
  CHECK(improve_refusal(job, unknown) == "improve.unknown-tube");
  ImproveOrder unpriced = order;
  unpriced.aim = Aim::price;
  unpriced.stock.tubes[0].price_per_m = no_price;
  CHECK(improve_refusal(job, unpriced) == "improve.no-price");

  ImproveOrder one = order;  // one size of one tube: nothing changes, and the answer says how far off it is
  one.stock.tubes = {{"25CrMo4+N", {40, 2}, 10}};
  one.choose.keep.insert({"spine", "chain-stay"});
  rating::Job severe = job;
  severe.rules.target_reliability = 5;
  Trials known;
  const Improvement found = improve(severe, improve_data(), one, known, {});
  CHECK_FALSE(found.reached);
  REQUIRE(found.answers.size() == 1);
  CHECK(found.answers[0].changes.empty());
  CHECK_FALSE(found.limits.empty());
}

TEST_CASE("a search that is stopped keeps its best, and trials that were made are not made again") {
  const rating::Job job = improve_job();
  ImproveOrder order = small_order(job);
  std::stop_source stop;
  order.search.sink = [&, count = 0](const Point&, const Trial&) mutable {
    if (++count == 5) stop.request_stop();
  };
  rating::Progress progress;
  progress.stop = stop.get_token();
  Trials known;
  const Improvement half = improve(job, improve_data(), order, known, progress);
  CHECK(half.end == SearchEnd::stopped);
  CHECK(half.trials >= 5);
  REQUIRE_FALSE(half.answers.empty());
  order.search.sink = {};
  known.emplace(Point{99, 99}, Trial{true, {1, 2}, 0});  // a journal may bring anything
  const std::size_t before = half.trials;
  const Improvement rest = improve(job, improve_data(), order, known, {});
  Trials none;
  const Improvement at_once = improve(job, improve_data(), order, none, {});
  CHECK(rest.answers[0].point == at_once.answers[0].point);
  CHECK(rest.trials + before == at_once.trials);
}

TEST_CASE("a front keeps what nothing else beats") {
  const auto front = front_of({{{0}, 3, 1}, {{1}, 1, 5}, {{2}, 2, 2}, {{3}, 2.5, 4}, {{4}, 1, 6}, {{5}, 4, 1}}, 0);
  REQUIRE(front.size() == 3);
  CHECK(front[0].point == Point{1});
  CHECK(front[1].point == Point{2});
  CHECK(front[2].point == Point{0});
  CHECK(front_of(front, 2).back().point == Point{0});
  CHECK(front_of(front, 1).size() == 1);
  CHECK(front_of({}, 3).empty());
}
