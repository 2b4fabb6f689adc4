// SPDX-License-Identifier: GPL-3.0-or-later
// What a result or sheet says, as blocks, once; the renderers turn them into terminal text, HTML and pages.
// Sentences are message ids; the languages stand in reports/text. Numbers stay numbers until a renderer
// formats them.
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
using Cell = std::variant<Verbatim, Quantity, State, Message>;

struct Heading {
  int level = 1;
  Message text;
};
struct Paragraph {
  Message text;
};
struct Facts {
  struct Fact {
    Message label;
    Cell value;
  };
  std::vector<Fact> facts;
};
struct Table {
  std::vector<Message> columns;
  std::vector<std::vector<Cell>> rows;
};
/// Framed; for what can hurt someone.
struct Caution {
  std::vector<Message> texts;
};
/// The one answer of the page.
struct Answer {
  State verdict;
  Message text;
};
/// A tree of reasons.
struct Reason {
  Message text;
  std::vector<Reason> because;
};
struct Reasons {
  std::vector<Reason> reasons;
};
/// A drawing of our own; trusted SVG.
struct Drawing {
  std::string svg;
  Message caption;
};
using Block = std::variant<Heading, Paragraph, Facts, Table, Caution, Answer, Reasons, Drawing>;

struct Document {
  Message title;
  std::vector<Block> blocks;
  std::vector<Message> foot;  ///< program version, hashes
};

}  // namespace seamwright::reports
