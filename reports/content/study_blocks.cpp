// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/study_blocks.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "reports/content/evidence_blocks.h"
#include "reports/content/plot_pictures.h"
#include "reports/content/rating_blocks.h"

namespace seamwright::reports {

namespace {

// One end of a range: a number with its unit, or the word of a choice.
Cell end_of(const study::Influence& i, double value) {
  if (i.words.empty()) return Quantity{value, i.unit, 3};
  return message_of(i.words[static_cast<std::size_t>(value)]);
}

// Inputs on which no range was laid stand each with its reason.
void add_left_out(Document& d, const study::Influences& all) {
  d.blocks.emplace_back(Heading{2, message_of("influence.left-out")});
  for (const Message& m : all.unranged) d.blocks.emplace_back(Caution{{message_of("influence.unranged"), m}});
  if (!all.unmoved.empty()) {
    Table t = table_of({"column.input", "column.reason"});
    for (const study::KeyWithoutEffect& u : all.unmoved)
      t.rows.push_back({Verbatim{u.key}, message_of(u.reason)});
    d.blocks.emplace_back(Paragraph{message_of("influence.unmoved")});
    d.blocks.emplace_back(std::move(t));
  }
  if (all.recalled.empty()) return;
  Table t = table_of({"column.figure", "column.source-of", "column.sites"});
  for (const study::RecalledSource& r : all.recalled)
    t.rows.push_back({term_cell("quantity.", r.figure), Message{"source.clause", {source_argument(r.source.key), text("clause", r.source.clause)}},
                      Quantity{static_cast<double>(r.sites), "", 6}});
  d.blocks.emplace_back(Paragraph{message_of("influence.recalled")});
  d.blocks.emplace_back(std::move(t));
}

}  // namespace

namespace {

Document compared_head(const files::ComparedJobs& r) {
  Document d;
  d.title = {"compare.title", {text("first", r.first), text("second", r.second)}};
  const auto& pairs = r.rated.welds.welds;
  const auto known =
      std::find_if(pairs.begin(), pairs.end(), [](const auto& p) { return !std::isnan(p.ratio); });
  const study::WeldPair& least = known == pairs.end() ? pairs.front() : *known;
  d.blocks.emplace_back(Answer{State{name_of(r.rated.second.verdict)},
                               {"compare.answer",
                                {text("weld", least.weld), number("ratio", least.ratio, ""),
                                 number("mass", r.rated.second_kg - r.rated.first_kg, "kg"),
                                 number("chance", 100 * r.rated.second.likelihood.frame.probability, "%"),
                                 number("before", 100 * r.rated.first.likelihood.frame.probability, "%")}}});
  d.blocks.emplace_back(cautions());
  return d;
}

Table pairs_table(const std::vector<study::WeldPair>& pairs) {
  Table t = table_of({"column.weld", "column.life-first", "column.life-second", "column.ratio",
                      "column.verdict-first", "column.verdict-second"});
  for (const study::WeldPair& w : pairs)
    t.rows.push_back({Verbatim{w.weld}, life_cell(w.first_km, w.first_at_most),
                      life_cell(w.second_km, w.second_at_most), Quantity{w.ratio, "", 2},
                      State{name_of(w.first)}, State{name_of(w.second)}});
  return t;
}

void add_masses(Document& d, const files::ComparedJobs& r) {
  Facts masses;
  masses.facts.push_back({message_of("compare.mass-first"), Quantity{r.rated.first_kg, "kg", 4}});
  masses.facts.push_back({message_of("compare.mass-second"), Quantity{r.rated.second_kg, "kg", 4}});
  d.blocks.emplace_back(Heading{2, message_of("compare.mass")});
  d.blocks.emplace_back(std::move(masses));
}

}  // namespace

Document brief_compare_document(const files::ComparedJobs& r) {
  Document d = compared_head(r);
  std::vector<study::WeldPair> shortest = r.rated.welds.welds;
  std::stable_sort(shortest.begin(), shortest.end(),
                   [](const study::WeldPair& a, const study::WeldPair& b) { return a.second_km < b.second_km; });
  shortest.resize(std::min<std::size_t>(shortest.size(), 5));
  d.blocks.emplace_back(Heading{2, message_of("compare.shortest")});
  d.blocks.emplace_back(pairs_table(shortest));
  add_masses(d, r);
  d.blocks.emplace_back(Paragraph{r.differences.empty()
                                      ? message_of("compare.same")
                                      : Message{"compare.differences", {number("count", static_cast<double>(r.differences.size()), "")}}});
  d.blocks.emplace_back(Heading{2, message_of("rating.more-title")});
  d.blocks.emplace_back(Paragraph{message_of("compare.more")});
  return d;
}

Document compare_document(const files::ComparedJobs& r) {
  Document d = compared_head(r);
  d.blocks.emplace_back(Heading{2, message_of("rating.welds")});
  d.blocks.emplace_back(pairs_table(r.rated.welds.welds));
  for (const auto& [id, list] : {std::pair{MessageId("compare.only-first"), &r.rated.welds.only_first},
                                 std::pair{MessageId("compare.only-second"), &r.rated.welds.only_second}}) {
    std::string all;
    for (const std::string& weld : *list) all.append(all.empty() ? "" : ", ").append(weld);
    if (!all.empty()) d.blocks.emplace_back(Paragraph{{id, {text("welds", all)}}});
  }
  Facts left;
  for (const auto& [weld, why] : r.notes) left.facts.push_back({{"compare.left", {text("weld", weld)}}, why});
  if (!left.facts.empty()) d.blocks.emplace_back(std::move(left));
  add_masses(d, r);
  d.blocks.emplace_back(Heading{2, message_of("compare.changed")});
  if (r.differences.empty()) {
    d.blocks.emplace_back(Paragraph{message_of("compare.same")});
    return d;
  }
  Table changes = table_of({"column.place", "column.first", "column.second"});
  for (const files::Difference& x : r.differences)
    changes.rows.push_back({Verbatim{x.place}, Verbatim{x.first}, Verbatim{x.second}});
  d.blocks.emplace_back(std::move(changes));
  return d;
}

Document sweep_document(const std::string& csv, std::size_t rows,
                        const std::vector<std::vector<std::string>>& cells) {
  Document d;
  d.title = {"sweep.title", {}};
  d.blocks.push_back(
      Paragraph{{"sweep.done", {number("count", static_cast<double>(rows), ""), text("file", csv)}}});
  Table t;
  for (const std::vector<std::string>& line : cells) {
    if (t.columns.empty()) {
      for (const std::string& cell : line) t.columns.push_back({"column.source", {text("source", cell)}});
      continue;
    }
    std::vector<Cell> row;
    for (const std::string& cell : line) row.emplace_back(Verbatim{cell});
    t.rows.push_back(std::move(row));
  }
  d.blocks.push_back(std::move(t));
  return d;
}

Document influence_document(const study::Influences& all) {
  Document d;
  d.title = message_of("influence.title");
  if (!all.inputs.empty()) {
    const auto most = std::max_element(all.inputs.begin(), all.inputs.end(),
                                       [](const auto& a, const auto& b) { return a.moved < b.moved; });
    d.blocks.emplace_back(Paragraph{
        {"influence.answer",
         {sentence_argument("input", composed_id("input.", all.inputs[0].input)), text("weld", all.weld),
          number("life", all.life_km, "km"), number("spread", all.inputs[0].spread, "")}}});
    d.blocks.emplace_back(Paragraph{{"influence.most-moved",
                                     {sentence_argument("input", composed_id("input.", most->input)),
                                      text("weld", most->moved_weld), number("moved", most->moved, "")}}});
  }
  Table t = table_of({"column.input", "column.low", "column.as-is", "column.high", "column.life-low",
                      "column.life-high", "column.spread", "column.governs", "column.most-moved",
                      "column.moved-by", "column.basis", "column.range-of"});
  for (const study::Influence& i : all.inputs)
    t.rows.push_back(
        {Message{composed_id("input.", i.input), {}},
         // The other one of two choices stands once.
         !i.words.empty() && i.low == i.high ? Cell{Verbatim{"–"}} : end_of(i, i.low), end_of(i, i.as_is),
         end_of(i, i.high), Quantity{i.low_km, "km", 2}, Quantity{i.high_km, "km", 2},
         Quantity{i.spread, "", 2},
         Verbatim{i.low_weld == i.high_weld ? i.low_weld : i.low_weld + ", " + i.high_weld},
         Verbatim{i.moved_weld}, Quantity{i.moved, "", 2},
         message_of(i.by_default ? MessageId("influence.by-default") : "influence.stated"),
         i.source.key == "seamwright" ? Cell(Verbatim{i.source.clause}) : Cell(Message{"source.clause", {source_argument(i.source.key), text("clause", i.source.clause)}})});
  d.blocks.emplace_back(std::move(t));
  for (const study::Influence& i : all.inputs)
    for (const Message& why : i.unrated)
      d.blocks.emplace_back(Facts{
          {{{"influence.unrated", {sentence_argument("input", composed_id("input.", i.input))}}, why}}});
  d.blocks.emplace_back(Paragraph{message_of("influence.method")});
  add_left_out(d, all);
  return d;
}

namespace {

// A tube by both of its measures; where nothing was rated, why.
Cell changed_cell(const study::Suggestion& s, bool now) {
  const double value = now ? s.from : s.to, wall = now ? s.from_wall : s.to_wall;
  if (!now && std::isnan(value) && !s.why.empty()) return message_of(s.why);
  if (wall > 0) return Message{"improve.size", {number("diameter", value, ""), number("wall", wall, s.unit)}};
  return Quantity{value, s.unit, 3};
}

Message suggest_answer(const study::Suggestion& s) {
  if (s.from_wall > 0)
    return {"suggest.answer-tube",
            {sentence_argument("kind", composed_id("suggest.", s.kind)), number("from", s.from, ""), number("from_wall", s.from_wall, s.unit),
             number("to", s.to, ""), number("to_wall", s.to_wall, s.unit), number("mass", std::round(s.mass_kg * 1e3) / 1e3, "kg"), number("life", s.life_km, "km")}};
  return {s.with_proof ? MessageId("suggest.answer-with-proof") : "suggest.answer",
          {sentence_argument("kind", composed_id("suggest.", s.kind)), number("from", s.from, s.unit), number("to", s.to, s.unit),
           number("mass", std::round(s.mass_kg * 1e3) / 1e3, "kg"), number("life", s.life_km, "km")}};
}

}  // namespace

Document suggest_document(const std::string& weld, const std::vector<study::Suggestion>& all) {
  Document d;
  d.title = {"suggest.title", {text("weld", weld)}};
  // A change that helps its weld at the cost of others is no way out: the fewest made worse, then the lightest.
  const study::Suggestion* best = nullptr;
  for (const study::Suggestion& s : all)
    if (s.meets && (!best || std::pair(s.worse, s.mass_kg) < std::pair(best->worse, best->mass_kg))) best = &s;
  if (best)
    d.blocks.emplace_back(Answer{State{std::string("meets")}, suggest_answer(*best)});
  else
    d.blocks.emplace_back(Answer{State{std::string("falls_short")}, message_of("suggest.none")});
  d.blocks.emplace_back(cautions());
  Table t = table_of({"column.change", "column.as-is", "column.changed", "column.life-km", "column.mass-more",
                      "column.governs", "column.worse", "column.verdict"});
  for (const study::Suggestion& s : all)
    t.rows.push_back({Message{composed_id("suggest.", s.kind), {}}, changed_cell(s, true),
                      changed_cell(s, false), life_cell(s.life_km, !s.covered),
                      Quantity{std::isnan(s.to) ? std::nan("") : s.mass_kg, "kg", 2},
                      Verbatim{s.governing_weld}, Quantity{static_cast<double>(s.worse), "", 3},
                      State{!s.covered ? "not_covered"
                            : s.meets  ? "meets"
                                       : "falls_short"}});
  d.blocks.emplace_back(std::move(t));
  for (const MessageId id : MessageIds{"suggest.one-kind", "suggest.no-gusset"})
    d.blocks.emplace_back(Paragraph{message_of(id)});
  for (const study::Suggestion& s : all)
    if (s.kind == "proven-root")
      d.blocks.emplace_back(
          Paragraph{message_of(std::isnan(s.to) ? MessageId("suggest.no-credit") : "suggest.proven")});
  if (std::any_of(all.begin(), all.end(), [](const auto& s) { return s.with_proof; }))
    d.blocks.emplace_back(Paragraph{message_of("suggest.with-proof")});
  return d;
}

Document fit_document(const fatigue::Fit& fit, const fatigue::FitOptions& options,
                      const std::vector<fatigue::Test>& tests) {
  Document d;
  d.title = message_of("fit.title");
  d.blocks.emplace_back(
      Paragraph{{"fit.answer",
                 {number("design", fit.design_mpa_2e6, "MPa"), number("mean", fit.mean_mpa_2e6, "MPa"),
                  number("slope", fit.slope, ""), number("survival", 100 * options.survival, "%"),
                  number("confidence", 100 * options.confidence, "%")}}});
  d.blocks.emplace_back(PictureBlock{fit_plot(fit, tests), message_of("fit.plot")});
  Facts f;
  const auto add = [&](MessageId label, double value, int digits) {
    f.facts.push_back({message_of(label), Quantity{value, "", digits}});
  };
  add("fit.slope", fit.slope, 4);
  add("fit.log-a", fit.log_a, 5);
  add("fit.deviation", fit.deviation, 3);
  add("fit.factor", fit.tolerance_factor, 4);
  add("fit.design-log-a", fit.design_log_a, 5);
  add("fit.failures", static_cast<double>(fit.failures), 6);
  add("fit.run-outs", static_cast<double>(fit.run_outs), 6);
  d.blocks.emplace_back(std::move(f));
  for (const Message& note : fit.evidence.notes) d.blocks.emplace_back(Paragraph{note});
  Table t =
      table_of({"column.range", "column.cycles", "column.run-out", "column.residual", "column.outlier"});
  for (std::size_t i = 0; i < tests.size(); ++i) {
    const bool out = std::find(fit.outliers.begin(), fit.outliers.end(), i) != fit.outliers.end();
    t.rows.push_back({Quantity{tests[i].range_mpa, "MPa", 4}, Quantity{tests[i].cycles, "", 4},
                      message_of(tests[i].run_out ? MessageId("word.yes") : "word.no"),
                      Quantity{fit.residuals[i], "", 3},
                      message_of(out ? MessageId("word.yes") : "word.no")});
  }
  d.blocks.emplace_back(Heading{2, message_of("fit.tests")});
  d.blocks.emplace_back(std::move(t));
  d.blocks.emplace_back(Paragraph{message_of("fit.holds")});
  return d;
}

}  // namespace seamwright::reports
