// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/border_labels.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace seamwright::reports {

namespace {

constexpr double apart_mm = 0.25;     // between two names
constexpr double dot_clear_mm = 0.8;  // from a leader to the place of another

double distance_mm(const Point& a, const Point& b) { return std::hypot(a.x - b.x, a.y - b.y); }

// As many as fit, evenly over a stretch: their middles.
std::vector<double> middles(double from, double to, double size) {
  const double step = size + apart_mm;
  const auto count = static_cast<std::size_t>(std::max(0.0, std::floor((to - from + apart_mm) / step)));
  std::vector<double> all;
  for (std::size_t i = 0; i < count; ++i)
    all.push_back(0.5 * (from + to) + step * (static_cast<double>(i) - 0.5 * static_cast<double>(count - 1)));
  return all;
}

std::vector<BorderLabel> seats_of(const Border& b) {
  using Side = BorderLabel::Side;
  std::vector<BorderLabel> all;
  const double high = b.label_high_mm, wide = b.label_wide_mm;
  const auto add = [&](Side side, const Rectangle& box, const Point& end) {
    if (std::none_of(b.kept_free.begin(), b.kept_free.end(), [&](const Rectangle& r) { return meet(r, box); }))
      all.push_back({side, box, end});
  };
  for (const double y : middles(b.inner.top, b.inner.bottom, high)) {
    const double top = y - high / 2, bottom = y + high / 2;
    add(Side::left, {b.inner.left - wide, top, b.inner.left, bottom}, {b.inner.left, y});
    add(Side::right, {b.inner.right, top, b.inner.right + wide, bottom}, {b.inner.right, y});
  }
  for (const double x : middles(b.inner.left, b.inner.right, wide)) {
    const double left = x - wide / 2, right = x + wide / 2;
    add(Side::above, {left, b.inner.top - high, right, b.inner.top}, {x, b.inner.top});
    add(Side::below, {left, b.inner.bottom, right, b.inner.bottom + high}, {x, b.inner.bottom});
  }
  return all;
}

// The Hungarian method with potentials (Kuhn 1955; Munkres 1957): for each row its column, the sum the least.
// There are at least as many columns as rows.
class Assignment {
 public:
  Assignment(const std::vector<Point>& places, const std::vector<BorderLabel>& seats)
      : places_(places),
        seats_(seats),
        row_price_(places.size() + 1, 0),
        column_price_(seats.size() + 1, 0),
        row_in_(seats.size() + 1, 0),
        from_(seats.size() + 1, 0) {}

  std::vector<std::size_t> run() {
    for (std::size_t row = 1; row <= places_.size(); ++row) add(row);
    std::vector<std::size_t> seat(places_.size());
    for (std::size_t c = 1; c <= seats_.size(); ++c)
      if (row_in_[c] > 0) seat[row_in_[c] - 1] = c - 1;
    return seat;
  }

 private:
  // Rows and columns count from 1; column 0 holds the row that looks for a column.
  void add(std::size_t row) {
    const double far = std::numeric_limits<double>::infinity();
    row_in_[0] = row;
    std::vector<double> least(seats_.size() + 1, far);
    std::vector<bool> used(seats_.size() + 1, false);
    std::size_t column = 0;
    do {
      used[column] = true;
      const std::size_t here = row_in_[column];
      double step = far;
      std::size_t next = 0;
      for (std::size_t c = 1; c <= seats_.size(); ++c) {
        if (used[c]) continue;
        const double cost =
            distance_mm(places_[here - 1], seats_[c - 1].end) - row_price_[here] - column_price_[c];
        if (cost < least[c]) least[c] = cost, from_[c] = column;
        if (least[c] < step) step = least[c], next = c;
      }
      for (std::size_t c = 0; c <= seats_.size(); ++c)
        if (used[c])
          row_price_[row_in_[c]] += step, column_price_[c] -= step;
        else
          least[c] -= step;
      column = next;
    } while (row_in_[column] != 0);
    for (; column != 0; column = from_[column]) row_in_[column] = row_in_[from_[column]];
  }

  const std::vector<Point>& places_;
  const std::vector<BorderLabel>& seats_;
  std::vector<double> row_price_, column_price_;
  std::vector<std::size_t> row_in_, from_;
};

double distance_to_stretch(const Point& p, const Point& a, const Point& b) {
  const double length = distance_mm(a, b);
  if (length == 0) return distance_mm(p, a);
  const double share = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / (length * length);
  const double t = std::clamp(share, 0.0, 1.0);
  return distance_mm(p, {a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)});
}

