// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/plot_pictures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/cycles/histogram.h"
#include "engine/evidence/constants.h"
#include "reports/content/chart.h"
#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

namespace {

using Line = std::vector<std::pair<double, double>>;

const Pen solid{{Ink::ink, 0}, 0.45, Dash::solid}, dashed{{Ink::ink, 0}, 0.35, Dash::dashed},
    thin{{Ink::ink, 0}, 0.2, Dash::solid}, no_line{{Ink::none, 0}, 0, Dash::solid};

Axis log_axis(double from, double to, MessageId label) { return {from, to, true, message_of(label)}; }

Path box(const Chart& c, double x0, double y0, double x1, double y1, const Pen& pen, const Colour& fill) {
  const Point a = c.point_of(x0, y0), b = c.point_of(x1, y1);
  return {{a, {b.x, a.y}, b, {a.x, b.y}}, true, pen, fill};
}

Line straight(double slope, double log_a, double from_mpa, double to_mpa) {
  const auto point_at = [&](double s) {
    return std::pair<double, double>(std::pow(10, log_a - slope * std::log10(s)), s);
  };
  return {point_at(from_mpa), point_at(to_mpa)};
}

Picture empty_picture(MessageId why) {
  Picture p{120, 12, {}};
  p.items.emplace_back(PictureText{{2, 7}, message_of(why), 3, PictureText::Anchor::start, {Ink::faint, 0}});
  return p;
}

}  // namespace

Picture fit_plot(const fatigue::Fit& fit, const std::vector<fatigue::Test>& tests) {
  double least = 1e300, most = 2e6, low = fit.design_mpa_2e6, high = 0;
  for (const fatigue::Test& t : tests) {
    least = std::min(least, t.cycles);
    most = std::max(most, t.cycles);
    low = std::min(low, t.range_mpa);
    high = std::max(high, t.range_mpa);
  }
  Chart c = chart(log_axis(std::pow(10, std::floor(std::log10(least))),
                           std::pow(10, std::ceil(std::log10(most))), "plot.cycles"),
                  log_axis(0.8 * low, 1.25 * high, "plot.range"));
  draw_line(c, straight(fit.slope, fit.log_a, 1.25 * high, 0.8 * low), solid);
  draw_line(c, straight(fit.slope, fit.design_log_a, 1.25 * high, 0.8 * low), dashed);
  const double middle = std::sqrt(low * high);
  const auto name = [&](double log_a, MessageId id) {
    const double n = std::pow(10, log_a - fit.slope * std::log10(middle));
    if (n > c.across.from && n < c.across.to) draw_words(c, n, middle, message_of(id));
  };
  name(fit.log_a, "plot.mean-curve");
  name(fit.design_log_a, "plot.design-curve");
  for (std::size_t i = 0; i < tests.size(); ++i) {
    const fatigue::Test& t = tests[i];
    draw_dot(c, t.cycles, t.range_mpa, 1, thin, {t.run_out ? Ink::sheet : Ink::ink, 0});
    const Point p = c.point_of(t.cycles, t.range_mpa);
    if (t.run_out)
      for (const Path& arrow :
           {Path{{{p.x + 1, p.y}, {p.x + 4.5, p.y}}, false, thin, {}},
            Path{{{p.x + 3.5, p.y - 0.9}, {p.x + 4.5, p.y}, {p.x + 3.5, p.y + 0.9}}, false, thin, {}}})
        c.picture.items.emplace_back(arrow);
    if (std::find(fit.outliers.begin(), fit.outliers.end(), i) != fit.outliers.end())
      draw_dot(c, t.cycles, t.range_mpa, 2, {{Ink::arc, 0}, 0.4, Dash::solid}, {});
  }
  return std::move(c.picture);
}

Picture sn_plot(const SnPlot& plot, double height_mm) {
  if (plot.line.empty()) return empty_picture("plot.no-curve");
  double low = 1e300, high = 0, least = 1e300, most = 0, share = 0;
  for (const auto& [n, s] : plot.line)
    if (n >= 1e3 && n <= 1e10) low = std::min(low, s);
  for (const SnPlot::Bar& b : plot.bars) {
    if (!(b.cycles > 0)) continue;
    low = std::min(low, b.from_mpa);
    high = std::max(high, b.to_mpa);
    least = std::min(least, b.cycles);
    most = std::max(most, b.cycles);
    share = std::max(share, b.share);
  }
  for (const auto& [n, s] : plot.line)
    if (n >= 1e4) high = std::max(high, s);
  Chart c = chart(log_axis(std::pow(10, std::floor(std::log10(std::clamp(least, 1.0, 1e4)))),
                           std::pow(10, std::ceil(std::log10(std::clamp(most, 1e8, 1e10)))), "plot.cycles"),
                  log_axis(std::max(1.0, 0.8 * low), 1.3 * std::max(high, 10.0), "plot.range"), height_mm);
  for (const SnPlot::Bar& b : plot.bars) {
    if (!(b.cycles > c.across.from) || b.to_mpa <= c.upright.from) continue;
    c.picture.items.emplace_back(box(c, c.across.from, std::max(b.from_mpa, c.upright.from),
                                     std::min(b.cycles, c.across.to), std::min(b.to_mpa, c.upright.to), thin,
                                     {Ink::scale, share > 0 ? b.share / share : 0}));
  }
  draw_line(c, plot.line, {{Ink::ink, 0}, 0.6, Dash::solid});
  for (const auto& [n, s] : plot.line)
    if (n > 1e4 && n < c.across.to && s < c.upright.to && s > c.upright.from) {
      draw_words(c, n, s, curve_cell(plot.curve));
      break;
    }
  draw_source(c, {plot.from_memory ? MessageId("plot.source-from-memory") : "plot.source",
                  {source_argument(plot.source.key), text("clause", plot.source.clause)}});
  return std::move(c.picture);
}

