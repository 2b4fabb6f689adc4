// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/plot.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace seamwright::reports {

namespace {

constexpr double left = 58, top = 16, width = 500, height = 300;

// Logarithmic axes in whole decades across, and from 1, 2, 5 steps upright.
struct Axes {
  double x0, x1, y0, y1;  // log10
  double x(double log) const { return left + width * (log - x0) / (x1 - x0); }
  double y(double log) const { return top + height * (y1 - log) / (y1 - y0); }
};

Axes axes_of(const std::vector<fatigue::Test>& tests, const fatigue::Fit& fit) {
  double least = 1e300, most = 0, low = 1e300, high = 0;
  for (const fatigue::Test& t : tests) {
    least = std::min(least, t.cycles);
    most = std::max(most, t.cycles);
    low = std::min(low, t.range_mpa);
    high = std::max(high, t.range_mpa);
  }
  most = std::max(most, 2e6);
  low = std::min(low, fit.design_mpa_2e6);
  return {std::floor(std::log10(least)), std::ceil(std::log10(most)), std::log10(low) - 0.08,
          std::log10(high) + 0.08};
}

std::string grid(const Axes& a) {
  std::string out;
  for (double decade = a.x0; decade <= a.x1 + 0.5; ++decade)
    out += fmt::format(
        "<line x1=\"{0:.1f}\" x2=\"{0:.1f}\" y1=\"{1}\" y2=\"{2}\"/><text x=\"{0:.1f}\" y=\"{3}\" "
        "text-anchor=\"middle\">10<tspan dy=\"-5\" font-size=\"9\">{4:.0f}</tspan></text>",
        a.x(decade), top, top + height, top + height + 18, decade);
  for (const double base : {1.0, 10.0, 100.0, 1000.0})
    for (const double step : {1.0, 2.0, 3.0, 5.0}) {
      const double log = std::log10(base * step);
      if (log < a.y0 || log > a.y1) continue;
      out += fmt::format(
          "<line x1=\"{0}\" x2=\"{1}\" y1=\"{2:.1f}\" y2=\"{2:.1f}\"/><text x=\"{3}\" y=\"{4:.1f}\" "
          "text-anchor=\"end\">{5:g}</text>",
          left, left + width, a.y(log), left - 6, a.y(log) + 4, base * step);
    }
  return out;
}

std::string curve(const Axes& a, double slope, double log_a, const char* label, const char* dash) {
  // Cut to the frame of the plot.
  const double from = std::max(a.x0, log_a - slope * a.y1), to = std::min(a.x1, log_a - slope * a.y0);
  if (!(to > from)) return {};
  const double y0 = (log_a - from) / slope, y1 = (log_a - to) / slope, middle = from + 0.12 * (to - from);
  return fmt::format(
      "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"#22262A\" "
      "stroke-width=\"1.6\"{}/><text x=\"{:.1f}\" y=\"{:.1f}\" fill=\"#22262A\">{}</text>",
      a.x(from), a.y(y0), a.x(to), a.y(y1), dash, a.x(middle) + 6, a.y((log_a - middle) / slope) - 6, label);
}

}  // namespace

std::string fit_plot(const fatigue::Fit& fit, const std::vector<fatigue::Test>& tests) {
  const Axes a = axes_of(tests, fit);
  std::string svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1}\" width=\"{0}\" height=\"{1}\" "
      "role=\"img\" font-family=\"Liberation Sans, DejaVu Sans, sans-serif\" "
      "font-size=\"12\"><title>S-N</title><g stroke=\"#C9CDD0\" stroke-width=\"0.6\" fill=\"#6B7278\">",
      left + width + 20, top + height + 44);
  std::string texts = grid(a);
  svg += texts;
  svg += fmt::format(
      "<text x=\"{}\" y=\"{}\" text-anchor=\"middle\">N</text><text x=\"14\" y=\"{}\" transform=\"rotate(-90 "
      "14 {})\" text-anchor=\"middle\">S, MPa</text></g>",
      left + width / 2, top + height + 38, top + height / 2, top + height / 2);
  svg += curve(a, fit.slope, fit.log_a, "50 %", "");
  svg += curve(a, fit.slope, fit.design_log_a, "design", " stroke-dasharray=\"6 3\"");
  for (std::size_t i = 0; i < tests.size(); ++i) {
    const double x = a.x(std::log10(tests[i].cycles)), y = a.y(std::log10(tests[i].range_mpa));
    const bool outlier = std::find(fit.outliers.begin(), fit.outliers.end(), i) != fit.outliers.end();
    svg += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"4\" fill=\"{}\" stroke=\"#22262A\"/>", x, y,
                       tests[i].run_out ? "#FFFFFF" : "#22262A");
    if (tests[i].run_out)
      svg += fmt::format(
          "<path d=\"M{0:.1f} {1:.1f} h14 m-5 -4 l5 4 l-5 4\" fill=\"none\" stroke=\"#22262A\"/>", x + 4, y);
    if (outlier)
      svg += fmt::format(
          "<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"8\" fill=\"none\" stroke=\"#B85C00\" "
          "stroke-width=\"1.6\"/>",
          x, y);
  }
  return svg + "</svg>\n";
}

}  // namespace seamwright::reports
