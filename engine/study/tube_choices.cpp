// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/tube_choices.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "engine/design/sides.h"
#include "engine/design/weld_geometry.h"
#include "engine/shape/fillet.h"
#include "engine/shape/plan.h"

namespace seamwright::study {

namespace {

constexpr double same_mm = 1e-6;

bool same_size(const frame::RoundTube& a, const frame::RoundTube& b) {
  return std::abs(a.diameter_mm - b.diameter_mm) < same_mm && std::abs(a.wall_mm - b.wall_mm) < same_mm;
}

double apart(const frame::RoundTube& a, const frame::RoundTube& b) {
  return std::abs(std::log(a.diameter_mm / b.diameter_mm)) + std::abs(std::log(a.wall_mm / b.wall_mm));
}

double area_mm2(const frame::RoundTube& t) { return t.wall_mm * (t.diameter_mm - t.wall_mm); }  // over pi

bool within(double a, double b) { return std::abs(std::log(a / b)) <= std::log(furthest_size) + 1e-9; }

std::vector<const frame::Member*> members_with(const design::Design& d, const std::string& tube) {
  std::vector<const frame::Member*> members;
  for (const frame::Member& m : d.frame.members)
    if (m.tube == tube) members.push_back(&m);
  return members;
}

bool is_welded(const design::Design& d, const frame::Member& m) {
  return std::any_of(d.welds.begin(), d.welds.end(), [&](const joints::Weld& w) { return w.member == m.id || w.chord == m.id; });
}

struct Reason {
  MessageId why;
  std::string because;
};

// A member that something else than a weld holds has a bore or an outside that fits it.
std::optional<Reason> held_otherwise(const design::Design& d, const frame::Member& m) {
  for (const frame::Hinge& h : d.frame.hinges)
    for (const std::string& node : m.nodes)
      if (node == h.first || node == h.second) return Reason{"improve.kept-hinge", h.id};
  for (const design::UnweldedEnd& e : d.unwelded_ends)
    if (e.member == m.id && !e.because.empty()) return Reason{"improve.kept-end", e.node};
  for (const design::Notch& n : d.notches)
    if (n.member == m.id && n.kind != "hole") return Reason{"improve.kept-notch", n.id};
  for (const design::BoltCircle& b : d.bolts)
    if (b.member == m.id) return Reason{"improve.kept-bolts", b.id};
  if (!is_welded(d, m)) return Reason{"improve.kept-unwelded", m.id};
  return {};
}

std::optional<Reason> why_kept(const design::Design& d, const frame::Tube& tube, const std::vector<const frame::Member*>& members,
                               const ChoiceOptions& options) {
  if (options.keep.contains(tube.id)) return Reason{"improve.kept-asked", tube.id};
  for (const frame::Member* m : members)
    if (auto held = held_otherwise(d, *m)) return held;
  return {};
}

Choice sizes_for(const frame::Tube& tube, const frame::RoundTube& now, const Stock& stock) {
  Choice c{false, tube.id};
  c.drawn_size = now;
  for (const StockTube& s : stock.tubes)
    if (s.steel == tube.material && within(s.size.diameter_mm, now.diameter_mm) && within(s.size.wall_mm, now.wall_mm)) c.sizes.push_back(s);
  std::sort(c.sizes.begin(), c.sizes.end(), [](const StockTube& a, const StockTube& b) {
    return std::tie(a.size.diameter_mm, a.size.wall_mm) < std::tie(b.size.diameter_mm, b.size.wall_mm);
  });
  for (std::uint32_t i = 0; i < c.sizes.size(); ++i) {
    if (same_size(c.sizes[i].size, now)) c.drawn = i;
    if (apart(c.sizes[i].size, now) < apart(c.sizes[c.start].size, now)) c.start = i;
  }
  return c;
}

// Members whose ends are braces of welds with a throat.
bool has_throats(const design::Design& d, const std::string& tube) {
  return std::any_of(d.welds.begin(), d.welds.end(), [&](const joints::Weld& w) {
    return w.layout == joints::Layout::tube_on_tube && w.throat_mm > 0 && !w.member.empty() && design::member_of(d.frame, w.member).tube == tube;
  });
}

void check_kept_names(const design::Design& design, const ChoiceOptions& options) {
  for (const std::string& id : options.keep)
    if (std::none_of(design.frame.tubes.begin(), design.frame.tubes.end(), [&](const auto& t) { return t.id == id; })) {
      std::string known;
      for (const frame::Tube& t : design.frame.tubes) known.append(known.empty() ? "" : ", ").append(t.id);
      throw Fault{Message{"improve.unknown-tube", {text("tube", id), text("known", known)}}};
    }
}

}  // namespace

Point Choices::start() const {
  Point p;
  for (const Choice& c : choices) p.push_back(c.start);
  return p;
}

std::optional<Point> Choices::drawn() const {
  Point p;
  for (const Choice& c : choices) {
    if (!c.drawn) return {};
    p.push_back(*c.drawn);
  }
  return p;
}

Choices choices_of(const design::Design& design, const Stock& stock, const ChoiceOptions& options) {
  check_kept_names(design, options);
  Choices all;
  for (const frame::Tube& tube : design.frame.tubes) {
    const auto* round = std::get_if<frame::RoundTube>(&tube.section);
    const auto members = members_with(design, tube.id);
    if (!round || members.empty()) continue;
    if (auto kept = why_kept(design, tube, members, options)) {
      all.kept.push_back({tube.id, *round, kept->why, kept->because});
      continue;
    }
    Choice c = sizes_for(tube, *round, stock);
    if (c.sizes.empty()) {
      all.kept.push_back({tube.id, *round, "improve.kept-no-stock", tube.material});
      continue;
    }
    all.choices.push_back(std::move(c));
  }
  if (options.throats)
    for (const frame::Tube& tube : design.frame.tubes)
      if (has_throats(design, tube.id)) all.choices.push_back({true, tube.id, {}, {0.75, 1, 1.25, 1.5, 2}, 1, {0, 0}, 1});
  if (all.choices.empty()) throw Fault{Message{"improve.nothing-to-choose", {}}};
  return all;
}

void apply_choices(const Choices& choices, const Point& point, design::Design& design) {
  std::map<std::string, double> multiple;
  for (std::size_t i = 0; i < point.size(); ++i) {
    const Choice& c = choices.choices[i];
    if (c.throat)
      multiple[c.tube] = c.multiples[point[i]];
    else
      for (frame::Tube& t : design.frame.tubes)
        if (t.id == c.tube) t.section = c.sizes[point[i]].size;
  }
  for (joints::Weld& w : design.welds) {
    if (!(w.throat_mm > 0)) continue;
    double times = 1;
    if (w.layout == joints::Layout::tube_on_tube && !w.member.empty())
      if (const auto m = multiple.find(design::member_of(design.frame, w.member).tube); m != multiple.end()) times = m->second;
    const double throat = chosen_throat_mm(w.throat_mm, times, design::thinnest_wall_mm(design.frame, w));
    for (double* leg : {&w.leg_crown_mm, &w.leg_saddle_mm}) *leg *= throat / w.throat_mm;
    w.throat_mm = throat;
  }
}

double chosen_throat_mm(double drawn_mm, double multiple, double thinnest_wall_mm) {
  const double throat = multiple == 1 ? drawn_mm : std::round(10 * multiple * drawn_mm) / 10;
  const double most = 2 * thinnest_wall_mm;  // possible.throat-wall
  return throat > most ? std::floor(10 * most + 1e-9) / 10 : throat;
}

double weld_metal_kg(double seam_mm, double throat_mm) {
  constexpr double steel_kg_mm3 = 7850e-9;
  return seam_mm * throat_mm * throat_mm * steel_kg_mm3;
}

std::vector<std::uint32_t> near_options(const Choice& choice, std::uint32_t option) {
  std::vector<std::uint32_t> near;
  const auto add = [&](std::optional<std::uint32_t> o) {
    if (o && *o != option && std::find(near.begin(), near.end(), *o) == near.end()) near.push_back(*o);
  };
  if (choice.throat) {
    if (option > 0) add(option - 1);
    if (option + 1 < choice.multiples.size()) add(option + 1);
    return near;
  }
  const frame::RoundTube now = choice.sizes[option].size;
  // The nearest of those on this side of a measure; what else differs counts ten times.
  const auto next = [&](auto measure, auto other, bool up) {
    std::optional<std::uint32_t> best;
    double least = std::numeric_limits<double>::infinity();
    for (std::uint32_t i = 0; i < choice.sizes.size(); ++i) {
      const frame::RoundTube& s = choice.sizes[i].size;
      const double along = std::log(measure(s) / measure(now)) * (up ? 1 : -1), off = std::abs(std::log(other(s) / other(now)));
      if (along > same_mm && along + 10 * off < least) {
        least = along + 10 * off;
        best = i;
      }
    }
    return best;
  };
  const auto diameter = [](const frame::RoundTube& t) { return t.diameter_mm; };
  const auto wall = [](const frame::RoundTube& t) { return t.wall_mm; };
  const auto nothing = [](const frame::RoundTube&) { return 1.0; };
  for (const bool up : {false, true}) {
    add(next(wall, diameter, up));
    add(next(diameter, wall, up));
    add(next(area_mm2, nothing, up));
    add(next(diameter, area_mm2, up));  // as heavy, but wider or narrower
  }
  return near;
}

SeamLengths::SeamLengths(const design::Design& drawn) {
  std::map<std::string, double> lengths;
  for (const shape::WeldBody& body : shape::plan_of(drawn).welds) lengths[body.id] = shape::seam_length_mm(body);
  for (const joints::Weld& w : drawn.welds) {
    const auto found = lengths.find(w.id);
    const frame::RoundTube* brace = w.member.empty() ? nullptr : design::round_tube(drawn.frame, w.member);
    seams_.push_back({found != lengths.end() && found->second > 0 ? found->second : 0, brace ? brace->diameter_mm : 0});
  }
}

double SeamLengths::seam_mm(const design::Design& design, std::size_t weld) const {
  const Seam& seam = seams_[weld];
  if (!(seam.brace_mm > 0)) return seam.length_mm;
  return seam.length_mm * design::round_tube(design.frame, design.welds[weld].member)->diameter_mm / seam.brace_mm;
}

double SeamLengths::length_mm(const design::Design& design) const {
  double sum = 0;
  for (std::size_t w = 0; w < seams_.size(); ++w) sum += seam_mm(design, w);
  return sum;
}

double SeamLengths::metal_kg(const design::Design& design) const {
  double kg = 0;
  for (std::size_t w = 0; w < seams_.size(); ++w) kg += weld_metal_kg(seam_mm(design, w), design.welds[w].throat_mm);
  return kg;
}

std::size_t sizes_in(const design::Design& design) {
  std::set<std::tuple<std::string, double, double>> sizes;
  for (const frame::Member& m : design.frame.members) {
    const frame::Tube& tube = design::tube_of(design.frame, m);
    if (const auto* round = std::get_if<frame::RoundTube>(&tube.section); round && is_welded(design, m))
      sizes.emplace(tube.material, round->diameter_mm, round->wall_mm);
  }
  return sizes.size();
}

double price_of(const design::Design& design, const Stock& stock, const SeamLengths& seams) {
  double price = stock.weld_per_mm * seams.length_mm(design) + stock.set_up * static_cast<double>(sizes_in(design));
  for (const frame::Member& m : design.frame.members) {
    const frame::Tube& tube = design::tube_of(design.frame, m);
    const auto* round = std::get_if<frame::RoundTube>(&tube.section);
    if (!round) continue;
    for (const StockTube& s : stock.tubes)
      if (s.steel == tube.material && same_size(s.size, *round) && s.price_per_m > 0) {
        price += s.price_per_m * design::member_length_mm(design.frame, m) / 1000;
        break;
      }
  }
  return price;
}

}  // namespace seamwright::study
