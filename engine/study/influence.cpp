// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/influence.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <tuple>

#include "engine/rating/memory.h"
#include "engine/rating/rate.h"
#include "engine/machine/parallel.h"

namespace seamwright::study {

namespace {

using rating::Job;

constexpr double unrated_km = std::numeric_limits<double>::quiet_NaN();

// The lives that a rating gives, weld by weld; and the shortest of them.
struct WeldLives {
  std::map<std::string, double> km;
  std::string weld;
  double least_km = unrated_km;
  std::vector<Message> fault;
};

WeldLives lives_of(const std::vector<rating::WeldRating>& welds) {
  WeldLives lives;
  for (const rating::WeldRating& w : welds)
    for (const rating::SiteRating& s : w.sites) {
      if (s.curve.empty() || std::isnan(s.life_km_predicted)) continue;
      const auto [weld, fresh] = lives.km.emplace(w.id, s.life_km_predicted);
      weld->second = std::min(weld->second, s.life_km_predicted);
      if (lives.weld.empty() || s.life_km_predicted < lives.least_km) {
        lives.least_km = s.life_km_predicted;
        lives.weld = w.id;
      }
    }
  return lives;
}

// A range may reach where there is no such trike: it tips over, a brace is wider than its chord.
WeldLives lives_at(const Job& job, const AssumedInput& row, double value, const rules::Published& published,
                   rating::Memory& memory) {
  Job changed = job;
  row.set(changed, value);
  try {
    return lives_of(
        rating::rate_briefly(changed, published, rating::Method::spectral, memory, rating::Chance::left_out).welds);
  } catch (const Fault& fault) {
    WeldLives none;
    none.fault.push_back(fault.message);
    return none;
  }
}

// Largest over smallest of the numbers that there are.
double spread_of(std::initializer_list<double> lives) {
  double least = std::numeric_limits<double>::infinity(), most = 0;
  for (const double life : lives) {
    if (std::isnan(life)) continue;
    least = std::min(least, life);
    most = std::max(most, life);
  }
  return most > least ? most / least : 1;
}

double life_in(const WeldLives& lives, const std::string& weld) {
  const auto at = lives.km.find(weld);
  return at == lives.km.end() ? unrated_km : at->second;
}

Influence judged(const AssumedInput& row, double as_is, const WeldLives& now, const WeldLives& low,
                 const WeldLives& high) {
  const auto [least, most] = ends_of(row, as_is);
  Influence i{row.name,      row.unit,  least,     as_is,
              most,          row.words, false,     low.least_km,
              high.least_km, low.weld,  high.weld, spread_of({now.least_km, low.least_km, high.least_km}),
              now.weld,      1,         {},        row.range};
  for (const auto& [weld, km] : now.km) {
    const double moved = spread_of({km, life_in(low, weld), life_in(high, weld)});
    if (!(moved > i.moved)) continue;
    i.moved = moved;
    i.moved_weld = weld;
  }
  for (const WeldLives* end : {&low, &high})
    i.unrated.insert(i.unrated.end(), end->fault.begin(), end->fault.end());
  return i;
}

std::string key_of(const Message& m) {
  if (m.id != MessageId("assumption.default")) return {};
  for (const Argument& a : m.arguments)
    if (a.name == "key") return without_ids(std::get<std::string>(a.value));
  return {};
}

std::vector<Message> defaults_of(const Job& job) {
  std::vector<Message> all = job.design.assumptions;
  all.insert(all.end(), job.assumptions.begin(), job.assumptions.end());
  std::erase_if(all, [](const Message& m) { return key_of(m).empty(); });
  return all;
}

bool is_of(const AssumedInput& row, const std::string& key) {
  return std::any_of(row.keys.begin(), row.keys.end(),
                     [&](const std::string& listed) { return answers_for(listed, key); });
}

void collect_recalled(const Evidence& e, std::set<std::tuple<std::string, std::string, std::string>>& found) {
  if (e.from_memory) found.emplace(e.figure, e.source.key, e.source.clause);
  for (const Evidence& b : e.because) collect_recalled(b, found);
}

std::vector<RecalledSource> recalled_in(const std::vector<rating::WeldRating>& welds) {
  std::map<std::tuple<std::string, std::string, std::string>, std::size_t> sites;
  for (const rating::WeldRating& w : welds)
    for (const rating::SiteRating& s : w.sites) {
      std::set<std::tuple<std::string, std::string, std::string>> here;
      collect_recalled(s.evidence, here);
      for (const auto& figure : here) ++sites[figure];
    }
  std::vector<RecalledSource> all;
  for (const auto& [what, count] : sites)
    all.push_back({std::get<0>(what), {std::get<1>(what), std::get<2>(what)}, count});
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.sites > b.sites; });
  return all;
}

