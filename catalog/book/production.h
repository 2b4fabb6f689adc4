// SPDX-License-Identifier: GPL-3.0-or-later
// Production test pieces of the book: what they say of the welds between them, when the next one is due, and what they add to the macros
// of a procedure. Pieces stand between welds in the order of the entries; their days decide how old they are.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "catalog/book/book.h"
#include "catalog/book/lookup.h"
#include "engine/qualification/calendar.h"

namespace seamwright::design {
struct Design;
}
namespace seamwright::qualification {
struct Record;
}

namespace seamwright::book {

struct FrozenFiles;
struct WeldEntry;

/// A production test with sections that were cut; one without says nothing. What cannot be read counts as open.
struct ProductionPiece {
  std::int64_t seq = 0;
  bool open = false;       ///< a section showed an open root
  qualification::Date on;  ///< as said, but no later than it was first signed for: a day is not moved to make a piece younger
  double fused_sections = 0;
};
/// Tells of what a production test says if a section was open; nothing where none was cut.
std::optional<bool> is_open_piece(const Json& content);
/// Those of a procedure that no later entry replaced, by seq.
std::vector<ProductionPiece> production_pieces(Lookup& records, const std::string& procedure);

/// The last piece with no open root before an entry, or else the test of the procedure's own record. Nothing where neither has a day.
struct LastGood {
  std::int64_t seq = 0;
  qualification::Date on;
  bool is_record = false;
};
std::optional<LastGood> last_good(Lookup& records, const std::string& procedure, const std::string& record_id,
                                  const std::optional<qualification::Date>& record_day, std::int64_t before);

/// Frames but one that were welded by a procedure after an entry, each by the entry from which it counts: its first such weld, or, where
/// it was begun and released since, its beginning. Sorted.
std::vector<std::int64_t> frames_since(const Book& book, FrozenFiles& frozen, const std::string& procedure, std::int64_t after,
                                       const std::string& except);

/// The newest test with an open root that stands next behind a weld of a frame: no release before it holds. 0 = none. tests: of each
/// procedure, by seq, whether it was open.
using OpenTests = std::map<std::string, std::map<std::int64_t, bool>>;
std::int64_t doubting_test(const std::vector<WeldEntry>& welds, const OpenTests& tests, std::int64_t before);
/// The tests of the procedures that these welds name.
OpenTests tests_of(const Book& book, const std::vector<WeldEntry>& welds);

/// Frames with a weld by this procedure whose next test, or the one before, showed an open root: all since the last good one.
std::vector<std::string> frames_in_doubt(const Book& book, const std::string& procedure);

/// A procedure beside its next production test.
struct ProductionDue {
  std::string procedure;
  std::optional<LastGood> last;
  std::optional<qualification::Date> by;  ///< last day on which a weld still needs no new piece; nothing where there was none
  int frames = 0, frames_left = 0;        ///< welded since the last; that may still be begun (0: the next needs a piece)
  bool counts_on_fusion = false;          ///< a frozen design counts on a fused root of it
  bool open = false;                      ///< the newest piece shows an open root
  bool overdue = false;                   ///< on the day asked
};
/// All procedures of the book by what is due first; those whose root nobody counts on come last.
std::vector<ProductionDue> production_due(const Book& book, qualification::Date today);

/// Sections of production tests count with the macros of their procedure: fused ones add to those that prove a weld's root, an open one
/// takes the proof. Nothing else of the design changes; a weld without a proof gains none.
struct CountedSections {
  std::string procedure;
  int fused = 0, open = 0;
};
std::vector<CountedSections> count_production_tests(const Book& book, design::Design& design);

}  // namespace seamwright::book
