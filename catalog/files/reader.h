// SPDX-License-Identifier: GPL-3.0-or-later
// A strict view of a TOML table: every value with its place, every unknown key refused, every default
// recorded.
#pragma once

#include <toml++/toml.h>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <variant>
#include <vector>

#include "catalog/files/source.h"
#include "engine/evidence/evidence.h"
#include "engine/evidence/named_values.h"
#include "engine/frame/vector.h"

namespace seamwright::files {

/// Named parameters of a design; numbers may be expressions over them.
using Parameters = std::map<std::string, double>;

struct Bounds {
  double min, max;
};
inline constexpr Bounds any_number{-1e9, 1e9};
inline constexpr Bounds not_negative{0, 1e9};
inline constexpr Bounds positive{1e-9, 1e9};
inline constexpr Bounds share{0, 1};

/// The bounds of every number that this thread reads or leaves to its default while one of these lives, by
/// the key's dotted path, such as "design.tube.wall_mm". One at a time.
class BoundsLog {
 public:
  BoundsLog();
  ~BoundsLog();
  BoundsLog(const BoundsLog&) = delete;
  BoundsLog& operator=(const BoundsLog&) = delete;
  const std::map<std::string, Bounds>& bounds() const { return bounds_; }
  static void note(const std::string& path, Bounds bounds);

 private:
  std::map<std::string, Bounds> bounds_;
};

class Reader {
 public:
  /// name is the table's dotted path for messages, e.g. "design.tube".
  Reader(SourceFile file, std::string name, const toml::table& table, const Parameters* parameters,
         std::vector<Message>* assumptions, bool swap_sides = false);

  bool has(const std::string& key) const {
    asked_.insert(key);
    return table_.contains(key);
  }
  std::string text(const std::string& key);
  std::string text_or(const std::string& key, const std::string& standard);
  std::string choice(const std::string& key, const std::vector<std::string>& choices);
  /// The one of `all` that the text names: each enumeration with a name_of(). A text that none has is
  /// refused.
  template <typename Named, std::size_t count>
  Named one_of(const std::string& key, const std::array<Named, count>& all) {
    return *find_named(all, choice(key, names_of(all)));
  }
  template <typename Named, std::size_t count>
  Named one_of_or(const std::string& key, const std::array<Named, count>& all, Named standard) {
    return *find_named(all, choice_or(key, names_of(all), name_of(standard)));
  }
  /// An id: checked letters, sides swapped in a mirrored twin.
  std::string id(const std::string& key);
  std::vector<std::string> ids(const std::string& key, std::size_t least);
  double real(const std::string& key, Bounds bounds);
  /// Takes the standard value when the key is absent and records it as an assumption.
  double real_or(const std::string& key, Bounds bounds, double standard);
  std::string choice_or(const std::string& key, const std::vector<std::string>& choices,
                        const std::string& standard);
  /// Takes 0 when the key is absent: the thing is not there, which needs no assumption.
  double real_or_none(const std::string& key, Bounds bounds);
  /// A table of numbers under names: ids with a value each. Empty when absent.
  std::vector<std::pair<std::string, double>> numbers(const std::string& key, Bounds bounds);
  bool flag_or(const std::string& key, bool standard);
  frame::Vec3 vector(const std::string& key, bool axial = false);
  frame::Vec3 vector_or(const std::string& key, const frame::Vec3& standard, bool axial = false);
  std::vector<std::string> texts(const std::string& key);
  std::vector<double> reals(const std::string& key, Bounds bounds);
  /// Sub-tables: one, or each of an array. Empty when absent.
  std::vector<const toml::table*> tables(const std::string& key);
  Reader sub_reader(const std::string& key, const toml::table& table) const;
  /// The file, for what it refers to.
  const SourceFile& file() const { return file_; }
  /// Refuses keys that nobody asked for.
  void finish() const;

  /// Throws the engine's Fault "possible.ID" with file, line and key, unless the value is within that
  /// physical limit (engine/evidence/possible.h). `of` names the thing.
  void need_possible(const char* limit_id, const std::string& key, const std::string& of, double value) const;

  [[noreturn]] void fail(MessageId id, const std::string& key, const std::string& found,
                         const std::string& expected) const;
  /// Refuses a name that is none of those known: with the nearest, or the first of them.
  [[noreturn]] void refuse_unknown(const std::string& key, const std::string& found,
                                   const std::vector<std::string>& known) const;
  /// Refuses a key that is not there: as misspelt where one like it stands in its place.
  [[noreturn]] void refuse_missing(const std::string& key, const std::string& expected) const;
  /// Keys that the table may have, said before they are read: none of them is taken for another one misspelt.
  void expects(const std::vector<std::string>& keys) { asked_.insert(keys.begin(), keys.end()); }
  /// Refuses keys that look like one that was asked for in vain; of a file's root, also like one that is
  /// there: of many rows a single one may be misspelt. For what went wrong further on.
  void refuse_misspelt(bool like_any = false) const;
  /// Adds to what the model says of the row its file, line and name; as it is when it has a place.
  Fault with_place(const Fault& fault) const;

 private:
  double number_of(const toml::node& node, const std::string& key) const;
  const toml::node& needed_node(const std::string& key);
  std::vector<std::string> missing_keys() const;
  [[noreturn]] void fail_unknown(const std::string& name, const std::string& nearest) const;
  void assume(const std::string& key, double value);
  std::string full_key(const std::string& key) const;  ///< with the row's id where it has a good one

  SourceFile file_;
  std::string name_;
  const toml::table& table_;
  const Parameters* parameters_;
  std::vector<Message>* assumptions_;
  bool swap_sides_;
  std::set<std::string> seen_;           ///< keys that were read, or would have been
  mutable std::set<std::string> asked_;  ///< and those whose presence was asked for
};

/// A number as a person would type it: at most six digits.
std::string number_as_typed(double value);

/// Value of an expression over parameters by muParser; what was expected in its place when it has none.
std::variant<double, std::string> evaluate(const std::string& expression, const Parameters& parameters);

}  // namespace seamwright::files
