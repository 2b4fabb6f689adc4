// SPDX-License-Identifier: GPL-3.0-or-later
// The smallest things that blocks and pictures say. Numbers stay numbers until a renderer formats them.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::reports {

/// Verbatim text of the user (ids, names): escaped, never interpreted.
struct Verbatim {
  std::string text;
};
/// A number with its unit and the significant digits that are true.
struct Quantity {
  double value = 0;
  std::string unit;
  int digits = 3;
};
/// A verdict or coverage with its word and shape: "meets", "falls_short", "not_covered", "extended".
struct State {
  std::string name;
};
/// A place to write on by hand: on paper an empty box of at least 8 mm.
struct EntryBox {};
/// Several things with their labels in one line: "weld W16, current 58.5 A".
struct Particulars {
  struct Particular {
    Message label;
    std::variant<Verbatim, Quantity, Message> value;
  };
  std::vector<Particular> all;
};
using Cell = std::variant<Verbatim, Quantity, State, Message, EntryBox, Particulars>;
/// A place that can crack ("root@270") in words.
inline Cell site_cell(const std::string& site) { return Message{"site.named", {site_argument("site", site)}}; }

/// A word from a fixed list, as evidence.h has it.
inline Cell term_cell(const std::string& family, const std::string& word) {
  return Message{"word.term", {term_argument("term", family, word)}};
}

/// A curve by the name that its rule set has for it: "FAT 90 (hot-spot stress)" for FAT90hs.
inline Cell curve_cell(const std::string& curve) { return term_cell("curve-name.", curve); }
inline Argument curve_argument(const std::string& curve) { return term_argument("curve", "curve-name.", curve); }
/// A source by its designation, "ISO 8608:2016" for iso-8608-2016.
inline Cell source_cell(const std::string& key) { return term_cell("source-name.", key); }
inline Argument source_argument(const std::string& key) { return term_argument("source", "source-name.", key); }

}  // namespace seamwright::reports
