// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/figure_blocks.h"

#include "catalog/published/published_data.h"
#include "reports/content/evidence_blocks.h"
#include "reports/text/text.h"

namespace seamwright::reports {

namespace {

std::string shown(const figures::Parameter& p) {
  std::string s = p.name;
  if (!p.choices.empty()) {
    s.append("=");
    for (std::size_t i = 0; i < p.choices.size(); ++i) s.append(i ? "|" : "").append(p.choices[i]);
  } else if (p.kind == figures::ParameterKind::spectrum) {
    s.append("=CYCLES@MPA,...");
  }
  if (p.standard) s.append(" (").append(*p.standard).append(")");
  return p.standard || p.optional ? std::string("[").append(s).append("]") : s;
}

}  // namespace

Document figure_document(const figures::FigureResult& result, const published::Catalog& catalog) {
  Document d;
  d.title = {"figure.title", {text("figure", result.figure)}};
  Table t;
  t.columns = {message_of("column.quantity"), message_of("column.value")};
  for (const figures::NamedValue& v : result.values)
    t.rows.push_back({Verbatim{v.name}, Quantity{v.value, v.unit, digits_of(result.figure)}});
  d.blocks = {t, Heading{2, message_of("figure.behind")}, Reasons{{reason_of(result.evidence)}},
              Facts{{{message_of("column.coverage"), State{name_of(result.evidence.coverage)}}}}};
  d.foot = {{"foot.catalog", {text("hash", catalog.sha256.substr(0, 12))}}};
  return d;
}

Document figure_list_document() {
  Document d;
  d.title = message_of("figure.list-title");
  d.blocks.emplace_back(Paragraph{message_of("figure.list-use")});
  d.blocks.emplace_back(Paragraph{message_of("figure.own-curve")});
  Reasons all;
  for (const figures::Figure& f : figures::figures()) {
    Reason entry{{"figure.list-entry",
                  {text("figure", f.name), source_argument(f.source.key), text("clause", f.source.clause)}},
                 {}};
    for (const figures::Parameter& p : f.parameters)
      entry.because.push_back({{"figure.parameter", {text("parameter", shown(p))}}, {}});
    all.reasons.push_back(std::move(entry));
  }
  d.blocks.emplace_back(std::move(all));
  return d;
}

}  // namespace seamwright::reports