// Each end of each row that this job has, rated once.
struct Ends {
  std::vector<const AssumedInput*> rows;
  std::vector<double> as_is;
  std::vector<WeldLives> low, high;
};

Ends ends_in(const Job& job) {
  Ends ends;
  for (const AssumedInput& row : assumed_inputs()) {
    const double as_is = row.as_is(job);
    if (std::isnan(as_is)) continue;
    ends.rows.push_back(&row);
    ends.as_is.push_back(as_is);
  }
  ends.low.resize(ends.rows.size());
  ends.high.resize(ends.rows.size());
  return ends;
}

}  // namespace

void sort_defaults(const Job& job, Influences& all) {
  std::set<std::string> told;
  for (const Message& m : defaults_of(job)) {
    const std::string key = key_of(m);
    const auto& rows = assumed_inputs();
    if (std::any_of(rows.begin(), rows.end(), [&](const AssumedInput& row) { return is_of(row, key); }))
      continue;
    const auto& unmoved = keys_without_effect();
    const auto reason = std::find_if(unmoved.begin(), unmoved.end(),
                                     [&](const KeyWithoutEffect& u) { return answers_for(u.key, key); });
    if (reason == unmoved.end())
      all.unranged.push_back(m);
    else if (told.insert(key).second)
      all.unmoved.push_back({key, reason->reason});
  }
}

Influences influences(const Job& job, const rules::Published& published, const rating::Progress& progress) {
  rating::Memory memory;
  const rating::Rating rated = rating::rate(job, published, rating::Method::spectral, {}, {}, {nullptr, &memory});
  const WeldLives now = lives_of(rated.welds);
  Ends ends = ends_in(job);
  std::atomic<std::size_t> done = 0;
  const std::size_t count = 2 * ends.rows.size();
  machine::over_tasks(count, 0, [&](std::size_t task) {
    if (progress.stop.stop_requested()) throw rating::RatingStopped{};
    const std::size_t i = task / 2;
    const auto [low, high] = ends_of(*ends.rows[i], ends.as_is[i]);
    if (task % 2 == 0)
      ends.low[i] = low == ends.as_is[i] ? now : lives_at(job, *ends.rows[i], low, published, memory);
    else if (high == ends.as_is[i])
      ends.high[i] = now;
    else if (high != low)
      ends.high[i] = lives_at(job, *ends.rows[i], high, published, memory);
    ++done;
    if (progress.report) progress.report(static_cast<double>(done) / static_cast<double>(count));
  });
  Influences all;
  all.weld = now.weld;
  all.life_km = now.least_km;
  std::set<std::string> defaults;
  for (const Message& m : defaults_of(job)) defaults.insert(key_of(m));
  for (std::size_t i = 0; i < ends.rows.size(); ++i) {
    const auto [low, high] = ends_of(*ends.rows[i], ends.as_is[i]);
    all.inputs.push_back(
        judged(*ends.rows[i], ends.as_is[i], now, ends.low[i], low == high ? ends.low[i] : ends.high[i]));
    all.inputs.back().by_default = std::any_of(
        defaults.begin(), defaults.end(), [&](const std::string& key) { return is_of(*ends.rows[i], key); });
  }
  std::stable_sort(all.inputs.begin(), all.inputs.end(), [](const auto& a, const auto& b) {
    return std::tie(a.spread, a.moved) > std::tie(b.spread, b.moved);
  });
  sort_defaults(job, all);
  all.recalled = recalled_in(rated.welds);
  return all;
}

}  // namespace seamwright::study
