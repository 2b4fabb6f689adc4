// SPDX-License-Identifier: GPL-3.0-or-later
// Signals made with known spectra, cycles and faults come back.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/evidence/evidence.h"
#include "engine/signal/resample.h"
#include "engine/signal/survey.h"
#include "engine/signal/welch.h"

using namespace seamwright;
using namespace seamwright::signal;

namespace {

using Row = std::pair<double, std::vector<double>>;

Rows rows_of(const std::vector<Row>& rows) {
  return [&rows](const auto& sink) {
    for (const Row& r : rows) sink(r.first, r.second);
  };
}

double noise(std::uint64_t& state) {
  double sum = 0;
  for (int k = 0; k < 12; ++k) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    sum += static_cast<double>(state >> 11) / 9007199254740992.0;
  }
  return sum - 6;
}

std::vector<Row> sine(double rate, double seconds, double amplitude, double hz) {
  std::vector<Row> rows;
  for (int i = 0; i < static_cast<int>(rate * seconds); ++i) {
    const double t = i / rate;
    rows.push_back({t, {amplitude * std::sin(2 * std::numbers::pi * hz * t)}});
  }
  return rows;
}

std::string refusal(const std::vector<Row>& rows) {
  try {
    survey(1, rows_of(rows), 0);
  } catch (const Fault& fault) {
    return fault.what();
  }
  return "";
}

}  // namespace

TEST_CASE("white noise has its level in Welch's spectrum") {
  // Variance 1 sampled at 200 Hz: one-sided density 2/200 (Parseval).
  Welch welch(200, 256);
  std::uint64_t state = 7;
  for (int i = 0; i < 200000; ++i) welch.push(noise(state));
  const Eigen::VectorXd f = welch.frequency_hz(), g = welch.density();
  CHECK(band_rms(f, g, 10, 60) == Approx(std::sqrt(50 * 0.01)).epsilon(0.01));
  CHECK(welch.segments() == 1561);
  CHECK_THROWS_AS(Welch(200, 15), Fault);
}

TEST_CASE("a sine comes back with its power, frequency, range and number of cycles") {
  const std::vector<Row> rows = sine(200, 100, 3, 5);
  const Survey s = survey(1, rows_of(rows), 0);
  CHECK(s.rate_hz == 200);
  CHECK(s.median_interval_s == Approx(0.005).epsilon(0.011));
  const ChannelSurvey& c = s.channels[0];
  CHECK(c.deviation == Approx(3 / std::sqrt(2.0)).epsilon(1e-3));
  CHECK(band_rms(c.frequency_hz, c.density, 4, 6) == Approx(3 / std::sqrt(2.0)).epsilon(1e-3));
  CHECK(c.ranges.largest == Approx(6).epsilon(1e-3));
  CHECK(c.ranges.cycles.back() == Approx(500).margin(1));
  CHECK(c.aliasing_share < 1e-3);
  CHECK(std::abs(c.drift) < 0.1);
  CHECK(c.spikes == 0);
  CHECK(c.clipped_share == 0);
}

TEST_CASE("rows that come unevenly are put on the grid by straight lines") {
  std::vector<double> seen;
  Resampler grid(1, 10, 1, [&](std::span<const double> v, bool) { seen.push_back(v[0]); });
  for (const double t : {0.0, 0.13, 0.31, 0.32, 0.7}) {
    const double value = 2 * t;
    grid.push(t, std::span<const double>(&value, 1));
  }
  grid.finish();
  REQUIRE(seen.size() == 8);
  for (std::size_t i = 0; i < seen.size(); ++i)
    CHECK(seen[i] == Approx(0.2 * static_cast<double>(i)).margin(1e-12));
}