// Leaders that run over the place of another: it would be read as theirs.
struct Leaders {
  const std::vector<Point>& places;
  const std::vector<BorderLabel>& seats;
  std::vector<std::size_t> seat;  // of each place

  std::size_t touches(std::size_t i) const {
    std::size_t count = 0;
    for (std::size_t k = 0; k < places.size(); ++k)
      count += k != i && distance_to_stretch(places[k], places[i], seats[seat[i]].end) < dot_clear_mm;
    return count;
  }
  bool crosses(std::size_t i) const {
    for (std::size_t k = 0; k < places.size(); ++k)
      if (k != i && cross(places[i], seats[seat[i]].end, places[k], seats[seat[k]].end)) return true;
    return false;
  }
  // Tries every free seat, and every other leader's in exchange; keeps the one with the fewest touches, of
  // these the shortest.
  bool improve(std::size_t i) {
    std::vector<std::size_t> holder(seats.size(), places.size());
    for (std::size_t k = 0; k < places.size(); ++k) holder[seat[k]] = k;
    const std::size_t old = seat[i];
    const auto cost = [&](std::size_t other) {
      const bool alone = other == places.size();
      const double length = distance_mm(places[i], seats[seat[i]].end) +
                            (alone ? 0 : distance_mm(places[other], seats[seat[other]].end) -
                                             distance_mm(places[other], seats[old].end));
      return std::pair(touches(i) + (alone ? 0 : touches(other)), length);
    };
    std::optional<std::pair<std::size_t, double>> best;
    std::size_t best_seat = old;
    for (std::size_t s = 0; s < seats.size(); ++s) {
      const std::size_t other = holder[s];
      if (s == old) continue;
      const std::size_t before = touches(i) + (other == places.size() ? 0 : touches(other));
      seat[i] = s;
      if (other != places.size()) seat[other] = old;
      const auto now = cost(other);
      if (now.first < before && (!best || now < *best) && !crosses(i) &&
          (other == places.size() || !crosses(other))) {
        best = now;
        best_seat = s;
      }
      seat[i] = old;
      if (other != places.size()) seat[other] = s;
    }
    if (!best) return false;
    if (holder[best_seat] != places.size()) seat[holder[best_seat]] = old;
    seat[i] = best_seat;
    return true;
  }
};

}  // namespace

bool meet(const Rectangle& a, const Rectangle& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

bool cross(const Point& a, const Point& b, const Point& c, const Point& d) {
  const auto turn = [](const Point& p, const Point& q, const Point& r) {
    return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  };
  const auto within = [](const Point& p, const Point& q, const Point& r) {
    return std::min(p.x, q.x) <= r.x && r.x <= std::max(p.x, q.x) && std::min(p.y, q.y) <= r.y &&
           r.y <= std::max(p.y, q.y);
  };
  const double abc = turn(a, b, c), abd = turn(a, b, d), cda = turn(c, d, a), cdb = turn(c, d, b);
  if (abc * abd < 0 && cda * cdb < 0) return true;
  return (abc == 0 && within(a, b, c)) || (abd == 0 && within(a, b, d)) || (cda == 0 && within(c, d, a)) ||
         (cdb == 0 && within(c, d, b));
}

std::size_t room_of(const Border& border) { return seats_of(border).size(); }

std::vector<std::optional<BorderLabel>> border_labels(const std::vector<Point>& places, const Border& border) {
  const std::vector<BorderLabel> seats = seats_of(border);
  const std::vector<Point> named(
      places.begin(),
      places.begin() + static_cast<std::ptrdiff_t>(std::min(places.size(), seats.size())));
  std::vector<std::optional<BorderLabel>> labels(places.size());
  if (named.empty()) return labels;
  Leaders leaders{named, seats, Assignment(named, seats).run()};
  // Each step leaves fewer touches, so that the steps end; a few rounds find nearly all.
  for (int round = 0; round < 4; ++round) {
    bool moved = false;
    for (std::size_t i = 0; i < named.size(); ++i)
      if (leaders.touches(i) > 0) moved = leaders.improve(i) || moved;
    if (!moved) break;
  }
  for (std::size_t i = 0; i < named.size(); ++i) labels[i] = seats[leaders.seat[i]];
  return labels;
}

}  // namespace seamwright::reports
