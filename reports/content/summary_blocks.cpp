// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/summary_blocks.h"

#include <algorithm>
#include <cmath>

#include "engine/sites/faulty_welds.h"
#include "engine/sites/place_kinds.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/seam_picture.h"

namespace seamwright::reports {

namespace {

Message where_sentence(const rating::WeldRating& w) {
  const rating::SiteRating& s = w.sites[0];
  return {w.chord.empty() ? MessageId("summary.where-alone") : "summary.where",
          {text("weld", w.id), text("member", w.member), text("chord", w.chord), site_argument("site", s.site),
           number("range", s.largest_range_mpa, "MPa"), curve_argument(s.curve)}};
}

// "other-source" and the like, for the second of two causes.
Argument renamed(Argument argument, const char* name) {
  argument.name = name;
  return argument;
}

std::vector<Message> load_sentence(const rating::Rating& r) {
  const std::vector<double>& shares = r.welds[0].sites[0].damage_share;
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < std::min(shares.size(), r.parts.size()); ++i)
    if (shares[i] > 0) order.push_back(i);
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return shares[a] > shares[b]; });
  if (order.empty()) return {};
  const rating::Part& first = r.parts[order[0]];
  Message m{"summary.load", {number("share", 100 * shares[order[0]], "%"), cause_argument(first.source), text("leg", first.leg)}};
  if (order.size() > 1 && shares[order[1]] > 0.1) {
    const rating::Part& other = r.parts[order[1]];
    m.id = "summary.loads";
    m.arguments.push_back(number("other-share", 100 * shares[order[1]], "%"));
    m.arguments.push_back(renamed(cause_argument(other.source), "other-source"));
    m.arguments.push_back(text("other-leg", other.leg));
  }
  return {m};
}

// The frame falls short where none of its places does.
std::vector<Message> together_sentences(const rating::Rating& r) {
  std::vector<Message> sentences{message_of("summary.together")};
  const auto fall = std::find_if(r.likelihood.limit_states.begin(), r.likelihood.limit_states.end(),
                                 [](const rating::LimitState& s) { return s.kind == rating::LimitStateKind::fall; });
  if (fall == r.likelihood.limit_states.end() || fall->met()) return sentences;
  constexpr std::size_t most = 6;
  std::string names;
  std::size_t count = 0;
  for (const rating::WeldRating& w : r.welds)
    if (!w.path.other() && ++count <= most) names.append(names.empty() ? "" : ", ").append(w.id);
  if (count > most) names += ", …";
  sentences.push_back({"summary.falls", {number("count", static_cast<double>(count), ""), text("places", names)}});
  return sentences;
}

std::vector<Message> next_sentence(const rating::Rating& r) {
  const rating::WeldRating* next = nullptr;
  for (std::size_t w = 1; w < r.welds.size(); ++w) {
    const double life = r.welds[w].predicted.life.median;
    if (!std::isnan(life) && (!next || life < next->predicted.life.median)) next = &r.welds[w];
  }
  if (!next) return {};
  const auto short_of = [](const rating::WeldRating& w) { return w.verdict == rating::Verdict::falls_short; };
  const auto count = static_cast<double>(std::count_if(r.welds.begin(), r.welds.end(), short_of));
  if (count == 0 && r.verdict == rating::Verdict::falls_short) return together_sentences(r);
  return {{r.verdict == rating::Verdict::meets ? MessageId("summary.all-meet") : "summary.next",
           {text("weld", next->id), number("life", next->predicted.life.median * r.service_km, "km"), number("count", count, ""),
            number("all", static_cast<double>(r.welds.size()), "")}}};
}

// What one action does to the governing life, as a factor.
struct Action {
  double effect = 0;
  Message text;
};

bool open_root(const rating::SiteRating& s) { return sites::place::root == s.kind; }

// Once the root is fused the next place of the same weld counts.
void add_fusing(const rating::Rating& r, std::vector<Action>& actions) {
  const rating::WeldRating& w = r.welds[0];
  if (!open_root(w.sites[0])) return;
  const rating::SiteRating* next = nullptr;
  for (const rating::SiteRating& s : w.sites)
    if (!open_root(s) && !std::isnan(s.life_km_predicted) && (!next || s.life_km_predicted < next->life_km_predicted)) next = &s;
  if (!next || !(next->life_km_predicted > w.sites[0].life_km_predicted)) return;
  actions.push_back({next->life_km_predicted / w.sites[0].life_km_predicted,
                     {"summary.fuse", {text("weld", w.id), site_argument("site", next->site), number("life", next->life_km_predicted, "km")}}});
}

void add_strengthening(const rating::Rating& r, std::vector<Action>& actions) {
  const rating::WeldRating& w = r.welds[0];
  const double used = w.sites[0].used(), slope = r.likelihood.budget.slope;
  if (!(used > 1) || std::isinf(used) || !(slope > 0)) return;
  actions.push_back({used, {"summary.strengthen", {text("weld", w.id), number("share", 100 * std::pow(used, -1 / slope), "%")}}});
}

