// SPDX-License-Identifier: GPL-3.0-or-later
// The jobs that properties are tried on, and what it means that an answer is no better than another.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <string>
#include <vector>

#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "engine/rating/rate.h"
#include "engine/study/variant.h"

namespace seamwright::properties {

/// Texts of a job, to be edited before they are read.
struct Texts {
  std::string folder, design, duty;
};

inline const std::string demo_folder = SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike";

inline Texts texts_of(const std::string& folder) {
  return {folder, files::read_text(folder + "/design.toml"), files::read_text(folder + "/duty.toml")};
}

inline rating::Job read(const Texts& t) {
  rating::Job job = files::read_job_texts(t.folder + "/design.toml", t.design, t.folder + "/duty.toml",
                                          t.duty, published::catalog());
  job.rules.bracket_joints = false;  // half the time; the bracket takes the worse of two such ratings
  return job;
}

inline rating::Rating quickly(const rating::Job& job) {
  return rating::rate(job, published::catalog().data, rating::Method::spectral, {});
}

/// Life over the whole service, km, with all factors: the least over the sites; nothing known counts as none.
inline double life_km(const rating::WeldRating& weld) {
  double least = std::numeric_limits<double>::infinity();
  for (const rating::SiteRating& s : weld.sites)
    if (!std::isnan(s.life_km)) least = std::min(least, s.life_km);
  return least;
}

inline std::map<std::string, const rating::WeldRating*> by_id(const rating::Rating& r) {
  std::map<std::string, const rating::WeldRating*> out;
  for (const rating::WeldRating& w : r.welds) out[w.id] = &w;
  return out;
}

/// A reader of the rating could take comfort from these: nothing of it may grow when the input gets worse.
struct Comfort {
  rating::Verdict verdict;
  double life_km;
};
inline Comfort comfort_of(const rating::WeldRating& w) {
  return {w.verdict, w.sites.empty() ? std::numeric_limits<double>::infinity() : w.sites[0].life_km_predicted};
}

/// True when the second answer is no better than the first: its verdict is as bad or worse and the life that
/// heads it, where one is still given, no longer. Lives are compared to a share of 1e-9.
inline bool no_better(const Comfort& before, const Comfort& after) {
  if (after.verdict < before.verdict) return false;
  if (std::isnan(after.life_km)) return true;  // no life is told any more
  if (std::isnan(before.life_km)) return after.verdict >= before.verdict;
  return after.life_km <= before.life_km * (1 + 1e-9);
}

/// The rules of another set, its own factors.
inline void set_rules(rating::Job& job, const rules::RuleSet* set) { job.rules.set = set; }

/// "weld[W01.L]", ... of all rows of a kind as they stand in a text.
inline std::vector<std::string> rows_of(const std::string& text, const std::string& kind) {
  std::vector<std::string> out;
  const std::string head = "[[" + kind + "]]\nid = \"";
  for (std::size_t at = text.find(head); at != std::string::npos; at = text.find(head, at + 1)) {
    const std::size_t begin = at + head.size();
    out.push_back(kind + "[" + text.substr(begin, text.find('"', begin) - begin) + "]");
  }
  return out;
}

/// True when a fault says where: file and line.
inline bool has_place(const Fault& fault) {
  bool file = false, line = false;
  for (const Argument& a : fault.message.arguments) {
    file = file || a.name == "file";
    line = line || a.name == "line";
  }
  return file && line;
}

inline bool has_note(const Evidence& e) {
  return !e.notes.empty() || std::any_of(e.because.begin(), e.because.end(), has_note);
}

/// A job's rating does not account for these: welds, notches and circles of bolts that are missing or
/// doubled, places with neither a curve nor a reason, verdicts that do not know of a place. Empty when all is
/// well.
inline std::vector<std::string> unaccounted(const rating::Job& job, const rating::Rating& r) {
  std::vector<std::string> out;
  std::map<std::string, int> count;
  rating::Verdict worst = rating::Verdict::meets;
  for (const rating::WeldRating& w : r.welds) {
    ++count[w.id];
    worst = std::max(worst, w.verdict);
    if (w.sites.empty()) out.push_back(w.id + ": no place");
    for (const rating::SiteRating& s : w.sites) {
      const std::string where = w.id + " " + s.site;
      if (s.verdict > w.verdict) out.push_back(where + ": its weld is better");
      const bool reason = has_note(s.evidence);
      if (s.curve.empty() || std::isnan(s.damage)) {
        if (s.verdict == rating::Verdict::meets) out.push_back(where + ": not judged, yet meets");
        if (!reason) out.push_back(where + ": not judged, without a reason");
      } else if (!(s.damage >= 0) || !(s.life_km > 0)) {
        out.push_back(where + ": damage or life is no number");
      }
    }
  }
  for (std::size_t i = 0; i < design::subject_count(job.design); ++i) {
    const std::string id = design::subject_of(job.design, i).id;
    if (count[id] != 1) out.push_back(id + ": stands " + std::to_string(count[id]) + " times");
  }
  if (r.verdict != worst) out.push_back("the frame's verdict is not its worst weld's");
  return out;
}

}  // namespace seamwright::properties