TEST_CASE("rows at one time are averaged, missing values bridged, gaps start anew") {
  std::vector<double> seen;
  int starts = 0;
  Resampler grid(1, 10, 0.5, [&](std::span<const double> v, bool start) {
    seen.push_back(v[0]);
    starts += start;
  });
  const auto push = [&](double t, double value) { grid.push(t, std::span<const double>(&value, 1)); };
  push(0, 1);
  push(0, 3);
  push(0.1, std::nan(""));
  push(0.2, 5);
  push(2, 7);
  grid.finish();
  CHECK(starts == 2);
  CHECK(seen == std::vector<double>{2, 2, 5, 7});
  const double value = 1;
  Resampler back(1, 10, 1, [](std::span<const double>, bool) {});
  back.push(1, std::span<const double>(&value, 1));
  CHECK_THROWS_AS(back.push(0.5, std::span<const double>(&value, 1)), Fault);
  CHECK_THROWS_AS(Resampler(1, 0, 1, [](std::span<const double>, bool) {}), Fault);
}

TEST_CASE("faults of a recording are found, one by one") {
  SECTION("clipping") {
    std::vector<Row> rows = sine(200, 20, 3, 5);
    for (Row& r : rows) r.second[0] = std::clamp(r.second[0], -2.5, 2.5);
    // The signal is above 2.5 of 3 for acos(2.5/3)/pi of the time, on both sides.
    CHECK(survey(1, rows_of(rows), 0).channels[0].clipped_share ==
          Approx(2 * std::acos(2.5 / 3) / std::numbers::pi / 1).margin(0.1));
  }
  SECTION("dropout") {
    std::vector<Row> rows = sine(200, 20, 3, 5);
    for (std::size_t i = 1000; i < 1400; ++i) rows[i].second[0] = rows[1000].second[0];
    CHECK(survey(1, rows_of(rows), 0).channels[0].longest_stuck_s == Approx(2).margin(0.02));
  }
  SECTION("spikes") {
    std::vector<Row> rows = sine(200, 20, 3, 1);
    for (const std::size_t i : {500U, 1500U, 2500U}) rows[i].second[0] += 60;
    CHECK(survey(1, rows_of(rows), 0).channels[0].spikes == 3);
  }
  SECTION("drift") {
    std::vector<Row> rows = sine(200, 20, 1, 5);
    for (Row& r : rows) r.second[0] += 0.5 * r.first;  // 10 over deviations of 0.707
    CHECK(survey(1, rows_of(rows), 0).channels[0].drift == Approx(10 / std::sqrt(0.5)).epsilon(0.02));
  }
  SECTION("aliasing") {
    std::vector<Row> rows = sine(200, 20, 1, 95);
    CHECK(survey(1, rows_of(rows), 0).channels[0].aliasing_share > 0.9);
  }
  SECTION("a channel that is constant") {
    std::vector<Row> rows = sine(200, 20, 0, 5);
    CHECK(survey(1, rows_of(rows), 0).channels[0].constant);
  }
  SECTION("missing cells and runs of them") {
    std::vector<Row> rows = sine(200, 20, 1, 5);
    for (std::size_t i = 100; i < 350; ++i) rows[i].second[0] = std::nan("");
    const Survey s = survey(1, rows_of(rows), 0);
    CHECK(s.channels[0].missing == 250);
    CHECK(std::isfinite(s.channels[0].deviation));
  }
  SECTION("gaps and repeated times") {
    std::vector<Row> rows = sine(200, 20, 1, 5);
    rows.erase(rows.begin() + 1000, rows.begin() + 1600);
    rows[500].first = rows[499].first;
    const Survey s = survey(1, rows_of(rows), 0);
    CHECK(s.all_gaps == 1);
    CHECK(s.gaps[0].seconds == Approx(3.005));
    CHECK(s.repeated_times == 1);
    CHECK(s.rate_hz == 200);
  }
}

TEST_CASE("recordings that say nothing are refused") {
  CHECK(refusal({{0, {1}}}) == "signal.too-short");
  CHECK(refusal({}) == "signal.too-short");
  CHECK(refusal(std::vector<Row>(20, {1.0, {2}})) == "signal.too-short");
  std::vector<Row> rows = sine(200, 1, 1, 5);
  std::swap(rows[10], rows[11]);
  CHECK(refusal(rows) == "signal.unsorted");
}
