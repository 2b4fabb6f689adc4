// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/evidence/evidence.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

#include "engine/evidence/listed_id.h"

namespace seamwright {

Argument number(std::string name, double value, std::string unit) {
  return {std::move(name), value, std::move(unit)};
}

Argument text(std::string name, std::string value) { return {std::move(name), std::move(value), ""}; }
Argument sentence_argument(std::string name, MessageId sentence) {
  return {std::move(name), sentence.text(), "word"};
}

Argument term_argument(std::string name, const std::string& family, std::string word) {
  return {std::move(name), std::move(word), std::string(term_unit) + family};
}
Argument site_argument(std::string name, std::string site) { return {std::move(name), std::move(site), "site"}; }

std::optional<MessageId> find_message_id(std::string_view id) {
  const std::string whole(id);
  MessageId found;
  found.text_ = listed_id(whole.c_str());
  return found.text_ ? std::optional(found) : std::nullopt;
}

MessageId composed_id(std::string_view family, std::string_view name) {
  return find_message_id(std::string(family).append(name)).value_or(MessageId("word.unknown"));
}

namespace {

// Numbers plainly, for the fields; the sentence has them in the reader's language.
std::string words_of(const Argument& argument) {
  const auto* value = std::get_if<double>(&argument.value);
  if (!value) return std::get<std::string>(argument.value);
  char plain[32];
  const auto end = std::to_chars(plain, plain + sizeof plain, *value, std::chars_format::general, 6).ptr;
  return {plain, end};
}

FaultPlace place_named_in(const Message& message) {
  FaultPlace place;
  for (const Argument& a : message.arguments) {
    const auto* value = std::get_if<double>(&a.value);
    if (a.name == "file") place.file = words_of(a);
    if (a.name == "line" && value) place.line = static_cast<int>(*value);
    if (a.name == "key") place.key = words_of(a);
    if (a.name == "found") place.found = words_of(a);
    if (a.name == "expected") place.expected = words_of(a);
    if (a.name == "nearest") place.nearest = words_of(a);
    if (a.name == "remedy") place.remedy = find_message_id(words_of(a)).value_or(MessageId());
  }
  return place;
}

}  // namespace

Fault::Fault(Message m, Category c) : message(std::move(m)), category(c), place(place_named_in(message)) {}

void Fault::put_at(const std::string& file, int line, const std::string& key) {
  message.arguments.push_back(text("file", file));
  message.arguments.push_back(number("line", line, ""));
  if (!key.empty()) message.arguments.push_back(text("key", key));
  place.file = file;
  place.line = line;
  if (!key.empty()) place.key = key;
}

Coverage worse_coverage(Coverage a, Coverage b) { return std::max(a, b); }

const char* name_of(Coverage coverage) {
  switch (coverage) {
    case Coverage::inside:
      return "inside";
    case Coverage::extended:
      return "extended";
    case Coverage::none:
      return "none";
  }
  return "none";
}

Limit limit(std::string name, double value, std::string unit, double min, double max) {
  const double slack = 1e-9 * std::max(1.0, std::abs(value));
  const bool inside = value >= min - slack && value <= max + slack;
  return {std::move(name), value, std::move(unit), min, max, inside};
}

bool all_inside(const std::vector<Limit>& limits) {
  return std::all_of(limits.begin(), limits.end(), [](const Limit& l) { return l.inside; });
}

}  // namespace seamwright
