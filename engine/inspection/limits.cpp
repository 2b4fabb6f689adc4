// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/inspection/limits.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace seamwright::inspection {

namespace {

[[noreturn]] void bad(const std::string& text_of_limit) {
  throw Fault{Message{"inspection.bad-limit", {text("found", text_of_limit.substr(0, 80))}}};
}

// A number at the front of the text, which it takes away.
double take_number(std::string& text, const std::string& whole) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || !(value >= 0 && value < 1000)) bad(whole);
  text.erase(0, static_cast<std::size_t>(end - text.data()));
  return value;
}

double size_of(char of, const Weld& w) {
  switch (of) {
    case 'a':
      return w.throat_mm;
    case 'b':
      return w.width_mm;
    default:  // of butt welds the wall stands for their thickness
      return w.wall_mm;
  }
}

constexpr std::array<double, 11> lengths{30, 120, 400, 1000, 2000, 4000, 8000, 12000, 16000, 20000, 1e9};
constexpr std::array<std::array<double, 11>, 4> length_table{{{1, 1, 1, 2, 3, 4, 5, 6, 7, 8, 9},
                                                              {1, 2, 2, 3, 4, 6, 8, 10, 12, 14, 16},
                                                              {1, 3, 4, 6, 8, 11, 14, 18, 21, 24, 27},
                                                              {1, 4, 7, 9, 12, 16, 21, 27, 32, 36, 40}}};
constexpr std::array<std::array<double, 3>, 4> angle_table_minutes{
    {{20, 15, 10}, {45, 30, 20}, {60, 45, 30}, {90, 75, 60}}};
constexpr std::array<std::array<double, 10>, 4> straight_table{{{0.5, 1, 1.5, 2, 3, 4, 5, 6, 7, 8},
                                                                {1, 1.5, 3, 4.5, 6, 8, 10, 12, 14, 16},
                                                                {1.5, 3, 5.5, 9, 11, 16, 20, 22, 25, 25},
                                                                {2.5, 5, 9, 14, 18, 26, 32, 36, 40, 40}}};

std::size_t class_row(char letter, char first) {
  if (letter < first || letter > first + 3)
    throw Fault{Message{"inspection.unknown-class", {text("class", std::string(1, letter))}}};
  return static_cast<std::size_t>(letter - first);
}

std::size_t column(double length) {
  return static_cast<std::size_t>(
      std::find_if(lengths.begin(), lengths.end(), [&](double l) { return length <= l; }) - lengths.begin());
}

}  // namespace

LevelLimit read_limit(const std::string& whole) {
  LevelLimit l;
  if (whole == "no") return l;
  if (whole == "yes") return {LimitKind::permitted};
  if (whole == "application") return {LimitKind::by_application};
  std::string rest = whole;
  l.kind = LimitKind::at_most;
  if (rest.starts_with(">=")) {
    l.kind = LimitKind::at_least;
    rest.erase(0, 2);
    l.base = take_number(rest, whole);
    if (!rest.empty()) bad(whole);
    return l;
  }
  if (rest.starts_with("short ")) {
    l.short_only = true;
    rest.erase(0, 6);
  }
  double number = take_number(rest, whole);
  if (!rest.empty() && rest[0] == '+') {
    l.base = number;
    rest.erase(0, 1);
    number = take_number(rest, whole);
  }
  if (!rest.empty() && std::string("tsab").find(rest[0]) != std::string::npos) {
    l.per = number;
    l.reference = rest[0];
    rest.erase(0, 1);
  } else {
    l.base += number;
  }
  if (rest.starts_with(" max ")) {
    rest.erase(0, 5);
    l.most = take_number(rest, whole);
  }
  if (!rest.empty()) bad(whole);
  return l;
}

const Imperfection* row_for(const std::vector<Imperfection>& table, const std::string& number,
                            const Weld& weld) {
  for (const Imperfection& row : table) {
    if (row.number != number || (row.weld != "any" && (row.weld == "butt") != weld.butt)) continue;
    if (weld.wall_mm <= row.to_mm * (1 + 1e-9) && (weld.wall_mm > row.above_mm || row.above_mm <= 0.5))
      return &row;
  }
  return nullptr;
}

std::optional<Bound> bound_of(const Imperfection& row, char level, const Weld& weld) {
  const LevelLimit& l = level == 'B' ? row.b : level == 'C' ? row.c : row.d;
  if (l.kind != LimitKind::at_most) return Bound{l.kind, false, l.base};
  double mm = l.base;
  if (l.per > 0) {
    const double size = size_of(l.reference, weld);
    if (!(size > 0)) return std::nullopt;
    mm += l.per * size;
  }
  if (l.most > 0) mm = std::min(mm, l.most);
  return Bound{l.kind, l.short_only, mm};
}

Judgement judge(const Bound& bound, double measured) {
  const auto when = [](bool fine) { return fine ? Judgement::accepted : Judgement::rejected; };
  switch (bound.kind) {
    case LimitKind::not_permitted:
      return when(measured <= 0);
    case LimitKind::permitted:
      return Judgement::accepted;
    case LimitKind::by_application:
      return measured <= 0 ? Judgement::accepted : Judgement::engineer;
    case LimitKind::at_most:
      if (measured > bound.mm * (1 + 1e-9)) return Judgement::rejected;
      return bound.short_only && measured > 0 ? Judgement::engineer : Judgement::accepted;  // is it short?
    case LimitKind::at_least:
      return when(measured >= bound.mm * (1 - 1e-9));
  }
  return Judgement::engineer;
}

Demand demand_of(double category, Coverage coverage) {
  if (coverage != Coverage::inside) return {'B', true, "extended coverage"};
  return {category <= 63 * (1 + 1e-6) ? 'C' : 'B', false, "category"};
}

Demand stricter(const Demand& a, const Demand& b) {
  if (a.no_undercut != b.no_undercut) return a.no_undercut ? a : b;
  return a.level <= b.level ? a : b;
}

std::optional<double> length_tolerance_mm(double length, char letter) {
  const std::size_t row = class_row(letter, 'A');
  if (!(length >= 2)) return std::nullopt;
  return length_table.at(row).at(column(length));
}

double angle_tolerance_deg(double leg, char letter) {
  const auto& row = angle_table_minutes.at(class_row(letter, 'A'));
  return row.at(leg <= 400 ? 0 : leg <= 1000 ? 1 : 2) / 60;
}

std::optional<double> straightness_mm(double side, char letter) {
  const std::size_t row = class_row(letter, 'E');
  if (!(side > 30)) return std::nullopt;
  return straight_table.at(row).at(column(side) - 1);
}

}  // namespace seamwright::inspection
