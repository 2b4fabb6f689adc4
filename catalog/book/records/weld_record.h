// SPDX-License-Identifier: GPL-3.0-or-later
// A weld as it is recorded: made in one place for command line, window and demonstration, and read back
// there.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "catalog/book/book.h"
#include "catalog/book/records/names.h"

namespace seamwright::book {

/// A field's value as it was told, by its type: text and day, number, flag, texts.
using Value = std::variant<std::string, double, bool, std::vector<std::string>>;
/// Values stand by the names of the fields.
using Values = std::map<std::string, Value>;

/// A weld of a frame, or one pass of it, or its repair. What was not told has no value; units stand in the
/// names of the table of kinds.
struct Weld {
  using Text = std::optional<std::string>;
  using Number = std::optional<double>;
  using Texts = std::optional<std::vector<std::string>>;
  Text frame, weld;
  Text procedure, revision, welder, machine, filler, gas;  ///< ids in the book
  Texts lots;
  Text day;    ///< "2026-11-26"
  Number run;  ///< of the procedure; the pass that the numbers below are of
  Text position;
  Number amperes, volts, speed_mm_s, power_w, heat_kj_mm, preheat_c, interpass_c, gas_l_min, purge_l_min,
      gap_mm;
  Text nonconformity;  ///< of a repair: what asked for it
  Text reason, note;
  /// Fields of the table that have no member, since no part of the program works with them.
  Values others = {};
};

/// The payload of a weld, and the weld of a payload in the shape of its kind: each is the other's reverse.
Json payload_of(const Weld& weld);
Weld weld_of(const Json& payload);

/// Puts what was entered by names of fields into the members and the others.
void enter(Weld& weld, const Values& entered);

/// The record of a weld; of a repair with its kind.
NewEntry weld_record(const Weld& weld, const std::string& kind = kind::weld);

/// A record as it came from outside, for whichever kind. Throws the Faults of check_payload().
NewEntry record_from(const Kind& kind, const Json& payload, std::optional<Attachment> file = std::nullopt);

}  // namespace seamwright::book
