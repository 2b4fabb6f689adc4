// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/pages/columns.h"

#include <algorithm>
#include <numeric>

#include "reports/pages/broken_lines.h"
#include "reports/pages/paint.h"
#include "reports/pages/slices.h"
#include "reports/render/cells.h"

namespace seamwright::reports {

namespace {

constexpr double gap_mm = 2.5, blank_mm = 16;

std::vector<Widths> preferred_widths(const Table& t, Language language, double points, double width,
                                     QPaintDevice* device) {
  constexpr std::size_t sample = 400;  // rows that decide; later ones wrap
  const QFont font = font_of(points), bold = font_of(points, true);
  std::vector<Widths> all;
  for (std::size_t i = 0; i < t.columns.size(); ++i) {
    const QString head = QString::fromStdString(visible(sentence(t.columns[i], language)));
    Widths most{0, widths_of(head, bold, device).word};
    for (std::size_t r = 0; r < std::min(sample, t.rows.size()); ++r) {
      if (i >= t.rows[r].size()) continue;
      const Cell& cell = t.rows[r][i];
      Widths w = widths_of(QString::fromStdString(plain_text(cell, language)), font, device);
      if (std::holds_alternative<EntryBox>(cell)) w = {dots(blank_mm), dots(blank_mm)};
      if (std::holds_alternative<Quantity>(cell)) w.word = w.whole;  // a number stays beside its unit
      if (std::holds_alternative<State>(cell)) w.word = w.whole += dots(1.5);
      most = {std::max(most.whole, w.whole), std::max(most.word, w.word)};
    }
    most.word = std::min(most.word, 0.35 * width);
    most.whole = std::clamp(most.whole, most.word, std::max(most.word, width));
    all.push_back(most);
  }
  return all;
}

double sum_of(const std::vector<Widths>& all, double Widths::*what) {
  return std::accumulate(all.begin(), all.end(), 0.0,
                         [&](double sum, const Widths& w) { return sum + w.*what; });
}

}  // namespace

Columns columns_of(const Table& t, Language language, double width, QPaintDevice* device) {
  Columns c;
  const double gaps = dots(gap_mm) * static_cast<double>(std::max<std::size_t>(t.columns.size(), 1) - 1);
  const double room = std::max(width - gaps, dots(10));
  std::vector<Widths> all = preferred_widths(t, language, c.points, room, device);
  while (c.points > 6 && sum_of(all, &Widths::word) > room) {
    c.points -= 0.5;
    all = preferred_widths(t, language, c.points, room, device);
  }
  const double words = sum_of(all, &Widths::word), whole = sum_of(all, &Widths::whole);
  double x = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    double own = 0;
    if (words >= room)
      own = all[i].word * room / words;
    else if (whole > room)
      own = all[i].word + (all[i].whole - all[i].word) * (room - words) / (whole - words);
    else
      own = all[i].whole + (room - whole) / static_cast<double>(all.size()) * (all.size() > 2 ? 1 : 0);
    c.left.push_back(x);
    c.width.push_back(own);
    x += own + dots(gap_mm);
    c.right.push_back(holds_numbers(t, i));
  }
  return c;
}

}  // namespace seamwright::reports