Picture range_mean_plot(const std::vector<cycles::Cycle>& all) {
  if (all.empty()) return empty_picture("plot.no-cycles");
  constexpr std::size_t classes = 32;
  const cycles::Histogram h = cycles::histogram(all, classes, classes);
  Chart c = chart({h.mean_edges.front(), h.mean_edges.back(), false, message_of("plot.mean")},
                  {0, h.range_edges.back(), false, message_of("plot.range-signal")});
  const double most = *std::max_element(h.counts.begin(), h.counts.end());
  const double decades = std::max(1.0, std::log10(std::max(most, 1.0)) + 0.5);
  for (std::size_t r = 0; r < classes; ++r)
    for (std::size_t m = 0; m < classes; ++m) {
      const double n = h.counts[r * classes + m];
      if (!(n > 0)) continue;
      const double level = std::clamp((std::log10(n) + 0.5) / decades, 0.05, 1.0);
      c.picture.items.emplace_back(box(c, h.mean_edges[m], h.range_edges[r], h.mean_edges[m + 1],
                                       h.range_edges[r + 1], no_line, {Ink::scale, level}));
    }
  draw_source(c, {"plot.map-scale", {number("most", most, "")}});
  return std::move(c.picture);
}

Picture exceedance_plot(const std::vector<cycles::Cycle>& all) {
  std::vector<std::pair<double, double>> sorted;  // range, count
  double least = 1e300;
  for (const cycles::Cycle& c : all)
    if (c.range() > 0) {
      sorted.emplace_back(c.range(), c.count);
      least = std::min(least, c.count);
    }
  if (sorted.empty()) return empty_picture("plot.no-cycles");
  std::sort(sorted.begin(), sorted.end(), std::greater<>());
  Line line;
  double sum = 0;
  for (const auto& [range, count] : sorted) {
    line.emplace_back(std::max(sum, least), range);
    sum += count;
    line.emplace_back(sum, range);
  }
  Chart c = chart(log_axis(std::pow(10, std::floor(std::log10(least))),
                           std::pow(10, std::ceil(std::log10(std::max(sum, 10 * least)))), "plot.exceeded"),
                  {0, 1.05 * sorted.front().first, false, message_of("plot.range-signal")});
  draw_line(c, line, solid);
  return std::move(c.picture);
}

Picture spectrum_plot(const Eigen::VectorXd& frequency_hz, const Eigen::VectorXd& density,
                      const std::string& channel) {
  Line line;
  double low = 1e300, high = 0;
  for (Eigen::Index i = 0; i < frequency_hz.size() && i < density.size(); ++i)
    if (frequency_hz[i] > 0 && density[i] > 0) {
      line.emplace_back(frequency_hz[i], density[i]);
      low = std::min(low, density[i]);
      high = std::max(high, density[i]);
    }
  if (line.size() < 2) return empty_picture("plot.no-spectrum");
  Chart c = chart(log_axis(line.front().first, line.back().first, "plot.frequency"),
                  log_axis(std::max(low, 1e-9 * high), 2 * high, "plot.density"));
  c.upright.label = message_of("plot.density");
  draw_line(c, line, solid);
  draw_source(c, {"plot.channel", {text("channel", channel)}});
  return std::move(c.picture);
}

Picture shares_plot(const std::vector<Share>& shares, double width_mm) {
  constexpr double row = 6.5;
  const double left = 0.36 * width_mm, width = width_mm - left - 16;
  Picture p{width_mm, std::max(1.0, static_cast<double>(shares.size())) * row + 3, {}};
  double y = 2;
  for (const Share& s : shares) {
    p.items.emplace_back(PictureText{{left - 2, y + 3.4}, s.label, 3, PictureText::Anchor::end});
    const double to = left + width * std::clamp(s.share, 0.0, 1.0);
    p.items.emplace_back(
        Path{{{left, y}, {to, y}, {to, y + 4.4}, {left, y + 4.4}}, true, no_line, {Ink::steel, 0}});
    p.items.emplace_back(PictureText{{to + 1.5, y + 3.4}, Quantity{100 * s.share, "%", 2}, 3});
    y += row;
  }
  p.items.emplace_back(Path{{{left, 1}, {left, y}}, false, thin, {}});
  return p;
}

