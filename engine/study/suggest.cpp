// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/suggest.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <optional>
#include <set>

#include "engine/design/sides.h"
#include "engine/design/weld_geometry.h"
#include "engine/evidence/possible.h"
#include "engine/rating/memory.h"
#include "engine/rating/rate.h"
#include "engine/shape/clash.h"
#include "engine/study/variant.h"
#include "engine/machine/parallel.h"

namespace seamwright::study {

namespace {

using rating::Job;
constexpr double nan = std::numeric_limits<double>::quiet_NaN();

struct Step {
  double to = 0;
  Job job;
  double wall_mm = 0;  // of a pair
};
struct Kind {
  std::string name, unit;
  double from = nan;
  std::vector<Step> steps{};
  bool with_proof = false;
  double from_wall_mm = 0;  // of a pair
  MessageId why_empty{};
};
using Change = std::function<void(Job&, double)>;

// A tube of its own for a member and its twin.
void set_tube(Job& job, const std::string& member, const frame::RoundTube& section) {
  frame::Frame& f = job.design.frame;
  for (const std::string& id : std::set<std::string>{member, design::other_side(member)})
    for (frame::Member& m : f.members) {
      if (m.id != id) continue;
      frame::Tube own = design::tube_of(f, m);
      own.id += "*" + m.id;
      own.section = section;
      m.tube = own.id;
      f.tubes.push_back(std::move(own));
    }
}

void for_weld(Job& job, const std::string& weld, const std::function<void(joints::Weld&)>& change) {
  for (joints::Weld& w : job.design.welds)
    if (w.id == weld || w.id == design::other_side(weld)) change(w);
}

Kind kind_of(const Job& job, const char* name, const char* unit, double from,
             const std::vector<double>& values, const Change& change) {
  Kind kind{name, unit, from};
  for (const double value : values) {
    kind.steps.push_back({value, job});
    change(kind.steps.back().job, value);
  }
  return kind;
}

// Sizes that a member's tube may take: of the shop's own stock those of its steel, else all.
std::vector<frame::RoundTube> sizes_for(const Job& job, const std::vector<frame::RoundTube>& stock, const Stock* own, const std::string& member) {
  if (!own) return stock;
  const frame::Frame& f = job.design.frame;
  const std::string& steel = design::tube_of(f, design::member_of(f, member)).material;
  std::vector<frame::RoundTube> sizes;
  for (const StockTube& t : own->tubes)
    if (t.steel == steel) sizes.push_back(t.size);
  return sizes;
}

// Pairs of diameter and wall that differ in both, by weight: the first that meets is the lightest.
void add_pairs(const Job& job, std::vector<frame::RoundTube> sizes, const frame::RoundTube& now, const std::string& member,
               const std::string& name, std::vector<Kind>& kinds) {
  constexpr double furthest = 1.6, lightest = 0.6, heaviest = 2;
  const auto area = [](const frame::RoundTube& t) { return t.wall_mm * (t.diameter_mm - t.wall_mm); };
  std::erase_if(sizes, [&](const frame::RoundTube& s) {
    const double d = s.diameter_mm / now.diameter_mm, w = s.wall_mm / now.wall_mm, a = area(s) / area(now);
    return d == 1 || w == 1 || d > furthest || d < 1 / furthest || w > furthest || w < 1 / furthest || a < lightest || a > heaviest;
  });
  // Each costs a rating: the nearest by weight are tried.
  constexpr std::size_t most_pairs = 10;
  std::stable_sort(sizes.begin(), sizes.end(),
                   [&](const auto& a, const auto& b) { return std::abs(std::log(area(a) / area(now))) < std::abs(std::log(area(b) / area(now))); });
  if (sizes.size() > most_pairs) sizes.resize(most_pairs);
  std::sort(sizes.begin(), sizes.end(), [&](const auto& a, const auto& b) { return area(a) != area(b) ? area(a) < area(b) : a.wall_mm < b.wall_mm; });
  Kind kind{name + "-tube", "mm", now.diameter_mm, {}, false, now.wall_mm, "suggest.why-stock"};
  for (const frame::RoundTube& s : sizes) {
    kind.steps.push_back({s.diameter_mm, job, s.wall_mm});
    set_tube(kind.steps.back().job, member, s);
  }
  kinds.push_back(std::move(kind));
}

// Walls and diameters of a member's tube, from the stock.
void add_tube_kinds(const Job& job, const std::vector<frame::RoundTube>& stock, const Stock* own, const std::string& member,
                    const std::string& name, std::vector<Kind>& kinds) {
  const frame::RoundTube* tube = member.empty() ? nullptr : design::round_tube(job.design.frame, member);
  if (!tube) return;
  const frame::RoundTube now = *tube;
  std::set<double> walls, diameters;
  constexpr double thinnest = 1 / 1.6;  // so far a joint's model is scaled
  for (const frame::RoundTube& s : sizes_for(job, stock, own, member)) {
    const bool fits = own ? s.diameter_mm == now.diameter_mm : s.wall_mm < 0.5 * now.diameter_mm;
    if (s.wall_mm != now.wall_mm && fits && s.wall_mm <= 3 * now.wall_mm && s.wall_mm >= thinnest * now.wall_mm)
      walls.insert(s.wall_mm);
    if (own && s.wall_mm != now.wall_mm) continue;  // pairs have them
    if (s.diameter_mm > now.diameter_mm && s.diameter_mm <= 2 * now.diameter_mm)
      diameters.insert(s.diameter_mm);
  }
  kinds.push_back(kind_of(job, (name + "-wall").c_str(), "mm", now.wall_mm, {walls.begin(), walls.end()},
                          [&](Job& j, double wall) {
                            set_tube(j, member, {now.diameter_mm, wall});
                          }));
  kinds.push_back(kind_of(job, (name + "-diameter").c_str(), "mm", now.diameter_mm,
                          {diameters.begin(), diameters.end()}, [&](Job& j, double d) {
                            set_tube(j, member, {d, now.wall_mm});
                          }));
  for (std::size_t i = kinds.size() - 2; i < kinds.size(); ++i) kinds[i].why_empty = "suggest.why-stock";
  if (own) add_pairs(job, sizes_for(job, stock, own, member), now, member, name, kinds);
}

constexpr int macros_of_a_proof = 4;  // both crowns and both saddles: qualification/proof.h asks for no more

std::vector<Kind> kinds_of(const Job& job, const rules::Published& published,
                           const std::vector<frame::RoundTube>& stock, const Stock* own, const joints::Weld& weld, bool with_proof) {
  std::vector<Kind> kinds;
  add_tube_kinds(job, stock, own, weld.member, "brace", kinds);
  add_tube_kinds(job, stock, own, weld.chord, "chord", kinds);
  std::vector<double> throats;
  for (const double f : {1.25, 1.5, 1.75, 2.0, 2.5, 3.0}) throats.push_back(f * weld.throat_mm);
  kinds.push_back(kind_of(job, "throat", "mm", weld.throat_mm, throats, [&](Job& j, double a) {
    for_weld(j, weld.id, [&](joints::Weld& w) {
      for (double* leg : {&w.leg_crown_mm, &w.leg_saddle_mm}) *leg *= a / weld.throat_mm;
      w.throat_mm = a;
    });
  }));
  kinds.push_back(
      kind_of(job, "payload", "", 1, {0.9, 0.75, 0.6, 0.45, 0.3, 0.2, 0.1}, [](Job& j, double share) {
        for (loads::Trip& trip : j.duty.trips)
          for (loads::Leg& leg : trip.legs) leg.pose.payload_kg *= share;
      }));
  if (weld.root_proven || weld.kind.empty()) return kinds;
  const auto prove = [&](Job& j) { for_weld(j, weld.id, [](joints::Weld& w) {
      w.root_proven = true;
      w.root_macros = macros_of_a_proof;
    }); };
  const bool credit = rules::credits_proof(published, *job.rules.set, weld.kind);
  for (Kind& kind : kinds) {
    kind.with_proof = credit && with_proof && kind.name != "throat";  // a fused root has none
    if (kind.with_proof)
      for (Step& step : kind.steps) prove(step.job);
  }
  kinds.push_back(kind_of(job, "proven-root", "", 0, credit ? std::vector<double>{1} : std::vector<double>{},
                          [&](Job& j, double) { prove(j); }));
  kinds.back().why_empty = "suggest.why-no-credit";
  return kinds;
}

// No advice to weld what cannot be welded: tubes in each other, a throat beyond what its walls bear.
void check_buildable(const design::Design& d) {
  shape::check_clashes(d.frame, d.welds);
  for (const joints::Weld& w : d.welds)
    check_possible("throat-wall", w.id, w.throat_mm / design::thinnest_wall_mm(d.frame, w));
}

using Welds = std::vector<rating::WeldRating>;

rating::Verdict verdict_on(const Welds& welds, const std::string& weld) {
  for (const rating::WeldRating& w : welds)
    if (w.id == weld) return w.verdict;
  return rating::Verdict::not_covered;
}

// A root by equations leaves something out and never lets its weld meet; where a model's root is the worst of its weld, other tubes help it
// little while it stays open.
bool needs_proof(const Welds& welds, const std::string& weld) {
  for (const rating::WeldRating& w : welds)
    if (w.id == weld)
      return (!w.sites.empty() && w.sites[0].kind == "root") ||
             std::any_of(w.sites.begin(), w.sites.end(), [](const auto& s) { return s.kind == "root" && s.at_least; });
  return false;
}

// A life that is lost counts like a shorter one.
bool is_worse(double before, double after) { return !std::isnan(before) && !(after >= 0.9 * before); }

std::size_t worse_welds(const Welds& before, const Welds& after, const std::string& weld) {
  std::size_t count = 0;
  for (const rating::WeldRating& w : before)
    if (w.id != weld &&
        (is_worse(life_km(before, w.id), life_km(after, w.id)) || verdict_on(after, w.id) > w.verdict))
      ++count;
  return count;
}

Suggestion describe(const Kind& kind, const Step& step, const Welds& rated, const Welds& as_is, const Job& job, const std::string& weld) {
  Suggestion s{kind.name, kind.unit, kind.from, step.to};
  s.meets = verdict_on(rated, weld) == rating::Verdict::meets;
  s.covered = verdict_on(rated, weld) != rating::Verdict::not_covered;
  s.with_proof = kind.with_proof;
  s.from_wall = kind.from_wall_mm;
  s.to_wall = step.wall_mm;
  s.life_km = life_km(rated, weld);
  s.mass_kg = frame_mass_kg(step.job.design.frame) - frame_mass_kg(job.design.frame);
  s.governing_weld = rated[0].id;
  s.worse = worse_welds(as_is, rated, weld);
  return s;
}

// No change of this kind was rated.
Suggestion nothing_of(const Kind& kind) {
  Suggestion s{kind.name, kind.unit, kind.from, nan};
  s.from_wall = kind.from_wall_mm;
  s.why = kind.steps.empty() ? kind.why_empty : MessageId("suggest.why-impossible");
  s.covered = kind.name != "proven-root" && kind.name != "gusset";
  s.life_km = nan;
  return s;
}

}  // namespace

std::vector<Suggestion> suggestions(const Job& job, const rules::Published& published,
                                    const std::vector<frame::RoundTube>& stock, const std::string& weld,
                                    rating::Method method, const rating::Progress& progress, const Stock* own) {
  const auto& welds = job.design.welds;
  const auto at = std::find_if(welds.begin(), welds.end(), [&](const auto& w) { return w.id == weld; });
  if (at == welds.end())
    throw Fault{Message{"rating.unknown-weld", {text("weld", weld), text("nearest", "")}}};
  rating::Memory memory;
  const auto welds_of = [&](const Job& changed, rating::Method by) {
    return rating::rate_briefly(changed, published, by, memory).welds;
  };
  const Welds as_is = welds_of(job, rating::Method::spectral);
  const std::vector<Kind> kinds = kinds_of(job, published, stock, own, *at, needs_proof(as_is, weld));

  struct Trial {
    const Kind* kind;
    const Step* step;
    std::optional<Suggestion> found{};
  };
  std::vector<Trial> trials;
  for (const Kind& k : kinds)
    for (const Step& s : k.steps) trials.push_back({&k, &s});
  std::atomic<std::size_t> done = 0;
  machine::over_tasks(trials.size(), 0, [&](std::size_t i) {
    if (progress.stop.stop_requested()) throw rating::RatingStopped{};
    try {
      check_buildable(trials[i].step->job.design);
      trials[i].found = describe(*trials[i].kind, *trials[i].step, welds_of(trials[i].step->job, rating::Method::spectral),
                                 as_is, job, weld);
    } catch (const Fault&) {  // such as a tube that runs into its neighbour: no such frame
    }
    ++done;
    if (progress.report)
      progress.report(0.8 * static_cast<double>(done) / static_cast<double>(trials.size()));
  });

  std::vector<Suggestion> all;
  for (const Kind& k : kinds) {
    std::optional<Suggestion> best;
    for (const Trial& t : trials) {
      if (t.kind != &k || !t.found) continue;
      Suggestion s = *t.found;
      if (s.meets && method == rating::Method::time) s = describe(k, *t.step, welds_of(t.step->job, method), as_is, job, weld);
      if (!best || s.meets || s.life_km > best->life_km || std::isnan(best->life_km)) best = s;
      if (s.meets) break;
    }
    all.push_back(best ? *best : nothing_of(k));
    if (progress.report)
      progress.report(0.8 + 0.2 * static_cast<double>(all.size()) / static_cast<double>(kinds.size()));
  }
  all.push_back(nothing_of({"gusset", "", nan, {}, false, 0, "suggest.why-no-rule"}));
  return all;
}

}  // namespace seamwright::study