void add_measuring(const rating::Rating& r, std::vector<Action>& actions) {
  const rating::LoadQuestion& q = r.loads;
  const double median = r.welds[0].predicted.life.median;
  if (q.weld.empty() || !(q.unmeasured > 0.2) || !(median > 0)) return;
  actions.push_back({q.life_high / median,
                     {"summary.measure", {text("weld", q.weld), number("earliest", q.life_low * r.service_km, "km"),
                                          number("latest", q.life_high * r.service_km, "km")}}});
}

std::vector<Message> actions_of(const rating::Rating& r) {
  constexpr std::size_t most = 3;
  std::vector<Action> actions;
  add_fusing(r, actions);
  add_strengthening(r, actions);
  add_measuring(r, actions);
  std::stable_sort(actions.begin(), actions.end(), [](const Action& a, const Action& b) { return a.effect > b.effect; });
  std::vector<Message> texts;
  for (Action& a : actions) texts.push_back(std::move(a.text));
  if (r.likelihood.uncovered > 0 && r.beyond.empty()) texts.push_back({"summary.cover", {number("count", static_cast<double>(r.likelihood.uncovered), "")}});
  texts.push_back(message_of("summary.test"));
  texts.push_back(message_of("summary.look"));
  texts.resize(std::min(texts.size(), most));
  return texts;
}

// Notes on the place itself; those on loads and curves stand deeper.
std::vector<Message> notes_of_place(const rating::SiteRating& s) {
  std::vector<Message> notes;
  for (const Evidence& e : s.evidence.because)
    for (const Message& note : e.notes)
      if (note.id != MessageId("rating.at-least") && note.id != MessageId("rating.leg-share")) notes.push_back(note);
  return notes;
}

bool is_fault(const Message& note) {
  return std::find(sites::notes_of_faults.begin(), sites::notes_of_faults.end(), note.id) != sites::notes_of_faults.end();
}

// A place's reason: what is wrong with the weld as built, else the last that is said of it, where the rule ends.
Message reason_of_place(const rating::SiteRating& s) {
  const std::vector<Message> notes = notes_of_place(s);
  const auto fault = std::find_if(notes.begin(), notes.end(), is_fault);
  if (fault != notes.end()) return *fault;
  return notes.empty() ? message_of("rating.at-least") : notes.back();
}

}  // namespace

std::vector<Block> summary_blocks(const rating::Rating& r) {
  if (r.likelihood.places == 0 || r.welds[0].rejected || r.welds[0].sites[0].curve.empty()) return {};
  std::vector<Block> blocks{Heading{2, message_of("summary.why")}, Paragraph{where_sentence(r.welds[0])}};
  for (const auto& sentences : {r.beyond, load_sentence(r), next_sentence(r)})
    for (const Message& m : sentences) blocks.emplace_back(Paragraph{m});
  blocks.emplace_back(Heading{2, message_of("summary.actions")});
  for (const Message& m : actions_of(r)) blocks.emplace_back(Paragraph{m});
  return blocks;
}

void show_governing(Document& page, const design::Design& design, const rating::Rating& r) {
  constexpr double beside_facts_mm = 64;
  auto picture = used_picture(design, r.welds[0], beside_facts_mm);
  const auto facts = std::find_if(page.blocks.begin(), page.blocks.end(), [](const Block& b) { return std::holds_alternative<Facts>(b); });
  if (!picture || facts == page.blocks.end()) return;
  TwoColumns columns;
  columns.left.emplace_back(std::get<Facts>(std::move(*facts)));
  columns.right.emplace_back(PictureBlock{std::move(picture->picture), std::move(picture->largest_place)});
  *facts = std::move(columns);
}

std::vector<Block> unrated_blocks(const rating::Rating& r) {
  Table t = table_of({"column.what-unrated", "column.because", "column.closes"});
  for (const rating::WeldRating& w : r.welds) {
    if (!w.at_most) continue;
    const auto open = std::find_if(w.sites.begin(), w.sites.end(), [&r](const rating::SiteRating& s) { return s.curve.empty() || (s.at_least && r.beyond.empty()); });
    if (open == w.sites.end()) continue;
    const Message why = reason_of_place(*open);
    t.rows.push_back({Message{"unrated.place", {text("weld", w.id), site_argument("site", open->site)}}, why,
                      message_of(is_fault(why) ? MessageId("unrated.close-repair") : "unrated.close-test")});
  }
  for (const design::UnweldedEnd& end : r.unwelded_ends)
    t.rows.push_back({Message{"unrated.end", {text("member", end.member), text("node", end.node)}}, Verbatim{end.because},
                      message_of("unrated.end-close")});
  for (const Message& why : r.beyond) t.rows.push_back({message_of("unrated.load"), why, message_of("unrated.load-close")});
  std::vector<Block> blocks{Heading{2, message_of("unrated.title")}};
  if (t.rows.empty()) {
    blocks.emplace_back(Paragraph{message_of("unrated.none")});
    return blocks;
  }
  t.rows.push_back({message_of("unrated.once"), message_of("unrated.once-why"), message_of("unrated.once-close")});
  t.rows.push_back({message_of("unrated.wear"), message_of("unrated.wear-why"), message_of("unrated.wear-close")});
  blocks.emplace_back(std::move(t));
  return blocks;
}

}  // namespace seamwright::reports
