// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/qualification/welder.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <set>

namespace seamwright::qualification {

namespace {

using Words = std::vector<std::string>;

Source of_welders(const char* text) { return {"iso-9606-1", text}; }

bool holds(const Words& list, const std::string& word) {
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
Words details_covered(const Designation& test) {
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

std::vector<std::string> split(const std::string& text) {
  Words words;
  std::string word;
  for (const char c : text + " ") {
    if (c != ' ' && c != '\t') {
      word += c;
      continue;
    }
    if (!word.empty()) words.push_back(word);
    word.clear();
  }
  return words;
}

// "8,0" and "8.0".
bool number(std::string text, double& value) {
  std::replace(text.begin(), text.end(), ',', '.');
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size() && value > 0 && value < 10000;
}

// A letter with its number, in one word or in two: "s1.5", "s 1.5".
bool take_number(const Words& words, std::size_t& i, char letter, double& value) {
  if (words[i][0] != letter) return false;
  if (words[i].size() > 1) return number(words[i].substr(1), value);
  if (i + 1 < words.size() && number(words[i + 1], value)) {
    ++i;
    return true;
  }
  return false;
}

Words parts(const std::string& word) {
  Words out{""};
  for (const char c : word)
    if (c == '/')
      out.emplace_back();
    else
      out.back() += c;
  return out;
}

bool all_in(const Words& list, const std::set<std::string>& known) {
  return std::all_of(list.begin(), list.end(), [&](const std::string& w) { return known.contains(w); });
}

const std::set<std::string> known_processes{"111", "114", "121", "125", "131", "132", "133", "135", "136",
                                            "138", "141", "142", "143", "145", "146", "15",  "311"};
const std::set<std::string> known_positions{"PA", "PB", "PC", "PD",     "PE",    "PF",
                                            "PG", "PH", "PJ", "H-L045", "J-L045"};
const std::set<std::string> known_kinds{"S", "M", "B", "R", "RA", "RB", "RC", "RR",
                                        "A", "C", "P", "V", "W",  "Y",  "Z",  "nm"};

struct Reading {
  Designation d;
  bool product = false, weld = false, group = false;

  void take(const Words& words, std::size_t& i) {
    const std::string& w = words[i];
    if (w == "ISO" || w == "EN" || w.starts_with("9606-1")) return;
    if (d.processes.empty() && all_in(parts(w), known_processes)) {
      d.processes = parts(w);
    } else if (!product && (w == "P" || w == "T")) {
      product = true;
      d.tube = w == "T";
    } else if (!weld && (w == "BW" || w == "FW")) {
      weld = true;
      d.fillet = w == "FW";
    } else if (w.size() == 3 && w.starts_with("FM") && w[2] >= '1' && w[2] <= '6') {
      group = true;
      d.filler_group = w[2] - '0';
    } else if (d.filler_kind.empty() && known_kinds.contains(w)) {
      d.filler_kind = w;
    } else if (take_number(words, i, 's', d.thickness_mm) || take_number(words, i, 't', d.thickness_mm) ||
               take_number(words, i, 'D', d.diameter_mm)) {
    } else if (w == "PH-L045" || w == "PJ-L045") {
      d.positions = {w.substr(1)};
      d.unread.push_back(w);
    } else if (d.positions.empty() && all_in(parts(w), known_positions)) {
      d.positions = parts(w);
    } else if (w == "ss" || w == "bs") {
      d.side = w;
    } else if (w == "nb" || w == "mb" || w == "gb" || w == "fb") {
      d.backing = w;
    } else if (w == "sl" || w == "ml") {
      d.layers = w;
    } else if (w != "lw" && w != "rw") {
      d.unread.push_back(w);
    }
  }
};

bool branch_rule(const Designation& test, const Joint& j) {
  return !test.fillet && test.tube && test.side == "ss" && test.backing == "nb" && j.branch_angle_deg >= 60;
}

Item weld_item(const Designation& test, const Joint& j, bool with_fillet) {
  const std::string found = j.branch_angle_deg > 0 ? "branch" : j.fillet ? "FW" : "BW";
  const std::string tested = test.fillet ? "FW" : with_fillet ? "BW, FW" : "BW";
  Answer answer = Answer::no;
  if (j.branch_angle_deg > 0)
    answer = branch_rule(test, j) ? Answer::yes : Answer::no;
  else if (j.fillet == test.fillet || (j.fillet && with_fillet))
    answer = Answer::yes;
  return item_of("weld", found,
                 j.branch_angle_deg > 0 ? "branch of 60 deg and more by BW ss nb on tube" : tested, answer,
                 of_welders("5.4"));
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
  const bool flat = holds({"PA", "PB", "PC", "PD"}, j.position);
  const Range range = j.rotates && flat ? Range{75, std::numeric_limits<double>::infinity()}
                                        : Range{500, std::numeric_limits<double>::infinity()};
  return item_of("diameter", j.diameter_mm, range, "mm", of_welders("5.3"));
}

}  // namespace

Designation read_designation(const std::string& text) {
  const Words words = split(text);
  Reading r;
  for (std::size_t i = 0; i < words.size(); ++i) r.take(words, i);
  const Designation& d = r.d;
  const char* missing = d.processes.empty()                 ? "process"
                        : !r.product                        ? "product"
                        : !r.weld                           ? "weld"
                        : !r.group && d.filler_kind != "nm" ? "filler group"
                        : !(d.thickness_mm > 0)             ? "thickness"
                        : d.positions.empty()               ? "position"
                        : r.d.tube && !(d.diameter_mm > 0)  ? "diameter"
                                                            : nullptr;
  if (missing)
    throw Fault{
        Message{"qualification.unreadable",
                {seamwright::text("found", text.substr(0, 200)), seamwright::text("missing", missing)}}};
  return r.d;
}

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

Check covers(const Designation& test, const Joint& j, bool with_fillet) {
  Check check;
  Words processes;
  for (const std::string& p : test.processes) {
    const auto at = process_cover.find(p);
    const Words more = at == process_cover.end() ? Words{p} : at->second;
    processes.insert(processes.end(), more.begin(), more.end());
  }
  const auto yes_no = [](bool fine) { return fine ? Answer::yes : Answer::no; };
  const auto known = [](const std::string& word, Answer answer) {
    return word.empty() ? Answer::cannot_decide : answer;
  };
  check.push_back(item_of("process", j.process, joined(processes),
                          known(j.process, yes_no(holds(processes, j.process))), of_welders("5.2")));
  check.push_back(weld_item(test, j, with_fillet));

  const bool no_filler = j.filler_kind == "nm" || j.process == "142";
  const auto groups = filler_cover.find(test.filler_group);
  Words group_names;
  if (groups != filler_cover.end())
    for (const int g : groups->second) group_names.push_back("FM" + std::to_string(g));
  const std::string asked = "FM" + std::to_string(j.filler_group);
  check.push_back(item_of("filler group",
                          no_filler            ? "nm"
                          : j.filler_group > 0 ? asked
                                               : "",
                          joined(group_names),
                          no_filler             ? Answer::yes
                          : j.filler_group <= 0 ? Answer::cannot_decide
                                                : yes_no(holds(group_names, asked)),
                          of_welders("5.5")));
  const Words kinds =
      test.filler_kind == "S" || test.filler_kind == "M" ? Words{"S", "M"} : Words{test.filler_kind};
  check.push_back(item_of("filler kind", no_filler ? "nm" : j.filler_kind, joined(kinds),
                          no_filler ? Answer::yes : known(j.filler_kind, yes_no(holds(kinds, j.filler_kind))),
                          of_welders("5.5")));
  Words positions;
  for (const std::string& p : test.positions)
    for (const std::string& q : positions_covered(p, j.fillet && j.branch_angle_deg == 0))
      positions.push_back(q);
  check.push_back(item_of("position", j.position, joined(positions),
                          known(j.position, yes_no(holds(positions, j.position))),
                          of_welders("5.8, Tables 9 and 10")));
  check.push_back(test.fillet ? item_of("thickness", j.thickness_mm, fillet_range(test.thickness_mm), "mm",
                                        of_welders("5.7, Table 8"))
                              : item_of("thickness", j.thickness_mm,
                                        butt_range(test.thickness_mm, holds(test.processes, "311")), "mm",
                                        of_welders("5.7, Table 6")));
  check.push_back(diameter_item(test, j));
  const Words details = details_covered(test);
  check.push_back(item_of("details", details_of(j), joined(details),
                          details.empty() ? Answer::cannot_decide : yes_no(holds(details, details_of(j))),
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

// End of the route's term; none for route c.
std::optional<Date> route_to(const Certificate& c) {
  if (c.route == 'c') return std::nullopt;
  const int months = c.route == 'a' ? 36 : 24;
  std::vector<Date> days = c.prolonged;
  std::sort(days.begin(), days.end());
  Date limit = add_months(c.tested, months);
  for (const Date& day : days)
    if (day >= c.tested && day <= limit) limit = std::max(limit, add_months(day, months));
  return limit;
}

}  // namespace

Check valid_on(const Certificate& c, Date day, const std::string& employer) {
  const auto yes_no = [](bool fine) { return fine ? Answer::yes : Answer::no; };
  const std::string at = text_of(day);
  Check check;
  check.push_back(
      item_of("tested", at, ">= " + text_of(c.tested), yes_no(day >= c.tested), of_welders("9.1")));
  if (c.revoked) check.push_back(item_of("revoked", "yes", "no", Answer::no, of_welders("9.4")));
  const Date confirmed = confirmed_to(c);
  check.push_back(
      item_of("confirmed", at, "<= " + text_of(confirmed), yes_no(day <= confirmed), of_welders("9.2")));
  if (const auto route = route_to(c))
    check.push_back(item_of("prolonged", at, "<= " + text_of(*route), yes_no(day <= *route),
                            of_welders(c.route == 'a' ? "9.3 a)" : "9.3 b)")));
  else
    check.push_back(item_of("employer", employer, c.employer,
                            employer.empty() ? Answer::cannot_decide : yes_no(employer == c.employer),
                            of_welders("9.3 c)")));
  return check;
}

Date holds_to(const Certificate& c) {
  const auto route = route_to(c);
  return route ? std::min(confirmed_to(c), *route) : confirmed_to(c);
}

}  // namespace seamwright::qualification
