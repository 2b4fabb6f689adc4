// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/frame_page_blocks.h"

#include <algorithm>
#include <map>
#include <set>

#include "catalog/book/records/names.h"
#include "reports/content/evidence_blocks.h"
#include "reports/text/text.h"

namespace seamwright::reports {

namespace {

using book::Record;
namespace field = book::field;
namespace kind = book::kind;

std::vector<const Record*> standing(const book::Trace& t, std::initializer_list<const char*> kinds) {
  std::vector<const Record*> all;
  for (const auto* part : {&t.own, &t.behind})
    for (const Record& r : *part)
      if (r.current() && std::any_of(kinds.begin(), kinds.end(), [&](const char* k) { return r.kind == k; })) all.push_back(&r);
  std::sort(all.begin(), all.end(), [](const Record* a, const Record* b) { return a->entry.seq < b->entry.seq; });
  return all;
}

std::string joined(const std::set<std::string>& words) {
  std::string out;
  for (const std::string& w : words) out.append(out.empty() ? "" : ", ").append(w);
  return out;
}

Cell count_cell(std::size_t count) { return Quantity{static_cast<double>(count), "", 9}; }
Cell words_cell(const std::string& words) { return Verbatim{words.empty() ? "–" : words}; }

// A long list of welds is cut, and says so.
Cell welds_cell(const std::set<std::string>& welds) {
  constexpr std::size_t most = 6;
  if (welds.size() <= most) return words_cell(joined(welds));
  const std::set<std::string> first(welds.begin(), std::next(welds.begin(), most));
  return Message{"page.and-more", {text("welds", joined(first)), number("count", static_cast<double>(welds.size() - most), "")}};
}

std::string day_of(const Record& r) { return r.text_of(field::on).empty() ? r.entry.time.substr(0, 10) : r.text_of(field::on); }

void add_identity(Document& d, const book::Trace& t, const book::FrameState& s) {
  Facts f;
  const auto add = [&](MessageId label, Cell cell) { f.facts.push_back({message_of(label), std::move(cell)}); };
  for (const Record* r : standing(t, {kind::frame})) {
    add("page.design", Verbatim{r->text_of(field::design) + " " + r->text_of(field::revision)});
    if (!r->text_of(field::order).empty()) add("page.order", Verbatim{r->text_of(field::order)});
    add("page.begun", Verbatim{day_of(*r)});
  }
  add("page.use", message_of(s.rig_only ? MessageId("page.rig-only") : "page.ridden"));
  const auto ratings = standing(t, {kind::rating});
  if (!ratings.empty()) {
    const Record& r = *ratings.back();
    const auto life = r.content.find(field::life_km);
    if (life != r.content.end() && life->is_number()) add("page.rated-life", Quantity{life->get<double>(), "km", digits_of("life")});
    if (!r.text_of(field::governing_weld).empty()) add("page.governing", Verbatim{r.text_of(field::governing_weld)});
    add("page.rated-by", Verbatim{r.text_of(field::rules) + ", " + r.text_of(field::program)});
  }
  d.blocks.emplace_back(Heading{2, message_of("page.frame")});
  d.blocks.emplace_back(std::move(f));
}

struct Welder {
  std::size_t welds = 0, repairs = 0;
  std::set<std::string> days, certificates, signers, unqualified;
  std::map<std::string, std::size_t> covering;  // welds by the certificate that covers them
};

// The certificates that cover, each with its welds; where none does, those that there are.
std::string covering(const Welder& w) {
  std::string out;
  for (const auto& [id, welds] : w.covering) out.append(out.empty() ? "" : ", ").append(id).append(" (").append(std::to_string(welds)).append(")");
  return out.empty() ? joined(w.certificates) : out;
}

void add_welders(Document& d, const book::Trace& t, const book::FrameState& s) {
  std::map<std::string, Welder> welders;
  std::map<std::string, std::set<std::string>> welders_of;  // by weld
  for (const Record* r : standing(t, {kind::weld, kind::repair})) {
    const std::string name = r->text_of(field::welder).empty() ? r->entry.author : r->text_of(field::welder);
    Welder& w = welders[name];
    ++(r->kind == kind::weld ? w.welds : w.repairs);
    w.days.insert(day_of(*r));
    if (r->entry.author != name) w.signers.insert(r->entry.author);
    welders_of[r->text_of(field::weld)].insert(name);
    if (const auto covered = s.covered_by.find(r->text_of(field::weld)); covered != s.covered_by.end()) ++w.covering[covered->second];
  }
  for (const Record* r : standing(t, {kind::certificate}))
    if (const auto w = welders.find(r->text_of(field::welder)); w != welders.end()) w->second.certificates.insert(r->text_of(field::id));
  for (const book::Gap& g : s.gaps)
    if (g.what.id == "gap.not-qualified" || g.what.id == "gap.no-certificate" || g.what.id == "gap.signed-unqualified")
      for (const std::string& name : welders_of[g.weld]) welders[name].unqualified.insert(g.weld);
  if (welders.empty()) return;
  Table table = table_of({"label.welder", "page.welds", "page.repairs", "page.days", "page.certificates", "page.unqualified", "page.signed-by-others"});
  for (const auto& [name, w] : welders) {
    const std::string days = w.days.size() > 1 ? *w.days.begin() + " – " + *w.days.rbegin() : joined(w.days);
    table.rows.push_back({Verbatim{name}, count_cell(w.welds), count_cell(w.repairs), Verbatim{days}, words_cell(covering(w)),
                          w.unqualified.empty() ? Cell(message_of("page.all-qualified")) : welds_cell(w.unqualified), words_cell(joined(w.signers))});
  }
  d.blocks.emplace_back(Heading{2, message_of("page.welders")});
  d.blocks.emplace_back(std::move(table));
}

void add_material(Document& d, const book::Trace& t) {
  std::map<std::string, std::set<std::string>> lots, documents, welds;  // by heat
  std::map<std::string, std::string> heat_of;                           // by lot
  for (const Record* r : standing(t, {kind::lot})) {
    const std::string heat = r->text_of(field::heat);
    heat_of[r->text_of(field::id)] = heat;
    lots[heat].insert(r->text_of(field::id));
    const std::string type = r->text_of(field::certificate_type), number = r->text_of(field::certificate_number);
    documents[heat].insert(type.empty() ? "–" : number.empty() ? type : type + " " + number);
  }
  for (const Record* r : standing(t, {kind::weld, kind::repair}))
    if (const auto used = r->content.find(field::lots); used != r->content.end() && used->is_array())
      for (const book::Json& lot : *used)
        if (lot.is_string()) welds[heat_of[lot.get<std::string>()]].insert(r->text_of(field::weld));
  if (lots.empty()) return;
  Table table = table_of({"page.heat", "page.lots", "page.document", "page.in-welds"});
  for (const auto& [heat, of_heat] : lots)
    table.rows.push_back({Verbatim{heat}, words_cell(joined(of_heat)), words_cell(joined(documents[heat])), count_cell(welds[heat].size())});
  d.blocks.emplace_back(Heading{2, message_of("page.material")});
  d.blocks.emplace_back(std::move(table));
}

void add_inspections(Document& d, const book::Trace& t) {
  std::map<std::pair<std::string, std::string>, std::pair<std::size_t, std::set<std::string>>> all;  // by method and inspector
  for (const Record* r : standing(t, {kind::inspection})) {
    auto& [accepted, rejected] = all[{r->text_of(field::method), r->entry.author}];
    if (r->text_of(field::result) == "accept")
      ++accepted;
    else
      rejected.insert(r->text_of(field::weld));
  }
  if (all.empty()) return;
  Table table = table_of({"page.method", "page.inspector", "page.accepted", "page.rejected"});
  for (const auto& [who, found] : all)
    table.rows.push_back({Verbatim{who.first}, Verbatim{who.second}, count_cell(found.first), welds_cell(found.second)});
  d.blocks.emplace_back(Heading{2, message_of("page.inspections")});
  d.blocks.emplace_back(std::move(table));
}

void add_findings(Document& d, const book::Trace& t) {
  std::map<std::string, std::string> decided;
  for (const Record* r : standing(t, {kind::disposition})) decided[r->text_of(field::nonconformity)] = r->text_of(field::decision);
  const auto found = standing(t, {kind::nonconformity});
  if (found.empty()) return;
  Table table = table_of({"book.kind-nonconformity", "column.weld", "label.what", "label.day", "page.decision"});
  for (const Record* r : found) {
    const std::string decision = decided[r->text_of(field::id)];
    table.rows.push_back({Verbatim{r->text_of(field::id)}, words_cell(r->text_of(field::weld)), Verbatim{r->text_of(field::what).substr(0, 400)},
                          Verbatim{day_of(*r)}, decision.empty() ? Cell(message_of("page.open")) : term_cell("record-word.", decision)});
  }
  d.blocks.emplace_back(Heading{2, message_of("page.findings")});
  d.blocks.emplace_back(std::move(table));
}

void add_concessions(Document& d, const book::FrameState& s) {
  struct Covered {
    std::size_t count = 0;
    std::set<std::string> welds;
  };
  std::map<std::tuple<std::string, std::string, std::string>, Covered> all;  // by kind, reason and signer
  for (const book::Gap& g : s.gaps) {
    if (g.excepted_by.empty()) continue;
    Covered& c = all[{std::string(g.what.id.text()).substr(4), g.reason, g.excepted_by}];
    ++c.count;
    if (!g.weld.empty()) c.welds.insert(g.weld);
  }
  if (all.empty()) return;
  Table table = table_of({"page.concession", "page.count", "page.at", "column.reason", "page.signer"});
  for (const auto& [of, c] : all)
    table.rows.push_back({term_cell("gap-kind.", std::get<0>(of)), count_cell(c.count), welds_cell(c.welds), Verbatim{std::get<1>(of)}, Verbatim{std::get<2>(of)}});
  d.blocks.emplace_back(Heading{2, message_of("page.concessions")});
  d.blocks.emplace_back(std::move(table));
}

void add_field_reports(Document& d, const book::Trace& t) {
  const auto reports = standing(t, {kind::field_report});
  if (reports.empty()) return;
  Table table = table_of({"label.day", "page.km", "label.what", "column.weld", "label.cracked"});
  for (const Record* r : reports) {
    const auto km = r->content.find(field::km);
    table.rows.push_back({Verbatim{day_of(*r)}, km != r->content.end() && km->is_number() ? Cell(Quantity{km->get<double>(), "km", 4}) : words_cell(""),
                          Verbatim{r->text_of(field::what).substr(0, 400)}, words_cell(r->text_of(field::weld)),
                          message_of(r->content.value(field::cracked, false) ? MessageId("word.yes") : "word.no")});
  }
  d.blocks.emplace_back(Heading{2, message_of("page.reports")});
  d.blocks.emplace_back(std::move(table));
}

// Entries that came after the frame left stand first.
void add_since_shipment(Document& d, const book::Trace& t, const book::FrameState& s) {
  if (!s.shipment) return;
  std::set<std::string> since;
  for (const Record& r : t.own)
    if (r.current() && r.entry.seq > s.shipment->entry.seq) since.insert(std::to_string(r.entry.seq));
  if (!since.empty()) d.blocks.emplace_back(Paragraph{{"page.since-shipment", {text("entries", joined(since))}}});
}

}  // namespace

Message gap_named(const std::string& key) {
  const std::size_t end = key.find(':');
  std::string rest = end == std::string::npos ? std::string() : key.substr(end + 1);
  for (std::size_t at = rest.find(':'); at != std::string::npos; at = rest.find(':', at)) rest.replace(at, 1, ", ");
  const std::string name = key.substr(0, end);
  return {"record.gap-named", {term_argument("kind", "gap-kind.", name.starts_with("gap.") ? name.substr(4) : name), text("at", rest)}};
}

void add_frame_page(Document& d, const book::Trace& t, const book::FrameState& s) {
  add_since_shipment(d, t, s);
  add_identity(d, t, s);
  add_welders(d, t, s);
  add_material(d, t);
  add_inspections(d, t);
  add_findings(d, t);
  add_concessions(d, s);
  add_field_reports(d, t);
}

}  // namespace seamwright::reports
