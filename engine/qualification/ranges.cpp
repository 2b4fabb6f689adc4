// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/qualification/ranges.h"

#include <algorithm>
#include <cmath>
#include <sstream>

namespace seamwright::qualification {

namespace {

int rank(Answer a) { return a == Answer::no ? 2 : a == Answer::cannot_decide ? 1 : 0; }

}  // namespace

std::string value_text(double value) {
  std::ostringstream out;
  out.imbue(std::locale::classic());
  out.precision(5);
  out << value;
  return out.str();
}

Answer worse_of(Answer a, Answer b) { return rank(b) > rank(a) ? b : a; }

Check worse_items(Check one, const Check& other) {
  for (std::size_t i = 0; i < one.size() && i < other.size(); ++i)
    if (worse_of(one[i].answer, other[i].answer) != one[i].answer) one[i] = other[i];
  return one;
}

const char* name_of(Answer answer) {
  switch (answer) {
    case Answer::yes:
      return "yes";
    case Answer::no:
      return "no";
    case Answer::cannot_decide:
      return "cannot_decide";
  }
  return "cannot_decide";
}

const Item* first_reason(const Check& check) {
  const auto worst = std::max_element(check.begin(), check.end(), [](const Item& a, const Item& b) {
    return rank(a.answer) < rank(b.answer);
  });
  return worst == check.end() || worst->answer == Answer::yes ? nullptr : &*worst;
}

Answer verdict(const Check& check) {
  const Item* reason = first_reason(check);
  return reason ? reason->answer : Answer::yes;
}

std::string text_of(const Range& r, const std::string& unit) {
  const std::string tail = unit.empty() ? "" : " " + unit;
  if (std::isinf(r.most)) return r.least > 0 ? ">= " + value_text(r.least) + tail : "any";
  if (r.least == 0) return "<= " + value_text(r.most) + tail;
  return value_text(r.least) + " .. " + value_text(r.most) + tail;
}

Item item_of(std::string name, double value, const Range& range, const std::string& unit, Source source) {
  const bool known = value > 0 && std::isfinite(value);
  return {std::move(name),
          known ? value_text(value) + (unit.empty() ? "" : " " + unit) : std::string(),
          text_of(range, unit),
          !known                  ? Answer::cannot_decide
          : range.contains(value) ? Answer::yes
                                  : Answer::no,
          std::move(source),
          true,
          {}};
}

Item item_of(std::string name, const std::string& found, const std::string& covered, Answer answer,
             Source source) {
  return {std::move(name), found, covered, answer, std::move(source), true, {}};
}

Item with_note(Item item, MessageId id, std::vector<Argument> arguments) {
  item.note = {id, std::move(arguments)};
  return item;
}

}  // namespace seamwright::qualification
