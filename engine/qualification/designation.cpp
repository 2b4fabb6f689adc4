// SPDX-License-Identifier: GPL-3.0-or-later
// A certificate's designation, clause 11 of ISO 9606-1, taken apart word by word.
#include <algorithm>
#include <set>

#include "engine/evidence/typed.h"
#include "engine/qualification/procedure_check.h"
#include "engine/qualification/welder.h"

namespace seamwright::qualification {

namespace {

using Tokens = std::vector<std::string>;

Tokens split(const std::string& text) {
  Tokens words;
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
bool size(const std::string& text, double& value) {
  const auto typed = typed_number(text);
  if (!typed || !(*typed > 0 && *typed < 10000)) return false;
  value = *typed;
  return true;
}

// A letter with its number, in one word or in two: "s1.5", "s 1.5". Once: a second one is not read.
bool take_number(const Tokens& words, std::size_t& i, char letter, double& value) {
  if (words[i][0] != letter || value > 0) return false;
  if (words[i].size() > 1) return size(words[i].substr(1), value);
  if (i + 1 < words.size() && size(words[i + 1], value)) {
    ++i;
    return true;
  }
  return false;
}

Tokens tokens_of(const std::string& word) {
  Tokens out{""};
  for (const char c : word)
    if (c == '/')
      out.emplace_back();
    else
      out.back() += c;
  return out;
}

const std::set<std::string> test_processes{"111", "114", "121", "125", "131", "132", "133", "135", "136",
                                           "138", "141", "142", "143", "145", "146", "15",  "311"};
const std::set<std::string> test_positions{"PA", "PB", "PC", "PD",     "PE",    "PF",
                                           "PG", "PH", "PJ", "H-L045", "J-L045"};
const std::set<std::string> test_kinds{"S", "M", "B", "R", "RA", "RB", "RC", "RR",
                                       "A", "C", "P", "V", "W",  "Y",  "Z",  "nm"};

bool all_in(const Tokens& list, const std::set<std::string>& known) {
  return std::all_of(list.begin(), list.end(), [&](const std::string& w) { return known.contains(w); });
}

// ISO 6947 writes the inclined pipe without the P that its other positions have; certificates often write it.
std::string without_p(const std::string& position) {
  return position == "PH-L045" || position == "PJ-L045" ? position.substr(1) : position;
}

// "1.2", and the letters of the text of 1992: "W01".
bool names_metal(const std::string& w) {
  return is_group(w) || (w.size() == 3 && w.starts_with("W") && w[1] >= '0' && w[1] <= '9');
}

struct Reading {
  Designation d;
  bool product = false, weld = false, group = false;

  bool take_standard(const std::string& w) {
    if (w == "ISO" || w == "EN" || w == "DIN" || w == "BS") return true;
    const bool old = w.starts_with("287-1") || w.starts_with("EN287-1");
    if (!old && !w.starts_with("9606-1")) return false;
    if (!d.standard.empty()) return false;
    d.standard = old ? "EN 287-1" : "ISO 9606-1";
    d.older_text = old || w.starts_with("9606-1:1994");
    return true;
  }

  bool take_positions(const std::string& w) {
    Tokens read;
    for (const std::string& p : tokens_of(w)) read.push_back(without_p(p));
    if (!d.positions.empty() || !all_in(read, test_positions)) return false;
    d.positions = read;
    for (const std::string& p : tokens_of(w))
      if (without_p(p) != p) d.read_as.push_back(p + " = " + without_p(p));
    return true;
  }

  bool take_detail(const std::string& w) {
    std::string* const at = w == "ss" || w == "bs"                             ? &d.side
                            : w == "nb" || w == "mb" || w == "gb" || w == "fb" ? &d.backing
                            : w == "sl" || w == "ml"                           ? &d.layers
                                                                               : nullptr;
    if (!at || !at->empty()) return false;
    *at = w;
    return true;
  }

  void read_token(const Tokens& words, std::size_t& i) {
    const std::string& w = words[i];
    if (take_standard(w) || w == "lw" || w == "rw") return;
    if (d.processes.empty() && all_in(tokens_of(w), test_processes)) {
      d.processes = tokens_of(w);
    } else if (!product && (w == "P" || w == "T")) {
      product = true;
      d.tube = w == "T";
    } else if (!weld && (w == "BW" || w == "FW")) {
      weld = true;
      d.fillet = w == "FW";
    } else if (!group && w.size() == 3 && w.starts_with("FM") && w[2] >= '1' && w[2] <= '6') {
      group = true;
      d.filler_group = w[2] - '0';
    } else if (d.older_text && d.metal.empty() && names_metal(w)) {
      d.metal = w;
    } else if (d.filler_kind.empty() && test_kinds.contains(w)) {
      d.filler_kind = w;
    } else if (!take_number(words, i, 's', d.thickness_mm) && !take_number(words, i, 't', d.thickness_mm) &&
               !take_number(words, i, 'D', d.diameter_mm) && !take_positions(w) && !take_detail(w)) {
      d.unread.push_back(w);
    }
  }
};

}  // namespace

Designation read_designation(const std::string& text) {
  const Tokens words = split(text);
  Reading r;
  for (std::size_t i = 0; i < words.size(); ++i) r.read_token(words, i);
  const Designation& d = r.d;
  const char* missing = d.processes.empty()                                  ? "process"
                        : !r.product                                         ? "product"
                        : !r.weld                                            ? "weld"
                        : !r.group && d.filler_kind != "nm" && !d.older_text ? "filler group"
                        : !(d.thickness_mm > 0)                              ? "thickness"
                        : d.positions.empty()                                ? "position"
                        : d.tube && !(d.diameter_mm > 0)                     ? "diameter"
                                                                             : nullptr;
  if (missing)
    throw Fault{
        Message{"qualification.unreadable",
                {seamwright::text("found", text.substr(0, 200)), seamwright::text("missing", missing)}}};
  return r.d;
}

std::string text_of(const Designation& d) {
  std::string text = d.standard.empty() ? std::string() : d.standard + " ";
  for (std::size_t i = 0; i < d.processes.size(); ++i) text += (i > 0 ? "/" : "") + d.processes[i];
  text += d.tube ? " T" : " P";
  text += d.fillet ? " FW" : " BW";
  if (d.filler_group > 0) text += " FM" + std::to_string(d.filler_group);
  if (!d.filler_kind.empty()) text += " " + d.filler_kind;
  text += (d.fillet ? " t" : " s") + value_text(d.thickness_mm);
  if (d.diameter_mm > 0) text += " D" + value_text(d.diameter_mm);
  for (const std::string& position : d.positions) text += " " + position;
  for (const std::string* detail : {&d.side, &d.backing, &d.layers})
    if (!detail->empty()) text += " " + *detail;
  return text;
}

}  // namespace seamwright::qualification
