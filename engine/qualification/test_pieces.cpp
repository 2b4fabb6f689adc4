// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/qualification/test_pieces.h"

#include <algorithm>
#include <array>
#include <set>

#include "engine/qualification/smallest_cover.h"

namespace seamwright::qualification {

namespace {

// The worse of both ends of the procedure's heat input.
Check covers_at_both(const Record& record, const PlannedWeld& w) {
  return worse_items(covers(record, joint_by(*w.sheet, w.sizes, w.lowest_heat)), covers(record, joint_by(*w.sheet, w.sizes, w.highest_heat)));
}

using Numbers = std::set<double>;

/// Wall and diameter, mm; 0, 0 where there is no tube.
using TubeSize = std::pair<double, double>;

struct Choices {
  std::vector<std::pair<TubeSize, TubeSize>> pairs;  ///< brace and chord
  Numbers throats;
  double smallest_angle = 90, lowest_heat = 0;
};

// Pairs that the frame's own welds join come first, then others with a brace no wider than its chord.
Choices choices_among(const std::vector<const PlannedWeld*>& welds) {
  Choices c;
  std::set<TubeSize> braces, chords;
  const auto add = [&](const TubeSize& brace, const TubeSize& chord) {
    if (std::find(c.pairs.begin(), c.pairs.end(), std::pair(brace, chord)) == c.pairs.end()) c.pairs.emplace_back(brace, chord);
  };
  for (const PlannedWeld* w : welds) {
    const TubeSize brace{w->sizes.wall_mm, w->sizes.diameter_mm}, chord{w->sizes.other_wall_mm, w->sizes.other_diameter_mm};
    add(brace, chord);
    braces.insert(brace);
    chords.insert(chord);
    c.throats.insert(w->sizes.throat_mm);
    if (w->sizes.angle_deg > 0) c.smallest_angle = std::min(c.smallest_angle, w->sizes.angle_deg);
    if (w->lowest_heat > 0) c.lowest_heat = c.lowest_heat > 0 ? std::min(c.lowest_heat, w->lowest_heat) : w->lowest_heat;
  }
  for (const TubeSize& brace : braces)
    for (const TubeSize& chord : chords)
      if (brace.second <= chord.second) add(brace, chord);
  return c;
}

std::vector<ProcedurePiece> candidates_for(const Sheet& sheet, JointForm form, const std::vector<const PlannedWeld*>& welds) {
  const Choices choices = choices_among(welds);
  std::vector<ProcedurePiece> all;
  for (const auto& [brace, chord] : choices.pairs)
    for (const double throat : form == JointForm::fillet ? choices.throats : Numbers{*choices.throats.begin()}) {
      JointSizes sizes{form, brace.first, chord.first, brace.second, chord.second, 0, throat};
      if (form == JointForm::branch) sizes.angle_deg = choices.smallest_angle;
      Record record;
      record.id = sheet.id;
      record.signed_off = record.hardness_tested = true;
      record.pre_production = form == JointForm::branch && choices.smallest_angle < 60;
      record.tested = joint_by(sheet, sizes, choices.lowest_heat);
      all.push_back({sheet.id, std::move(record), {}});
    }
  return all;
}

// Puts the numbers of the open welds with the reason of the candidate that comes nearest: the fewest items that it does not cover.
template <typename CheckOf>
void add_open(std::vector<OpenWeld>& open, std::size_t weld, std::size_t candidates, const CheckOf& check_of, Item without) {
  std::size_t fewest = 0;
  Item reason = std::move(without);
  for (std::size_t i = 0; i < candidates; ++i) {
    const Check check = check_of(i);
    const auto missed = static_cast<std::size_t>(std::count_if(check.begin(), check.end(), [](const Item& x) { return x.answer != Answer::yes; }));
    if (missed == 0 || (fewest > 0 && missed >= fewest)) continue;
    fewest = missed;
    reason = *first_reason(check);
  }
  open.push_back({weld, std::move(reason)});
}

// Chooses among candidates; check_of(candidate, number of the weld).
template <typename Piece, typename CheckOf>
void choose(PiecePlan<Piece>& plan, std::vector<Piece> candidates, const std::vector<std::size_t>& welds, const CheckOf& check_of, const Item& without) {
  std::vector<Covered> sets;
  Covered all(welds.size());
  for (const Piece& c : candidates) {
    Covered set(welds.size());
    for (std::size_t i = 0; i < welds.size(); ++i) set[i] = verdict(check_of(c, welds[i])) == Answer::yes;
    all |= set;
    sets.push_back(std::move(set));
  }
  const Cover cover = smallest_cover(sets);
  plan.proven = plan.proven && cover.proven;
  for (const std::size_t chosen : cover.sets) {
    for (std::size_t i = 0; i < welds.size(); ++i)
      if (sets[chosen].test(i)) candidates[chosen].welds.push_back(welds[i]);
    plan.pieces.push_back(candidates[chosen]);
  }
  for (std::size_t i = 0; i < welds.size(); ++i)
    if (!all.test(i))
      add_open(plan.open, welds[i], candidates.size(), [&](std::size_t c) { return check_of(candidates[c], welds[i]); }, without);
}

Item no_procedure() { return item_of("procedure", "", "", Answer::cannot_decide, {"iso-15609-1", "4.2"}); }

}  // namespace

PiecePlan<ProcedurePiece> procedure_pieces(const std::vector<PlannedWeld>& welds) {
  PiecePlan<ProcedurePiece> plan;
  std::map<std::pair<std::string, JointForm>, std::vector<std::size_t>> groups;
  for (std::size_t i = 0; i < welds.size(); ++i)
    if (welds[i].sheet)
      groups[{welds[i].sheet->id, welds[i].sizes.form}].push_back(i);
    else
      plan.open.push_back({i, no_procedure()});
  for (const auto& [key, numbers] : groups) {
    std::vector<const PlannedWeld*> of_group;
    for (const std::size_t i : numbers) of_group.push_back(&welds[i]);
    choose(plan, candidates_for(*of_group.front()->sheet, key.second, of_group), numbers,
           [&](const ProcedurePiece& piece, std::size_t i) { return covers_at_both(piece.record, welds[i]); }, no_procedure());
  }
  return plan;
}

namespace {

// Tubes are tested in these positions; each covers others (Tables 9 and 10).
constexpr std::array tried_for_butt{"H-L045", "PH", "PC", "PA", "PJ", "J-L045"};
constexpr std::array tried_for_fillet{"PH", "PD", "PB", "PA", "PJ"};

// A test piece like the weld, welded in this position.
Designation piece_like(const PlannedWeld& w, const char* position) {
  const Sheet& s = *w.sheet;
  Designation d;
  d.processes = {s.process};
  d.tube = w.sizes.diameter_mm > 0;
  d.fillet = s.form == JointForm::fillet;
  d.filler_group = s.filler_group;
  d.filler_kind = s.filler_kind.empty() ? "S" : s.filler_kind;
  d.thickness_mm = w.sizes.wall_mm;
  d.diameter_mm = w.sizes.diameter_mm;
  d.positions = {position};
  d.standard = "ISO 9606-1";
  if (d.fillet) {
    d.layers = s.single_run ? "sl" : "ml";
  } else {
    d.side = "ss";
    d.backing = "nb";
  }
  return d;
}

std::vector<WelderPiece> welder_candidates(const std::vector<PlannedWeld>& welds, const std::vector<std::size_t>& numbers) {
  std::map<std::string, Designation> by_text;
  for (const std::size_t i : numbers) {
    const bool fillet = welds[i].sheet->form == JointForm::fillet;
    for (const char* position : fillet ? std::vector<const char*>(tried_for_fillet.begin(), tried_for_fillet.end())
                                       : std::vector<const char*>(tried_for_butt.begin(), tried_for_butt.end())) {
      Designation d = piece_like(welds[i], position);
      std::string name = text_of(d);
      by_text.emplace(std::move(name), std::move(d));
    }
  }
  std::vector<WelderPiece> all;
  for (auto& [name, designation] : by_text) all.push_back({std::move(designation), {}});
  return all;
}

}  // namespace

PiecePlan<WelderPiece> welder_pieces(const std::vector<PlannedWeld>& welds) {
  PiecePlan<WelderPiece> plan;
  std::map<std::pair<std::string, bool>, std::vector<std::size_t>> groups;  // of one process, butt or fillet
  for (std::size_t i = 0; i < welds.size(); ++i)
    if (const Sheet* s = welds[i].sheet)
      groups[{s->process, s->form == JointForm::fillet}].push_back(i);
    else
      plan.open.push_back({i, no_procedure()});
  for (const auto& [key, numbers] : groups)
    choose(plan, welder_candidates(welds, numbers), numbers,
           [&](const WelderPiece& piece, std::size_t i) { return piece_covers(piece.designation, {}, *welds[i].sheet, welds[i].sizes); },
           no_procedure());
  return plan;
}

}  // namespace seamwright::qualification
