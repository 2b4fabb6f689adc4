// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/reader.h"

#include <fmt/format.h>
#include <muParser.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "catalog/published/nearest.h"
#include "engine/design/sides.h"
#include "engine/evidence/possible.h"

namespace seamwright::files {

namespace {

std::string node_text(const toml::node* node) {
  if (!node) return "";
  if (const auto* s = node->as_string()) return fmt::format("\"{}\"", s->get().substr(0, 80));
  if (const auto* b = node->as_boolean()) return b->get() ? "true" : "false";
  if (const auto v = node->value<double>()) return number_as_typed(*v);
  if (node->is_table()) return "a table";
  if (node->is_array()) return "a list";
  return "a date or time";
}

bool good_id(const std::string& id) {
  return !id.empty() && id.size() <= 64 && std::all_of(id.begin(), id.end(), [](unsigned char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_' || c == '.';
  });
}

std::string range_text(Bounds b) {
  if (b.max >= any_number.max)
    return b.min >= 0
               ? (b.min > 0 && b.min <= positive.min ? "a number above 0"
                                                     : fmt::format("{} or more", number_as_typed(b.min)))
               : "a number within 1e9";
  return fmt::format("{} to {}", number_as_typed(b.min), number_as_typed(b.max));
}

// Two keys that a slip of the hand turns into each other: a letter or two, or the unit forgotten or another.
bool are_alike(const std::string& typed_key, const std::string& key) {
  // "wall" for "wall_mm", "wall_in" for "wall_mm".
  const auto stem = [](const std::string& k) {
    constexpr std::array units{"mm",  "cm",  "m",       "in", "kg",  "g",    "n",   "kn",
                               "nmm", "nm",  "mpa",     "pa", "kpa", "bar",  "kmh", "hz",
                               "deg", "rad", "percent", "km", "s",   "years"};
    const std::size_t at = k.rfind('_');
    const bool is_unit =
        at != std::string::npos && std::find(units.begin(), units.end(), k.substr(at + 1)) != units.end();
    return is_unit ? k.substr(0, at) : k;
  };
  if (stem(typed_key) == stem(key)) return true;
  const std::size_t least = std::min(typed_key.size(), key.size());
  return published::edit_distance(typed_key, key) <= std::min<std::size_t>(2, (least + 1) / 3);
}

std::string joined(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out.append(out.empty() ? "" : ", ").append(word);
  return out;
}

}  // namespace

std::string number_as_typed(double value) { return fmt::format("{:.6g}", value); }

std::variant<double, std::string> evaluate(const std::string& expression, const Parameters& parameters) {
  if (expression.size() > 200) return std::string("at most 200 letters");
  std::vector<std::string> names;
  try {
    mu::Parser parser;
    for (const auto& [name, value] : parameters) {
      parser.DefineConst(name, value);
      names.push_back(name);
    }
    parser.SetExpr(expression);
    const double value = parser.Eval();
    // "1,6" is two results to the parser, which would give the last.
    if (parser.GetNumResults() == 1 && std::isfinite(value)) return value;
    return std::string("one finite value");
  } catch (const mu::Parser::exception_type& error) {
    const std::string near = published::nearest(error.GetToken(), names);
    if (!error.GetToken().empty() && !near.empty())
      return near + " in place of " + error.GetToken().substr(0, 80);
  }
  return names.empty() ? std::string("a number; the file has no [parameters]")
                       : fmt::format("an expression over the parameters {}", joined(names));
}

Reader::Reader(SourceFile file, std::string name, const toml::table& table, const Parameters* parameters,
               std::vector<Message>* assumptions, bool swap_sides)
    : file_(std::move(file)),
      name_(std::move(name)),
      table_(table),
      parameters_(parameters),
      assumptions_(assumptions),
      swap_sides_(swap_sides) {}

void Reader::fail(MessageId id, const std::string& key, const std::string& found,
                  const std::string& expected) const {
  const toml::node* node = table_.get(key);
  const toml::source_region& region = node ? node->source() : table_.source();
  throw Fault{Message{id,
                      {seamwright::text("file", file_.name), number("line", region.begin.line, ""),
                       seamwright::text("key", full_key(key)), term_argument("found", "expected.", found),
                       term_argument("expected", "expected.", expected)}}};
}

Fault Reader::with_place(const Fault& fault) const {
  Fault found = fault;
  if (!found.place.file.empty()) return found;
  std::string row = name_;
  if (const auto own = table_["id"].value<std::string>(); own && good_id(*own))
    row = fmt::format("{}[{}]", name_, *own);
  found.put_at(file_.name, static_cast<int>(table_.source().begin.line), row);
  return found;
}

void Reader::fail_unknown(const std::string& name, const std::string& nearest) const {
  if (!nearest.empty()) fail("file.unknown-key", name, name, nearest);
  std::set<std::string> known = seen_;
  known.insert(asked_.begin(), asked_.end());
  fail("file.no-such-key", name, name, joined({known.begin(), known.end()}));
}

void Reader::refuse_unknown(const std::string& key, const std::string& found,
                            const std::vector<std::string>& known) const {
  constexpr std::size_t enough = 20;
  std::string expected = published::nearest(found, known);
  if (expected.empty())
    expected =
        joined({known.begin(), known.begin() + static_cast<std::ptrdiff_t>(std::min(enough, known.size()))});
  fail("file.unknown-id", key, found.substr(0, 80), expected);
}

// Keys that were looked for and are not there.
std::vector<std::string> Reader::missing_keys() const {
  std::set<std::string> keys = asked_;
  keys.insert(seen_.begin(), seen_.end());
  std::erase_if(keys, [&](const std::string& key) { return table_.contains(key); });
  return {keys.begin(), keys.end()};
}

void Reader::refuse_misspelt(bool like_any) const {
  std::vector<std::string> keys = missing_keys();
  if (like_any) {
    keys.insert(keys.end(), seen_.begin(), seen_.end());
    keys.insert(keys.end(), asked_.begin(), asked_.end());
  }
  for (const auto& [name, node] : table_) {
    const std::string there(name.str());
    if (seen_.contains(there) || asked_.contains(there)) continue;
    for (const std::string& key : keys)
      if (are_alike(there, key)) fail_unknown(there, key);
  }
}

void Reader::refuse_missing(const std::string& key, const std::string& expected) const {
  refuse_misspelt();
  fail("file.missing-key", key, "", expected);
}

const toml::node& Reader::needed_node(const std::string& key) {
  seen_.insert(key);
  const toml::node* node = table_.get(key);
  if (!node) refuse_missing(key, key);
  return *node;
}

void Reader::need_possible(const char* limit_id, const std::string& key, const std::string& of,
                           double value) const {
  try {
    check_possible(limit_id, of, value);
  } catch (const Fault& fault) {
    Fault placed = fault;
    const toml::node* node = table_.get(key);
    const toml::source_region& region = node ? node->source() : table_.source();
    placed.put_at(file_.name, static_cast<int>(region.begin.line), full_key(key));
    throw placed;
  }
}

double Reader::number_of(const toml::node& node, const std::string& key) const {
  std::optional<double> value;
  if (node.is_number()) value = node.value<double>();
  if (const auto* expression = node.as_string(); expression && parameters_) {
    const auto evaluated = evaluate(expression->get(), *parameters_);
    if (const auto* expected = std::get_if<std::string>(&evaluated))
      fail("file.bad-expression", key, node_text(&node), *expected);
    value = std::get<double>(evaluated);
  }
  if (!value) fail("file.wrong-type", key, node_text(&node), "a number");
  if (!std::isfinite(*value)) fail("file.out-of-range", key, "nan or inf", "a finite number");
  return *value;
}

std::string Reader::text(const std::string& key) {
  const auto* value = needed_node(key).as_string();
  if (!value) fail("file.wrong-type", key, node_text(table_.get(key)), "text");
  if (value->get().size() > 2000) fail("file.out-of-range", key, "(long text)", "at most 2000 bytes");
  return value->get();
}
std::string Reader::text_or(const std::string& key, const std::string& standard) {
  seen_.insert(key);
  return has(key) ? text(key) : standard;
}
std::string Reader::choice(const std::string& key, const std::vector<std::string>& choices) {
  std::string value = text(key);
  if (std::find(choices.begin(), choices.end(), value) == choices.end())
    fail("file.out-of-range", key, value.substr(0, 80), joined(choices));
  return value;
}
std::string Reader::choice_or(const std::string& key, const std::vector<std::string>& choices,
                              const std::string& standard) {
  seen_.insert(key);
  if (has(key)) return choice(key, choices);
  if (assumptions_)
    assumptions_->push_back({"assumption.default",
                             {seamwright::text("key", full_key(key)), seamwright::text("value", standard)}});
  return standard;
}
std::string Reader::id(const std::string& key) {
  const std::string value = text(key);
  if (!good_id(value)) fail("file.bad-id", key, value.substr(0, 80), "letters, digits, - _ . (at most 64)");
  return swap_sides_ ? design::other_side(value) : value;
}
std::vector<std::string> Reader::ids(const std::string& key, std::size_t least) {
  std::vector<std::string> values = texts(key);
  if (values.size() < least) fail("file.out-of-range", key, std::to_string(values.size()), "more ids");
  for (std::string& value : values) {
    if (!good_id(value)) fail("file.bad-id", key, value.substr(0, 80), "letters, digits, - _ . (at most 64)");
    if (swap_sides_) value = design::other_side(value);
  }
  return values;
}
std::vector<std::string> Reader::texts(const std::string& key) {
  const auto* array = needed_node(key).as_array();
  if (!array) fail("file.wrong-type", key, node_text(table_.get(key)), "a list of texts");
  std::vector<std::string> values;
  for (const toml::node& node : *array) {
    const auto* value = node.as_string();
    if (!value) fail("file.wrong-type", key, node_text(&node), "a list of texts");
    values.push_back(value->get());
  }
  return values;
}
namespace {
// An expression with its value.
std::string found_of(const toml::node& node, double value) {
  return node.is_string() ? fmt::format("{} = {}", node_text(&node), number_as_typed(value))
                          : number_as_typed(value);
}

thread_local std::map<std::string, Bounds>* noted = nullptr;
}  // namespace

BoundsLog::BoundsLog() { noted = &bounds_; }
BoundsLog::~BoundsLog() { noted = nullptr; }
void BoundsLog::note(const std::string& path, Bounds bounds) {
  if (noted) noted->insert_or_assign(path, bounds);
}

std::vector<double> Reader::reals(const std::string& key, Bounds bounds) {
  BoundsLog::note(name_ + "." + key, bounds);
  const auto* array = needed_node(key).as_array();
  if (!array) fail("file.wrong-type", key, node_text(table_.get(key)), "a list of numbers");
  std::vector<double> values;
  for (const toml::node& node : *array) {
    values.push_back(number_of(node, key));
    if (values.back() < bounds.min || values.back() > bounds.max)
      fail("file.out-of-range", key, found_of(node, values.back()), range_text(bounds));
  }
  return values;
}

double Reader::real(const std::string& key, Bounds bounds) {
  BoundsLog::note(name_ + "." + key, bounds);
  const double value = number_of(needed_node(key), key);
  if (value < bounds.min || value > bounds.max)
    fail("file.out-of-range", key, found_of(*table_.get(key), value), range_text(bounds));
  return value;
}
void Reader::assume(const std::string& key, double value) {
  if (assumptions_)
    assumptions_->push_back(
        {"assumption.default", {seamwright::text("key", full_key(key)), number("value", value, "")}});
}
std::string Reader::full_key(const std::string& key) const {
  const auto own = table_["id"].value<std::string>();
  return own && good_id(*own) ? fmt::format("{}[{}].{}", name_, *own, key) : fmt::format("{}.{}", name_, key);
}
double Reader::real_or(const std::string& key, Bounds bounds, double standard) {
  BoundsLog::note(name_ + "." + key, bounds);
  seen_.insert(key);
  if (has(key)) return real(key, bounds);
  assume(key, standard);
  return standard;
}
double Reader::real_or_none(const std::string& key, Bounds bounds) {
  BoundsLog::note(name_ + "." + key, bounds);
  seen_.insert(key);
  return has(key) ? real(key, bounds) : 0;
}
std::vector<std::pair<std::string, double>> Reader::numbers(const std::string& key, Bounds bounds) {
  seen_.insert(key);
  std::vector<std::pair<std::string, double>> out;
  if (!has(key)) return out;
  const auto* table = table_.get(key)->as_table();
  if (!table) fail("file.wrong-type", key, node_text(table_.get(key)), "a table of numbers");
  Reader inside = sub_reader(key, *table);
  for (const auto& [name, node] : *table)
    out.emplace_back(std::string(name.str()), inside.real(std::string(name.str()), bounds));
  return out;
}
bool Reader::flag_or(const std::string& key, bool standard) {
  seen_.insert(key);
  if (!has(key)) return standard;
  const auto* value = table_.get(key)->as_boolean();
  if (!value) fail("file.wrong-type", key, node_text(table_.get(key)), "true or false");
  return value->get();
}
frame::Vec3 Reader::vector(const std::string& key, bool axial) {
  const auto* array = needed_node(key).as_array();
  if (!array || array->size() != 3) fail("file.wrong-type", key, node_text(table_.get(key)), "[x, y, z]");
  frame::Vec3 v;
  for (std::size_t i = 0; i < 3; ++i) v(static_cast<Eigen::Index>(i)) = number_of(*array->get(i), key);
  if (v.cwiseAbs().maxCoeff() > 1e9) fail("file.out-of-range", key, "(beyond 1e9)", "a length within reach");
  if (swap_sides_) v = axial ? frame::Vec3(-v.x(), v.y(), -v.z()) : frame::Vec3(v.x(), -v.y(), v.z());
  return v;
}
frame::Vec3 Reader::vector_or(const std::string& key, const frame::Vec3& standard, bool axial) {
  seen_.insert(key);
  return has(key) ? vector(key, axial) : standard;
}
std::vector<const toml::table*> Reader::tables(const std::string& key) {
  seen_.insert(key);
  std::vector<const toml::table*> out;
  const toml::node* node = table_.get(key);
  if (!node) return out;
  if (const auto* one = node->as_table()) return {one};
  const auto* array = node->as_array();
  if (!array) fail("file.wrong-type", key, node_text(node), "a table");
  for (const toml::node& row : *array) {
    if (!row.is_table()) fail("file.wrong-type", key, node_text(&row), "a table");
    out.push_back(row.as_table());
  }
  return out;
}
Reader Reader::sub_reader(const std::string& key, const toml::table& table) const {
  return {file_, name_ + "." + key, table, parameters_, assumptions_, swap_sides_};
}

void Reader::finish() const {
  for (const auto& [key, node] : table_) {
    const std::string name(key.str());
    if (seen_.contains(name)) continue;
    refuse_misspelt();
    const std::string near = published::nearest(name, missing_keys());
    fail_unknown(name, near.empty() ? published::nearest(name, {seen_.begin(), seen_.end()}) : near);
  }
}

}  // namespace seamwright::files
