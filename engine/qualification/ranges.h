// SPDX-License-Identifier: GPL-3.0-or-later
// The qualification of procedures and welders shares these: the answer to one question, and ranges of
// numbers.
#pragma once

#include <limits>
#include <string>
#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::qualification {

enum class Answer {
  yes,
  no,
  cannot_decide
};  ///< worse is larger; no is worse than not knowing when both stand
const char* name_of(Answer answer);

/// One item of a check: what was asked, what is covered, whether it is, and the rule.
struct Item {
  std::string item;   ///< "thickness", "position", ...
  std::string found;  ///< as stated
  std::string covered;
  Answer answer = Answer::yes;
  Source source;
  bool from_memory = true;
  Message note{};  ///< what has to be said of it; no id: nothing
};
using Check = std::vector<Item>;
/// The worst: no, then cannot_decide, then yes. Yes for an empty check.
Answer verdict(const Check& check);
/// The first item with the worst answer, or null.
const Item* first_reason(const Check& check);

struct Range {
  double least = 0, most = std::numeric_limits<double>::infinity();
  bool contains(double value) const { return value >= least * (1 - 1e-9) && value <= most * (1 + 1e-9); }
};
/// "1.05 .. 1.95 mm", "25 mm and more".
std::string text_of(const Range& range, const std::string& unit);
/// An item for a number; a number that is not positive is not known.
Item item_of(std::string name, double value, const Range& range, const std::string& unit, Source source);
Item item_of(std::string name, const std::string& found, const std::string& covered, Answer answer,
             Source source);
/// An item with something said of it.
Item with_note(Item item, MessageId id, std::vector<Argument> arguments = {});
/// The worse of two answers: no, then cannot_decide, then yes.
Answer worse_of(Answer a, Answer b);
/// Item by item the worse of two checks of the same items.
Check worse_items(Check one, const Check& other);
/// A number as items show it.
std::string value_text(double value);

}  // namespace seamwright::qualification
