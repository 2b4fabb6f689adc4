// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/qualification/plausible.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace seamwright::qualification {

namespace {

Source practice(const char* text) { return {"common-practice", text}; }

// Processes usually run with these on steel: common practice, without a standard. Current for each mm of wall
// up to 6 mm: charts of gas suppliers give 28 to 44 A for TIG on steel between 1.6 and 6 mm, and a third of
// that less or more is seldom met. Processes by the beginning of their number in ISO 4063.
struct UsualCurrent {
  const char* process;
  Range amperes_per_mm, volts, hand_speed_mm_s;
  const char* current;
};
constexpr std::array usual_settings{UsualCurrent{"14", {15, 60}, {8, 20}, {0.5, 5}, "DCEN"},
                                    UsualCurrent{"15", {15, 60}, {15, 35}, {0.5, 10}, "DCEN"},
                                    UsualCurrent{"13", {15, 100}, {13, 36}, {2, 20}, "DCEP"},
                                    UsualCurrent{"111", {15, 100}, {18, 40}, {1, 10}, ""}};
constexpr double wall_of_rule_mm = 6;

const UsualCurrent* usual_of(const std::string& process) {
  const auto at = std::find_if(usual_settings.begin(), usual_settings.end(),
                               [&](const UsualCurrent& u) { return process.starts_with(u.process); });
  return at == usual_settings.end() ? nullptr : &*at;
}

void add_span(Check& check, const char* name, const Span& span, const Range& usual, const char* unit,
              const Source& source) {
  if (!span.stated()) return;
  const bool fine = usual.contains(span.least) && usual.contains(span.most);
  const auto tenth = [](double x) { return value_text(std::round(10 * x) / 10); };
  check.push_back(item_of(name, tenth(span.least) + " .. " + tenth(span.most) + " " + unit,
                          text_of(usual, unit), fine ? Answer::yes : Answer::cannot_decide, source));
}

// The thinner part of the joint carries the least.
Span thinner_walls(const Sheet& s) {
  if (!s.other_wall_mm.stated()) return s.wall_mm;
  if (!s.wall_mm.stated()) return s.other_wall_mm;
  return {std::min(s.wall_mm.least, s.other_wall_mm.least), std::min(s.wall_mm.most, s.other_wall_mm.most)};
}

void add_runs(Check& check, const Sheet& s) {
  const UsualCurrent* usual = usual_of(s.process);
  if (!usual) return;
  const Span wall = thinner_walls(s);
  const bool by_hand = s.mechanisation == "manual" || s.mechanisation == "partly-mechanised";
  for (const Run& run : s.runs) {
    if (run.amperes.stated() && wall.stated() && wall.least > 0)
      add_span(check, "current for each mm of wall",
               {run.amperes.least / std::min(wall.most, wall_of_rule_mm),
                run.amperes.most / std::min(wall.least, wall_of_rule_mm)},
               usual->amperes_per_mm, "A/mm", practice("charts of gas suppliers, a third wider"));
    add_span(check, "voltage", run.volts, usual->volts, "V", practice("usual settings"));
    if (by_hand)
      add_span(check, "travel speed", run.speed_mm_s, usual->hand_speed_mm_s, "mm/s",
               practice("usual speeds by hand"));
  }
  if (s.current.empty() || usual->current[0] == '\0') return;
  check.push_back(
      item_of("polarity", s.current, usual->current,
              s.current.find(usual->current) != std::string::npos ? Answer::yes : Answer::cannot_decide,
              practice("usual on steel")));
}

// The temperatures of a sheet or of a record. Above 300 C the formulas for cooling no longer hold either.
void add_temperatures(Check& check, const char* name, double preheat, double interpass) {
  if (!(interpass > 0)) return;
  check.push_back(item_of(name, value_text(interpass) + " C", text_of({std::max(preheat, 0.0), 300}, "C"),
                          interpass < preheat ? Answer::no
                          : interpass > 300   ? Answer::cannot_decide
                                              : Answer::yes,
                          practice("not below the preheat, not above what cooling times hold for")));
}

// The symbol of ISO 14175 in a text: "I1", "M21", "ISO 14175-M21-ArC-18"; "" where there is none.
std::string gas_symbol(const std::string& text) {
  constexpr std::array symbols{"I1",  "I2",  "I3",  "M11", "M12", "M13", "M14", "M20", "M21", "M22", "M23",
                               "M24", "M25", "M26", "M27", "M31", "M32", "M33", "M34", "M35", "C1",  "C2",
                               "R1",  "R2",  "N1",  "N2",  "N3",  "N4",  "N5",  "O1",  "Z"};
  std::string word;
  for (const char c : text + " ") {
    if (c != ' ' && c != '-' && c != ',' && c != ';') {
      word += c;
      continue;
    }
    if (std::find(symbols.begin(), symbols.end(), word) != symbols.end()) return word;
    word.clear();
  }
  return {};
}

// Judges the gas by the process' name in ISO 4063.
void add_gas(Check& check, const char* name, const std::string& process, const std::string& gas) {
  if (gas.empty()) return;
  const auto is = [&](std::initializer_list<const char*> all) {
    return std::find(all.begin(), all.end(), process) != all.end();
  };
  const std::string groups = is({"131", "132", "133", "141", "142", "143", "15"}) ? "I"
                             : is({"135", "136", "138"})                          ? "MC"
                             : is({"145", "146"})                                 ? "R"
                                                                                  : "";
  if (groups.empty()) return;
  const std::string symbol = gas_symbol(gas), covered = groups == "I"    ? "I1 .. I3: inert"
                                                        : groups == "MC" ? "M11 .. M35, C1, C2: active"
                                                                         : "R1, R2: reducing";
  const Answer answer = symbol.empty() || symbol == "Z"               ? Answer::cannot_decide
                        : groups.find(symbol[0]) != std::string::npos ? Answer::yes
                                                                      : Answer::no;
  check.push_back(
      item_of(name, gas, covered, answer, {"iso-4063", "name of the process; symbols of ISO 14175"}));
}

struct Definition {
  const char* group;  ///< and its sub-groups
  double c, cr_least, cr_most, mo;
};
// ISO/TR 15608: group 5 and 5.1 as read in the text of 2000, group 1 from memory (castings up to 0.4 % Cr).
constexpr std::array definitions{Definition{"5.1", 0.35, 0.75, 1.5, 0.7}, Definition{"5", 0.35, 0, 100, 100},
                                 Definition{"1", 0.25, 0, 0.4, 0.7}};

const Definition* definition_of(const std::string& group) {
  const auto at = std::find_if(definitions.begin(), definitions.end(), [&](const Definition& d) {
    return group == d.group || group.starts_with(std::string(d.group) + ".");
  });
  return at == definitions.end() ? nullptr : &*at;
}

// The chemistry is that of one part: it must answer the definition of one of the groups.
void add_chemistry(Check& check, const Sheet& s, const procedure::Chemistry* steel) {
  if (!steel || s.groups.empty()) return;
  Answer answer = Answer::no;
  std::string covered;
  for (const std::string& group : s.groups) {
    const Definition* d = definition_of(group);
    if (!d) {
      answer = answer == Answer::yes ? answer : Answer::cannot_decide;
      continue;
    }
    if (steel->c <= d->c && steel->cr >= d->cr_least && steel->cr <= d->cr_most && steel->mo <= d->mo)
      answer = Answer::yes;
    const std::string words =
        group + ": C <= " + value_text(d->c) +
        (d->cr_most < 100 ? ", Cr " + text_of({d->cr_least, d->cr_most}, "") + ", Mo <= " + value_text(d->mo)
                          : "");
    if (covered.find(words) == std::string::npos) covered += (covered.empty() ? "" : "; ") + words;
  }
  check.push_back(
      item_of("chemistry of the group",
              "C " + value_text(steel->c) + ", Cr " + value_text(steel->cr) + ", Mo " + value_text(steel->mo),
              covered, answer, {"iso-tr-15608", "definition of the groups"}));
}

void add_record(Check& check, const Record& r) {
  const auto editions = {2004, 2008, 2012, 2017, 2019};
  const bool known = std::find(editions.begin(), editions.end(), r.edition) != editions.end();
  if (!r.pre_production)
    check.push_back(item_of("edition of the record", std::to_string(r.edition), "2004 .. 2019",
                            known ? Answer::yes : Answer::cannot_decide, {"iso-15614-1", "editions"}));
  if (r.date)
    check.push_back(item_of("date of the record", text_of(*r.date), ">= " + std::to_string(r.edition),
                            static_cast<int>(r.date->year()) >= r.edition ? Answer::yes : Answer::no,
                            {"iso-15614-1", "year of the edition"}));
  add_temperatures(check, "interpass of the record", r.tested.preheat_c, r.tested.interpass_c);
  add_gas(check, "gas of the record", r.tested.process, r.tested.gas);
}

}  // namespace

Check plausibility(const Sheet& sheet, const Record* record, const procedure::Chemistry* steel) {
  Check check;
  add_runs(check, sheet);
  add_temperatures(check, "interpass", sheet.preheat_c, sheet.interpass_c);
  add_gas(check, "gas for the process", sheet.process, sheet.gas);
  add_chemistry(check, sheet, steel);
  if (record) add_record(check, *record);
  return check;
}

}  // namespace seamwright::qualification
