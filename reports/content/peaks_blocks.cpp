// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/peaks_blocks.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

namespace {

using Place = std::pair<const loads::PeakCase*, const strength::StrengthCheck*>;

// Each kind of check has its most used place of all cases.
std::map<std::string, Place> worst_checks(const strength::PeakRatings& peaks) {
  std::map<std::string, Place> worst;
  for (const strength::PeakRating& p : peaks.cases)
    for (const strength::StrengthCheck& c : p.checks) {
      const auto [at, is_new] = worst.try_emplace(c.kind, &p.load, &c);
      if (!is_new && c.use > at->second.second->use) at->second = {&p.load, &c};
    }
  return worst;
}

// The place that is used most of all checks, or the tubes' own as long as nothing else is stated.
Answer answer_of(const strength::PeakRatings& peaks) {
  const auto checks = worst_checks(peaks);
  const auto most = std::max_element(checks.begin(), checks.end(), [](const auto& a, const auto& b) {
    return a.second.second->use < b.second.second->use;
  });
  if (most != checks.end()) {
    const auto& [load, check] = most->second;
    return {State{check->use <= 1 ? "meets" : "falls_short"},
            {"peaks.answer",
             {sentence_argument("check", composed_id("strength.", check->kind)),
              text("place", check->subject), sentence_argument("case", composed_id("peak.", load->id)),
              number("payload", load->pose.payload_kg, "kg"), number("use", 100 * check->use, "%")}}};
  }
  const auto worst =
      std::max_element(peaks.cases.begin(), peaks.cases.end(),
                       [](const auto& a, const auto& b) { return a.stress_mpa < b.stress_mpa; });
  return {State{"not_covered"},
          {"peaks.answer-unstated",
           {sentence_argument("case", composed_id("peak.", worst->load.id)), text("member", worst->element),
            number("stress", worst->stress_mpa, "MPa")}}};
}

}  // namespace

Document peaks_document(const rating::Job& job, const strength::PeakRatings& peaks) {
  Document d;
  d.title = {"peaks.title", {text("design", job.design.identity.name)}};
  if (!peaks.cases.empty()) d.blocks.emplace_back(answer_of(peaks));
  d.blocks.emplace_back(Caution{{message_of("peaks.caution-assumed"), message_of("peaks.caution-limits"),
                                 message_of("caution.no-substitute"), message_of("caution.local-codes")}});
  Table t;
  for (const MessageId id : MessageIds{"column.case", "column.payload", "column.value", "column.source-of",
                                       "column.member", "column.stress", "column.yield", "column.use"})
    t.columns.push_back(message_of(id));
  for (const strength::PeakRating& p : peaks.cases) {
    const Evidence& e = p.load.evidence;
    t.rows.push_back({Message{composed_id("peak.", p.load.id), {}}, Quantity{p.load.pose.payload_kg, "kg", 3},
                      Quantity{e.value, e.unit, 3},
                      e.source.key == "seamwright" ? Cell{message_of("peaks.assumption")}
                                                   : Cell{message_of("peaks.statics")},
                      Verbatim{p.element}, Quantity{p.stress_mpa, "MPa", 3},
                      Quantity{p.yield_mpa > 0 ? p.yield_mpa : p.use, "MPa", 3}, Quantity{p.use, "", 2}});
  }
  d.blocks.emplace_back(Heading{2, message_of("peaks.cases")});
  d.blocks.emplace_back(std::move(t));
  Table uses;
  for (const MessageId id : MessageIds{"column.check", "column.case", "column.payload", "column.place",
                                       "column.use", "column.coverage", "column.verdict"})
    uses.columns.push_back(message_of(id));
  for (const auto& [kind, at] : worst_checks(peaks)) {
    const auto& [load, check] = at;
    uses.rows.push_back(
        {Message{composed_id("strength.", kind), {}}, Message{composed_id("peak.", load->id), {}},
         Quantity{load->pose.payload_kg, "kg", 3}, Verbatim{check->subject}, Quantity{check->use, "", 3},
         State{name_of(check->evidence.coverage)}, State{check->use <= 1 ? "meets" : "falls_short"}});
  }
  d.blocks.emplace_back(Heading{2, message_of("peaks.checks")});
  if (uses.rows.empty())
    d.blocks.emplace_back(Paragraph{message_of("peaks.no-checks")});
  else
    d.blocks.emplace_back(std::move(uses));
  for (const std::string& id : peaks.missing)
    d.blocks.emplace_back(Paragraph{{"peaks.missing", {text("case", id)}}});
  d.blocks.emplace_back(Heading{2, message_of("rating.notes")});
  for (const Message& note : job.peak_assumptions) d.blocks.emplace_back(Paragraph{note});
  return d;
}

}  // namespace seamwright::reports
