// SPDX-License-Identifier: GPL-3.0-or-later
// Evidence stands behind a number: its source, its inputs, the limits within which the source holds, and what
// it rests on. Every function that applies a published rule gives one of these with its value.
#pragma once

#include <cstddef>
#include <exception>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#ifndef SEAMWRIGHT_UNCHECKED_IDS  // SEAMWRIGHT_CHECK_IDS of the build: the list would compile everything anew for each new id
#include "engine/evidence/listed_id.h"
#endif

namespace seamwright {

/// The id of a sentence, as "file.bad-id". Written as a literal it must have a sentence in
/// reports/text/languages, or it does not compile; put together from parts it is looked up by composed_id().
class MessageId {
 public:
  constexpr MessageId() = default;  ///< says nothing: ""
  consteval MessageId(const char* literal) : text_(literal) {
#ifndef SEAMWRIGHT_UNCHECKED_IDS
    if (*literal != '\0' && !listed_id(literal)) this_id_has_no_sentence();
#endif
  }
  constexpr const char* text() const { return text_; }
  constexpr bool empty() const { return *text_ == '\0'; }
  friend constexpr bool operator==(MessageId a, MessageId b) { return same(a.text_, b.text_); }
  /// Tests compare like this, since their macros do it when they run.
  template <std::size_t n>
  friend constexpr bool operator==(MessageId a, const char (&b)[n]) {
    return same(a.text_, b);
  }
  friend std::optional<MessageId> find_message_id(std::string_view id);

 private:
  static void this_id_has_no_sentence();  // never defined: where the compiler comes to it, it stops
  static constexpr bool same(const char* a, const char* b) {
    for (; *a != '\0' && *a == *b; ++a) ++b;
    return *a == *b;
  }
  const char* text_ = "";
};

/// Several, as for the columns of a table.
using MessageIds = std::initializer_list<MessageId>;

/// The id where it is only known when the program runs; none when there is no such sentence.
std::optional<MessageId> find_message_id(std::string_view id);
/// The id of one of a family of sentences, which differ by a name: composed_id("state.", "meets"). What the
/// family does not have, such as a word of a book that a later program wrote, is "word.unknown".
MessageId composed_id(std::string_view family, std::string_view name);

/// A typed argument of a message. Numbers carry their unit ("" = dimensionless); text is shown as it is, but
/// with the unit "word" it is the id of a sentence, with the unit "site" a place that can crack ("root@270"), and shown in the
/// reader's language; with the unit "in:item." it is a word whose sentence is of that family (reports/text/terms.h).
struct Argument {
  std::string name;
  std::variant<double, std::string> value;
  std::string unit;
};

/// A message without a sentence: the sentence of each language stands in reports/text under this id.
struct Message {
  MessageId id;
  std::vector<Argument> arguments;
};

/// Short ways to write arguments: number("wall", 0.9, "mm"), text("member", "MT").
Argument number(std::string name, double value, std::string unit);
Argument text(std::string name, std::string value);
Argument sentence_argument(std::string name, MessageId sentence);
Argument site_argument(std::string name, std::string site);
/// A word from a fixed list; family: of its sentences, with the dot, "item.".
Argument term_argument(std::string name, const std::string& family, std::string word);
/// The unit of such an argument begins with this.
inline constexpr std::string_view term_unit = "in:";

/// The category says whose fault it is; from it alone follows how a program ends.
enum class Category {
  usage,    ///< the program was called wrongly
  input,    ///< what was given cannot be, or cannot be read
  machine,  ///< disk, permission, fonts
  locked    ///< another program holds the book
};

/// The place of a fault in what was given, and what would be right there; "" or 0 = not known.
struct FaultPlace {
  std::string file;
  int line = 0;          ///< from 1
  std::string key;       ///< of a value, "duty.rules.life_km", or the row, "design.member[MT]"
  std::string found;     ///< the value as it stands there
  std::string expected;  ///< what a value there must be
  std::string nearest;   ///< of what there is, most like what was found
  MessageId remedy;      ///< what to do
};

/// A fault says what is wrong, as engine or catalog found it. Its sentence tells the place where the
/// arguments hold it.
struct Fault : std::exception {
  Message message;
  Category category;
  FaultPlace place;

  /// The place is read from the arguments of the same names.
  explicit Fault(Message m, Category c = Category::input);
  /// Names file, line and key (if not "") of a fault that knew none, for the fields and the sentence alike.
  void put_at(const std::string& file, int line, const std::string& key = "");
  const char* what() const noexcept override { return message.id.text(); }
};

/// Coverage tells how far a published rule reaches. Worse is larger.
enum class Coverage { inside, extended, none };

Coverage worse_coverage(Coverage a, Coverage b);
/// "inside", "extended" or "none".
const char* name_of(Coverage coverage);

/// A key of catalog/published/bibliography.toml and the clause, table or equation in it.
struct Source {
  std::string key;
  std::string clause;
};

struct Input {
  std::string name;
  double value = 0;
  std::string unit;
};

/// One bound of a rule's range of validity; min or max may be infinite.
struct Limit {
  std::string name;
  double value = 0;
  std::string unit;
  double min = 0;
  double max = 0;
  bool inside = true;
};

/// Makes a limit and judges it; a value within 1e-9 relative of a bound counts as inside.
Limit limit(std::string name, double value, std::string unit, double min, double max);

struct Evidence {
  std::string figure;  ///< name of the figure, e.g. "scf"
  double value = 0;
  std::string unit;  ///< "" = dimensionless
  Source source;
  bool from_memory = false;  ///< the source's number is recalled, not re-read
  std::vector<Input> inputs;
  std::vector<Limit> limits;
  Coverage coverage = Coverage::inside;
  std::vector<Message> notes;
  std::vector<Evidence> because;
  std::string subject;  ///< which one, where a figure has many: a leg, a mode; "" = it is the only one
};

/// True when all limits are inside.
bool all_inside(const std::vector<Limit>& limits);

}  // namespace seamwright
