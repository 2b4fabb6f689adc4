// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/qualification/welder.h"

#include <algorithm>
#include <map>

namespace seamwright::qualification {

namespace {

using Words = std::vector<std::string>;

Source of_welders(const char* text) { return {"iso-9606-1", text}; }

bool contains_word(const Words& list, const std::string& word) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

std::string joined(const Words& list) {
  std::string out;
  for (const std::string& w : list) out += (out.empty() ? "" : ", ") + w;
  return out;
}

// Table 9 (butt) and Table 10 (fillet).
const std::map<std::string, Words> butt_positions{{"PA", {"PA"}},
                                                  {"PC", {"PA", "PC"}},
                                                  {"PE", {"PA", "PC", "PE"}},
                                                  {"PF", {"PA", "PF"}},
                                                  {"PH", {"PA", "PE", "PF", "PH"}},
                                                  {"PG", {"PG"}},
                                                  {"PJ", {"PA", "PE", "PG", "PJ"}},
                                                  {"H-L045", {"PA", "PC", "PE", "PF", "PH", "H-L045"}},
                                                  {"J-L045", {"PA", "PC", "PE", "PG", "PJ", "J-L045"}}};
const std::map<std::string, Words> fillet_positions{{"PA", {"PA"}},
                                                    {"PB", {"PA", "PB"}},
                                                    {"PC", {"PA", "PB", "PC"}},
                                                    {"PD", {"PA", "PB", "PC", "PD", "PE"}},
                                                    {"PE", {"PA", "PB", "PC", "PD", "PE"}},
                                                    {"PF", {"PA", "PB", "PF"}},
                                                    {"PH", {"PA", "PB", "PC", "PD", "PE", "PF", "PH"}},
                                                    {"PG", {"PG"}},
                                                    {"PJ", {"PA", "PB", "PD", "PE", "PG", "PJ"}}};
const std::map<std::string, Words> process_cover{{"135", {"135", "138"}},
                                                 {"138", {"135", "138"}},
                                                 {"141", {"141", "142", "143", "145"}},
                                                 {"143", {"141", "142", "143", "145"}},
                                                 {"145", {"141", "142", "143", "145"}},
                                                 {"121", {"121", "125"}},
                                                 {"125", {"121", "125"}}};
const std::map<int, std::vector<int>> filler_cover{{1, {1, 2}},       {2, {1, 2}}, {3, {1, 2, 3}},
                                                   {4, {1, 2, 3, 4}}, {5, {5}},    {6, {5, 6}}};

// "ss nb" and so on, 4.7.
Words details_covered(const Designation& test, bool by_piece) {
  if (by_piece) return {"sl"};
  if (test.fillet) return test.layers == "sl" ? Words{"sl"} : Words{"sl", "ml"};
  if (test.side == "bs") return {"ss mb", "bs"};
  if (test.backing == "nb") return {"ss nb", "ss mb", "bs", "ss gb", "ss fb"};
  if (test.backing == "mb") return {"ss mb", "bs"};
  if (test.backing == "gb") return {"ss mb", "bs", "ss gb"};
  if (test.backing == "fb") return {"ss mb", "bs", "ss fb"};
  return {};
}

std::string details_of(const Joint& j) {
  if (j.fillet) return j.layers;
  return j.side == "bs" ? "bs" : j.side + " " + j.backing;
}

bool branch_rule(const Designation& test, const Joint& j) {
  return !test.fillet && test.tube && test.side == "ss" && test.backing == "nb" && j.branch_angle_deg >= 60;
}

Item weld_item(const Designation& test, const Joint& j, const FilletPiece& piece) {
  const bool branch = j.branch_angle_deg > 0;
  const std::string found = branch ? "branch" : j.fillet ? "FW" : "BW";
  const std::string tested = test.fillet ? "FW" : piece.welded ? "BW, FW" : "BW";
  const bool fine = branch ? branch_rule(test, j) : j.fillet == test.fillet || (j.fillet && piece.welded);
  return item_of("weld", found, branch ? "branch of 60 deg and more by BW ss nb on tube" : tested,
                 fine ? Answer::yes : Answer::no, of_welders("5.4"));
}

// The designation holds more than what decides: spellings, words of no standard, an older text.
void add_designation(Check& check, const Designation& test) {
  if (!test.read_as.empty())
    check.push_back(with_note(item_of("designation", joined(test.read_as), "ISO 6947", Answer::yes,
                                      {"iso-9606-1", "11, spelling of the position"}),
                              "welders.read-as", {text("words", joined(test.read_as))}));
  if (!test.unread.empty())
    check.push_back(with_note(item_of("designation", joined(test.unread), "words of ISO 9606-1",
                                      Answer::cannot_decide, of_welders("11")),
                              "welders.unread", {text("words", joined(test.unread))}));
  if (test.older_text)
    check.push_back(with_note(item_of("standard", test.standard, "ISO 9606-1:2012", Answer::cannot_decide,
                                      of_welders("introduction")),
                              "welders.older-text", {text("standard", test.standard)}));
}

void add_filler(Check& check, const Designation& test, const Joint& j) {
  const bool no_filler = j.filler_kind == "nm" || j.process == "142";
  const auto groups = filler_cover.find(test.filler_group);
  Words names;
  if (groups != filler_cover.end())
    for (const int g : groups->second) names.push_back("FM" + std::to_string(g));
  const std::string asked = "FM" + std::to_string(j.filler_group);
  const bool unknown = j.filler_group <= 0 || (test.older_text && names.empty());
  check.push_back(item_of("filler group",
                          no_filler            ? "nm"
                          : j.filler_group > 0 ? asked
                                               : "",
                          names.empty() ? test.metal : joined(names),
                          no_filler                     ? Answer::yes
                          : unknown                     ? Answer::cannot_decide
                          : contains_word(names, asked) ? Answer::yes
                                                        : Answer::no,
                          of_welders("5.5")));
  const Words kinds =
      test.filler_kind == "S" || test.filler_kind == "M" ? Words{"S", "M"} : Words{test.filler_kind};
  check.push_back(item_of("filler kind", no_filler ? "nm" : j.filler_kind, joined(kinds),
                          no_filler                             ? Answer::yes
                          : j.filler_kind.empty()               ? Answer::cannot_decide
                          : contains_word(kinds, j.filler_kind) ? Answer::yes
                                                                : Answer::no,
                          of_welders("5.5")));
}

// A fillet by the supplementary piece: its own position PB decides; what the butt test's position might add
// is not known here.
Item position_item(const Designation& test, const Joint& j, bool by_piece) {
  Words positions, perhaps;
  const bool fillet = j.fillet && j.branch_angle_deg == 0;
  for (const std::string& p : test.positions)
    for (const std::string& q : positions_covered(p, fillet && !by_piece)) positions.push_back(q);
  if (by_piece) {
    for (const std::string& p : positions)
      for (const std::string& q : positions_covered(p, true)) perhaps.push_back(q);
    positions = positions_covered("PB", true);
  }
  const Answer answer = j.position.empty()                     ? Answer::cannot_decide
                        : contains_word(positions, j.position) ? Answer::yes
                        : contains_word(perhaps, j.position)   ? Answer::cannot_decide
                                                               : Answer::no;
  const Item item = item_of("position", j.position, joined(positions), answer,
                            of_welders(by_piece ? "5.4 e), Table 10" : "5.8, Tables 9 and 10"));
  return by_piece && answer != Answer::yes ? with_note(item, "welders.fillet-piece-position") : item;
}

Item diameter_item(const Designation& test, const Joint& j) {
  if (!j.tube) {
    const bool fine = !test.tube || test.diameter_mm > 25;
    return item_of("diameter", "plate", test.tube ? "plate by tubes above 25 mm" : "plate",
                   fine ? Answer::yes : Answer::no, of_welders("5.3"));
  }
  if (test.tube)
    return item_of("diameter", j.diameter_mm, diameter_range(test.diameter_mm), "mm",
                   of_welders("5.7, Table 7"));
  const bool flat = contains_word({"PA", "PB", "PC", "PD"}, j.position);
  const Range range = j.rotates && flat ? Range{75, std::numeric_limits<double>::infinity()}
                                        : Range{500, std::numeric_limits<double>::infinity()};
  return item_of("diameter", j.diameter_mm, range, "mm", of_welders("5.3"));
}

}  // namespace

Range butt_range(double s, bool gas) {
  if (gas) return {s < 3 ? s : 3, 1.5 * s};
  if (s < 3) return {s, std::max(3.0, 2 * s)};
  if (s < 12) return {3, 2 * s};
  return {3, std::numeric_limits<double>::infinity()};
}

Range fillet_range(double t) {
  if (t < 3) return {t, std::max(3.0, 2 * t)};
  return {3, std::numeric_limits<double>::infinity()};
}

Range diameter_range(double d) {
  if (d <= 25) return {d, 2 * d};
  return {std::max(0.5 * d, 25.0), std::numeric_limits<double>::infinity()};
}

std::vector<std::string> positions_covered(const std::string& tested, bool fillet) {
  const auto& table = fillet ? fillet_positions : butt_positions;
  const auto at = table.find(tested);
  return at == table.end() ? Words{} : at->second;
}

Check covers(const Designation& test, const Joint& j, const FilletPiece& piece) {
  Check check;
  Words processes;
  for (const std::string& p : test.processes) {
    const auto at = process_cover.find(p);
    const Words more = at == process_cover.end() ? Words{p} : at->second;
    processes.insert(processes.end(), more.begin(), more.end());
  }
  const bool by_piece = piece.welded && !test.fillet && j.fillet && j.branch_angle_deg == 0;
  add_designation(check, test);
  check.push_back(item_of("process", j.process, joined(processes),
                          j.process.empty()                     ? Answer::cannot_decide
                          : contains_word(processes, j.process) ? Answer::yes
                                                                : Answer::no,
                          of_welders("5.2")));
  check.push_back(weld_item(test, j, piece));
  add_filler(check, test, j);
  check.push_back(position_item(test, j, by_piece));
  const bool by_fillet = test.fillet || by_piece;
  check.push_back(item_of("thickness", j.thickness_mm,
                          by_piece      ? fillet_range(piece.wall_mm)
                          : test.fillet ? fillet_range(test.thickness_mm)
                                        : butt_range(test.thickness_mm, contains_word(test.processes, "311")),
                          "mm", of_welders(by_fillet ? "5.7, Table 8" : "5.7, Table 6")));
  check.push_back(diameter_item(test, j));
  const Words details = details_covered(test, by_piece);
  check.push_back(item_of("details", details_of(j), joined(details),
                          details.empty()                         ? Answer::cannot_decide
                          : contains_word(details, details_of(j)) ? Answer::yes
                                                                  : Answer::no,
                          of_welders("5.9")));
  return check;
}

namespace {

// End of the unbroken chain of confirmations.
Date confirmed_to(const Certificate& c) {
  std::vector<Date> days = c.confirmed;
  std::sort(days.begin(), days.end());
  Date limit = add_months(c.tested, 6);
  for (const Date& day : days)
    if (day >= c.tested && day <= limit) limit = std::max(limit, add_months(day, 6));
  return limit;
}

// A term of the route: until when, and the prolongation that began it; null: the test itself.
struct Term {
  Date until{}, began{};
  const Prolongation* by = nullptr;
};

// All terms in their order, each begun within the one before; none for route c.
std::vector<Term> terms_of(const Certificate& c) {
  if (c.route == 'c') return {};
  const int months = c.route == 'a' ? 36 : 24;
  std::vector<const Prolongation*> all;
  for (const Prolongation& p : c.prolonged) all.push_back(&p);
  std::stable_sort(all.begin(), all.end(), [](const auto* a, const auto* b) { return a->on < b->on; });
  std::vector<Term> terms{{add_months(c.tested, months), c.tested, nullptr}};
  for (const Prolongation* p : all)
    if (p->on >= c.tested && p->on <= terms.back().until && add_months(p->on, months) > terms.back().until)
      terms.push_back({add_months(p->on, months), p->on, p});
  return terms;
}

std::optional<Date> route_to(const Certificate& c) {
  const std::vector<Term> terms = terms_of(c);
  return terms.empty() ? std::nullopt : std::optional(terms.back().until);
}

}  // namespace

Message missing_evidence(char route, Date term_began, Date term_ends, const Prolongation& p) {
  std::vector<Date> days;
  for (const TestedWeld& t : p.tested) {
    if (!t.on.ok() || t.on > p.on || t.method.empty()) continue;
    const bool counts = route == 'a' ? t.on > term_began
                                     : t.on >= add_months(term_ends, -6) && (t.method == "RT" || t.method == "UT" || t.method == "destructive");
    if (counts) days.push_back(t.on);
  }
  const Argument on = text("day", text_of(p.on));
  if (days.size() < (route == 'a' ? 1U : 2U)) return {route == 'a' ? MessageId("welders.no-retest") : "welders.no-two-welds", {on}};
  if (!p.attached) return {"welders.no-prolongation-record", {on}};
  return {};
}

namespace {

// The term in which a day lies rests on all prolongations before it.
Item prolonged_item(const Certificate& c, Date day) {
  const std::vector<Term> terms = terms_of(c);
  const Source rule = of_welders(c.route == 'a' ? "9.3 a)" : "9.3 b)");
  Item item = item_of("prolonged", text_of(day), "<= " + text_of(terms.back().until), day <= terms.back().until ? Answer::yes : Answer::no, rule);
  if (item.answer == Answer::no || !c.evidence_asked) return item;
  for (std::size_t i = 1; i < terms.size() && day > terms[i - 1].until; ++i)
    if (Message missing = missing_evidence(c.route, terms[i - 1].began, terms[i - 1].until, *terms[i].by); !missing.id.empty()) {
      item.answer = Answer::cannot_decide;
      item.note = std::move(missing);
      break;
    }
  return item;
}

// Route c holds as long as the employer's quality programme does, and shows welds of acceptable quality.
void add_programme(const Certificate& c, Check& check) {
  const Source rule = of_welders("9.3 c)");
  const bool fits = c.quality_programme == "3834-2" || c.quality_programme == "3834-3";
  check.push_back(item_of("quality programme", c.quality_programme, "3834-2, 3834-3",
                          fits ? Answer::yes : c.quality_programme.empty() ? Answer::cannot_decide : Answer::no, rule));
  check.push_back(item_of("documented welds", c.quality_record, "stated", c.quality_record.empty() ? Answer::cannot_decide : Answer::yes, rule));
}

}  // namespace

namespace {
std::string at_test(const Certificate& c) { return "tested " + text_of(c.tested); }
}  // namespace

Check valid_on(const Certificate& c, Date day, const std::string& employer) {
  const auto yes_no = [](bool fine) { return fine ? Answer::yes : Answer::no; };
  const std::string at = text_of(day);
  Check check;
  check.push_back(
      item_of("tested", at, ">= " + text_of(c.tested), yes_no(day >= c.tested), of_welders("9.1")));
  if (!c.designation.older_text && static_cast<int>(c.tested.year()) < 2012)
    check.push_back(item_of("standard", at_test(c), ">= 2012", Answer::cannot_decide,
                            {"iso-9606-1", "year of the edition"}));
  if (c.revoked) check.push_back(item_of("revoked", "yes", "no", Answer::no, of_welders("9.4")));
  const Date confirmed = confirmed_to(c);
  check.push_back(
      item_of("confirmed", at, "<= " + text_of(confirmed), yes_no(day <= confirmed), of_welders("9.2")));
  if (c.route != 'c') {
    check.push_back(prolonged_item(c, day));
    return check;
  }
  check.push_back(item_of("employer", employer, c.employer, employer.empty() ? Answer::cannot_decide : yes_no(employer == c.employer),
                          of_welders("9.3 c)")));
  if (c.evidence_asked) add_programme(c, check);
  return check;
}

Date holds_to(const Certificate& c) {
  const auto route = route_to(c);
  return route ? std::min(confirmed_to(c), *route) : confirmed_to(c);
}

std::vector<Due> due_of(const Certificate& c, Date day) {
  if (c.revoked || day < c.tested) return {};
  std::vector<Due> all{{false, confirmed_to(c), confirmed_to(c) < day}};
  if (const auto route = route_to(c)) all.push_back({true, *route, *route < day});
  std::stable_sort(all.begin(), all.end(), [](const Due& a, const Due& b) { return a.on < b.on; });
  return all;
}

}  // namespace seamwright::qualification