Picture wheel_loads_plot(const rating::Rating& r) {
  static constexpr const char* wheels[] = {"FL", "FR", "R"};
  double most = 0;
  // Deviation of each wheel on the roughest leg that is ridden in the state.
  std::vector<std::array<double, 3>> deviations;
  for (const rating::StateReport& s : r.states) {
    std::array<double, 3> sd{};
    for (const rating::LegReport& l : r.legs)
      if (l.pose.payload_kg == s.pose.payload_kg)
        for (Eigen::Index w = 0; w < std::min<Eigen::Index>(3, l.levels.wheel_force_sd_n.size()); ++w)
          sd[static_cast<std::size_t>(w)] =
              std::max(sd[static_cast<std::size_t>(w)], l.levels.wheel_force_sd_n[w]);
    deviations.push_back(sd);
    for (Eigen::Index w = 0; w < std::min<Eigen::Index>(3, s.static_wheel_load_n.size()); ++w)
      most = std::max(most, s.static_wheel_load_n[w] + 3 * sd[static_cast<std::size_t>(w)]);
  }
  const double states = static_cast<double>(r.states.size());
  if (r.states.empty() || !(most > 0)) return empty_picture("plot.no-states");
  Chart c = chart({0, states, false, message_of("plot.states")},
                  {0, 1.1 * most, false, message_of("plot.wheel-load")});
  // The places are states, not numbers.
  std::erase_if(c.picture.items, [&](const auto& item) {
    const auto* w = std::get_if<PictureText>(&item);
    return w && std::abs(w->at.y - (c.top_mm + c.height_mm + 4)) < 0.1;
  });
  for (std::size_t k = 0; k < r.states.size(); ++k) {
    const rating::StateReport& s = r.states[k];
    for (std::size_t w = 0; w < 3 && static_cast<Eigen::Index>(w) < s.static_wheel_load_n.size(); ++w) {
      const double at = static_cast<double>(k) + 0.2 + 0.3 * static_cast<double>(w);
      const double load = s.static_wheel_load_n[static_cast<Eigen::Index>(w)], sd = deviations[k][w];
      c.picture.items.emplace_back(box(c, at - 0.1, 0, at + 0.1, std::max(load, 0.0), thin, {Ink::steel, 0}));
      draw_line(c, {{at, std::max(0.0, load - 3 * sd)}, {at, load + 3 * sd}}, solid);
      const Point top = c.point_of(at, load + 3 * sd);
      c.picture.items.emplace_back(PictureText{
          {top.x, top.y - 1}, Verbatim{std::string(wheels[w])}, 2.6, PictureText::Anchor::middle});
    }
    const Point foot = c.point_of(static_cast<double>(k) + 0.5, 0);
    c.picture.items.emplace_back(PictureText{
        {foot.x, foot.y + 4},
        Message{"plot.state",
                {number("payload", s.pose.payload_kg, "kg"), number("angle", s.pose.steering_deg, "deg")}},
        2.4,
        PictureText::Anchor::middle,
        {Ink::faint, 0}});
  }
  draw_source(c, message_of("plot.wheel-loads"));
  return std::move(c.picture);
}

Picture tip_plot(const loads::Stability& s, double friction) {
  std::map<loads::Pose, Line> lines;
  double most = 0, left = 0, right = 0;
  for (const loads::StabilityCase& k : s.cases) {
    loads::Pose loading = k.pose;
    loading.steering_deg = 0;
    const double a = loads::tip_threshold_m_s2(k);
    lines[loading].emplace_back(k.pose.steering_deg, a);
    most = std::max(most, a);
    left = std::min(left, k.pose.steering_deg);
    right = std::max(right, k.pose.steering_deg);
  }
  const double slide = friction * gravity_m_s2;
  Chart c = chart({left, right, false, message_of("plot.steering")},
                  {0, 1.15 * std::max(most, slide), false, message_of("plot.lateral")});
  for (auto& [pose, line] : lines) {
    std::sort(line.begin(), line.end());
    draw_line(c, line, solid);
    if (line.empty()) continue;
    const auto& middle = line[line.size() / 2];
    draw_words(c, middle.first, middle.second, Quantity{pose.payload_kg, "kg", 3});
  }
  draw_line(c, {{left, slide}, {right, slide}}, {{Ink::arc, 0}, 0.35, Dash::dashed});
  draw_words(c, left, slide, Message{"plot.slides", {number("friction", friction, "")}}, 1, 1, {Ink::arc, 0});
  draw_source(c, message_of("plot.tip-source"));
  return std::move(c.picture);
}

}  // namespace seamwright::reports
