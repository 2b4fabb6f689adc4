// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/signal/survey.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/cycles/rainflow.h"
#include "engine/evidence/evidence.h"
#include "engine/signal/resample.h"
#include "engine/signal/welch.h"

namespace seamwright::signal {

namespace {

constexpr std::size_t most_gaps = 1000, range_classes = 24;
constexpr double infinity = std::numeric_limits<double>::infinity();

// Intervals in classes of one per cent from a microsecond to three hours.
class Intervals {
 public:
  void add(double seconds) {
    const double place = std::log(std::max(seconds, 1e-6) / 1e-6) / std::log(1.01);
    const std::size_t at = std::min(classes_.size() - 1, static_cast<std::size_t>(place));
    ++classes_[at];
    seconds_[at] += seconds;
    ++count_;
  }
  // Number and time of the intervals above a length, to the class.
  std::pair<double, double> above(double length) const {
    double count = 0, time = 0;
    for (std::size_t i = 0; i < classes_.size(); ++i) {
      if (1e-6 * std::pow(1.01, static_cast<double>(i)) <= length) continue;
      count += static_cast<double>(classes_[i]);
      time += seconds_[i];
    }
    return {count, time};
  }
  double quantile(double share) const {
    double sum = 0;
    for (std::size_t i = 0; i < classes_.size(); ++i) {
      sum += static_cast<double>(classes_[i]);
      if (sum >= share * static_cast<double>(count_))
        return 1e-6 * std::pow(1.01, static_cast<double>(i) + 0.5);
    }
    return 0;
  }

 private:
  std::vector<std::size_t> classes_ = std::vector<std::size_t>(2320);
  std::vector<double> seconds_ = std::vector<double>(2320);
  std::size_t count_ = 0;
};

// Sums of one channel in the first pass.
struct Sums {
  double n = 0, mean = 0, square = 0;          // of values
  double time = 0, time_square = 0, both = 0;  // with time, about the means
  double steps = 0, step_square = 0;
  double least = infinity, most = -infinity, last = std::nan("");
  std::size_t missing = 0;

  void add(double t, double value) {
    if (!std::isfinite(value)) {
      ++missing;
      return;
    }
    n += 1;
    const double dt = t - time, dv = value - mean;
    time += dt / n;
    mean += dv / n;
    time_square += dt * (t - time);
    square += dv * (value - mean);
    both += dt * (value - mean);
    if (std::isfinite(last)) {
      steps += 1;
      step_square += (value - last) * (value - last);
    }
    last = value;
    least = std::min(least, value);
    most = std::max(most, value);
  }
};

// Faults of one channel in the second pass, row by row.
class Faults {
 public:
  Faults(const Sums& sums) : sums_(sums), step_(std::sqrt(sums.step_square / std::max(1.0, sums.steps))) {}
  void add(double t, double value) {
    if (!std::isfinite(value)) return;
    const bool extreme = sums_.most > sums_.least && (value == sums_.least || value == sums_.most);
    run_ = extreme && value == last_ ? run_ + 1 : extreme ? 1 : 0;
    if (run_ == 3) clipped_ += 3;
    if (run_ > 3) ++clipped_;
    if (value != last_) since_ = t;
    stuck_ = std::max(stuck_, t - since_);
    const double before = last_ - older_, after = value - last_;
    if (step_ > 0 && before * after < 0 && std::min(std::abs(before), std::abs(after)) > 8 * step_) ++spikes_;
    older_ = last_;
    last_ = value;
  }
  void write(ChannelSurvey& c) const {
    c.clipped_share = sums_.n > 0 ? static_cast<double>(clipped_) / sums_.n : 0;
    c.longest_stuck_s = stuck_;
    c.spikes = spikes_;
  }

 private:
  const Sums& sums_;
  double step_, older_ = std::nan(""), last_ = std::nan(""), since_ = 0, stuck_ = 0;
  std::size_t run_ = 0, clipped_ = 0, spikes_ = 0;
};

// Spectrum and cycles of one channel on the grid.
class Counting {
 public:
  Counting(double rate_hz, std::size_t segment, const Sums& sums) : welch_(rate_hz, segment) {
    classes_.cycles.resize(range_classes);
    classes_.width = (sums.most - sums.least) / static_cast<double>(range_classes);
  }
  void add(double value, bool starts) {
    if (starts) {
      finish();
      welch_.restart();
    }
    if (!std::isfinite(value)) return;
    welch_.push(value);
    flow_.push(std::span<const double>(&value, 1), sink());
    any_ = true;
  }
  void finish() {
    if (any_) flow_.finish(cycles::Residue::half, sink());
    any_ = false;
  }
  void write(ChannelSurvey& c) {
    finish();
    c.ranges = classes_;
    if (welch_.segments() == 0) return;
    c.frequency_hz = welch_.frequency_hz();
    c.density = welch_.density();
    const double top = c.frequency_hz[c.frequency_hz.size() - 1];
    const double whole = band_rms(c.frequency_hz, c.density, 0, 2 * top),
                 high = band_rms(c.frequency_hz, c.density, 0.8 * top, 2 * top);
    c.aliasing_share = whole > 0 ? high * high / (whole * whole) : 0;
  }

