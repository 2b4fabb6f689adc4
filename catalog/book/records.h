// SPDX-License-Identifier: GPL-3.0-or-later
// A serial leads to all that went into the frame, and a heat, a batch or a person to every frame that carries
// it.
#pragma once

#include <limits>

#include "catalog/book/book.h"
#include "catalog/book/lookup.h"

namespace seamwright::book {

/// All that names a frame, and what stands behind it: lots, batches, machines and tools with calibration,
/// certificates, procedures, design, ratings of that design. Each by seq.
struct Trace {
  std::string serial;
  std::vector<Record> own, behind;
};
/// Throws Fault "book.unknown-frame" (nearest known), "book.not-a-frame" (a heat, a lot ...).
Trace trace(const Book& book, const std::string& serial);

/// The rating that was stored for a frame's frozen design: the newest; nothing where there is none.
std::optional<Record> rating_of(const Book& book, const Record& frame);
/// The frozen design of a frame.
std::optional<Record> design_of(const Book& book, const Record& frame);
/// The same of what was looked up, or is by this.
std::optional<Record> rating_of(Lookup& records, const Record& frame);
std::optional<Record> design_of(Lookup& records, const Record& frame);

/// A frame that carries what is recalled.
struct Carrier {
  std::string serial, order, to, shipped, released;        ///< days; "" = not
  double km = 0;                                           ///< as last reported from the field
  double used = std::numeric_limits<double>::quiet_NaN();  ///< share of the rated life; NaN = cannot be told
  std::string by;  ///< "km", "years" (since it left), or "" where it cannot be told
  bool cracked = false;
};
/// Most used life first, then those of which it cannot be told. Names: "heat", "lot", "filler", "gas",
/// "welder", "machine", "procedure", "design", "tool"; "production-test" with a procedure gives the frames that its tests put in doubt, all
/// since the last good one. today: "2026-11-26". Throws Fault "book.unknown-mark"
/// when the value stands nowhere in the book.
std::vector<Carrier> recall(const Book& book, const Mark& what, const std::string& today);

/// A number stamped or printed anywhere may be one of these: exact values first, then those that contain it,
/// at most `most`. A day ("2026-11-18") comes as the mark "day".
std::vector<Mark> search(const Book& book, const std::string& typed, std::size_t most);
/// Records that stand behind a mark, by seq: of a frame its trace, of a day its entries.
std::vector<Record> records_behind(const Book& book, const Mark& what);

}  // namespace seamwright::book
