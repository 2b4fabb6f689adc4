// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/evidence_blocks.h"

#include <algorithm>

namespace seamwright::reports {

namespace {
constexpr std::size_t ranges_told = 8;  // in words; a plot and JSON have the whole spectrum
}

Argument cause_argument(const std::string& source) {
  if (source == "road") return sentence_argument("source", "cause.road");
  if (source == "loading") return sentence_argument("source", "cause.loading");
  if (source == "pedalling") return sentence_argument("source", "cause.pedalling");
  return text("source", source);
}

Message message_of(MessageId id) { return {id, {}}; }

Table table_of(MessageIds columns) {
  Table t;
  for (const MessageId id : columns) t.columns.push_back(message_of(id));
  return t;
}

Caution cautions() {
  return {{message_of("caution.estimate"), message_of("caution.no-substitute"),
           message_of("caution.local-codes"), message_of("caution.people")}};
}

Reason reason_of(const Evidence& e) {
  Reason reason;
  const std::string name =
      e.subject.empty() ? e.figure : std::string(e.figure).append(" (").append(e.subject).append(")");
  reason.text = {e.from_memory ? MessageId("evidence.line-from-memory") : "evidence.line",
                 {term_argument("figure", "quantity.", name), number("value", e.value, e.unit), source_argument(e.source.key),
                  text("clause", e.source.clause)}};
  for (const Input& input : e.inputs)
    reason.because.push_back(
        {{"evidence.input", {term_argument("name", "value-name.", input.name), number("value", input.value, input.unit)}}, {}});
  for (const Limit& l : e.limits)
    if (!l.inside)
      reason.because.push_back({{"evidence.limit",
                                 {term_argument("name", "value-name.", l.name), number("value", l.value, l.unit),
                                  number("min", l.min, l.unit), number("max", l.max, l.unit)}},
                                {}});
  for (const Message& note : e.notes) reason.because.push_back({note, {}});
  const std::size_t told =
      e.figure == "cycles-by-range" ? std::min(ranges_told, e.because.size()) : e.because.size();
  for (std::size_t i = 0; i < told; ++i) reason.because.push_back(reason_of(e.because[i]));
  if (told < e.because.size())
    reason.because.push_back(
        {{"evidence.more-ranges", {number("count", static_cast<double>(e.because.size() - told), "")}}, {}});
  return reason;
}

}  // namespace seamwright::reports