 private:
  std::function<void(const cycles::Cycle&)> sink() {
    return [this](const cycles::Cycle& cycle) {
      classes_.largest = std::max(classes_.largest, cycle.range());
      if (!(classes_.width > 0)) return;
      const auto at = static_cast<std::size_t>(cycle.range() / classes_.width);
      classes_.cycles[std::min(at, range_classes - 1)] += cycle.count;
    };
  }
  Welch welch_;
  cycles::Rainflow flow_;
  RangeClasses classes_;
  bool any_ = false;
};

// First pass: times and sums.
std::vector<Sums> first_pass(std::size_t channels, const Rows& rows, Survey& s, Intervals& intervals) {
  std::vector<Sums> sums(channels);
  double last = 0;
  rows([&](double t, std::span<const double> values) {
    if (s.rows == 0) {
      s.start_s = t;
    } else {
      if (t < last)
        throw Fault{Message{"signal.unsorted", {number("time", t, "s"), number("before", last, "s")}}};
      if (t == last)
        ++s.repeated_times;
      else
        intervals.add(t - last);
    }
    last = t;
    ++s.rows;
    for (std::size_t c = 0; c < channels; ++c) sums[c].add(t - s.start_s, values[c]);
  });
  s.duration_s = last - s.start_s;
  if (s.rows < 16 || !(s.duration_s > 0))
    throw Fault{
        Message{"signal.too-short",
                {number("rows", static_cast<double>(s.rows), ""), number("duration", s.duration_s, "s")}}};
  return sums;
}

}  // namespace

Survey survey(std::size_t channels, const Rows& rows, double rate_hz) {
  Survey s;
  Intervals intervals;
  const std::vector<Sums> sums = first_pass(channels, rows, s, intervals);
  s.median_interval_s = intervals.quantile(0.5);
  s.short_interval_s = intervals.quantile(0.05);
  s.long_interval_s = intervals.quantile(0.95);
  s.gap_s = std::max(0.2, 10 * s.median_interval_s);
  const auto [away, away_s] = intervals.above(s.gap_s);
  s.mean_rate_hz = (static_cast<double>(s.rows - 1 - s.repeated_times) - away) /
                   std::max(s.median_interval_s, s.duration_s - away_s);
  s.rate_hz = rate_hz > 0 ? rate_hz : s.mean_rate_hz > 10 ? std::round(s.mean_rate_hz) : s.mean_rate_hz;
  // Segments of about four seconds.
  std::size_t segment = 16;
  while (static_cast<double>(segment) < 4 * s.rate_hz && segment < (1U << 20)) segment *= 2;

  std::vector<Faults> faults(sums.begin(), sums.end());
  std::vector<Counting> counting;
  for (const Sums& sum : sums) counting.emplace_back(s.rate_hz, segment, sum);
  Resampler grid(channels, s.rate_hz, s.gap_s, [&](std::span<const double> values, bool starts) {
    for (std::size_t c = 0; c < channels; ++c) counting[c].add(values[c], starts);
  });
  double last = s.start_s;
  rows([&](double t, std::span<const double> values) {
    if (t - last > s.gap_s) {
      ++s.all_gaps;
      if (s.gaps.size() < most_gaps) s.gaps.push_back({last - s.start_s, t - last});
    }
    last = t;
    for (std::size_t c = 0; c < channels; ++c) faults[c].add(t - s.start_s, values[c]);
    grid.push(t - s.start_s, values);
  });
  grid.finish();

  for (std::size_t c = 0; c < channels; ++c) {
    const Sums& sum = sums[c];
    ChannelSurvey out;
    out.mean = sum.mean;
    out.deviation = sum.n > 1 ? std::sqrt(sum.square / (sum.n - 1)) : 0;
    out.least = sum.least;
    out.most = sum.most;
    out.missing = sum.missing;
    out.constant = !(sum.most > sum.least);
    const double slope = sum.time_square > 0 ? sum.both / sum.time_square : 0;
    const double about = std::sqrt(std::max(0.0, sum.square - slope * sum.both) / std::max(1.0, sum.n - 1));
    out.drift = about > 0 ? slope * s.duration_s / about : 0;
    faults[c].write(out);
    counting[c].write(out);
    s.channels.push_back(std::move(out));
  }
  return s;
}

}  // namespace seamwright::signal
