// SPDX-License-Identifier: GPL-3.0-or-later
// Evidence stands behind a number: its source, its inputs, the limits within which the source holds, and what
// it rests on. Every function that applies a published rule gives one of these with its value.
#pragma once

#include <exception>
#include <string>
#include <variant>
#include <vector>

namespace seamwright {

/// A typed argument of a message. Numbers carry their unit ("" = dimensionless); text is shown as it is, but
/// with the unit "word" it is the id of a sentence and shown in the reader's language.
struct Argument {
  std::string name;
  std::variant<double, std::string> value;
  std::string unit;
};

/// A message without a sentence: the sentence of each language stands in reports/text under this id.
struct Message {
  std::string id;
  std::vector<Argument> arguments;
};

/// Short ways to write arguments: number("wall", 0.9, "mm"), text("member", "MT").
Argument number(std::string name, double value, std::string unit);
Argument text(std::string name, std::string value);
Argument word(std::string name, std::string sentence_id);

/// Faulty input or an impossible model, found by engine or catalog. The command line turns it into exit
/// code 3.
struct Fault : std::exception {
  Message message;
  explicit Fault(Message m) : message(std::move(m)) {}
  const char* what() const noexcept override { return message.id.c_str(); }
};

/// Coverage tells how far a published rule reaches. Worse is larger.
enum class Coverage { inside, extended, none };

Coverage worse(Coverage a, Coverage b);
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
  std::string of;  ///< which one, where a figure has many: a leg, a mode; "" = it is the only one
};

/// True when all limits are inside.
bool all_inside(const std::vector<Limit>& limits);

}  // namespace seamwright
