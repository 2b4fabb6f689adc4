// SPDX-License-Identifier: GPL-3.0-or-later
// gaps.cpp and gaps_welds.cpp share this: the review of one frame.
#pragma once

#include <algorithm>
#include <map>

#include "catalog/book/attached_files.h"
#include "catalog/book/gaps.h"
#include "catalog/book/lookup.h"
#include "catalog/book/records.h"
#include "catalog/book/records/names.h"
#include "catalog/files/procedure_reader.h"
#include "engine/design/design.h"

namespace seamwright::book {

/// A frame between its beginning and its last release, by entries.
struct FrameSpan {
  std::string serial;
  std::int64_t begun = 0, done = unbounded;  ///< unbounded: not released
};

/// Frozen files are read once, for many frames; so is which frames were welded by a procedure.
struct FrozenFiles {
  std::map<std::string, std::optional<files::ProcedureFile>> procedures;  // by SHA-256 and day
  struct ReadDesign {
    std::optional<design::Design> design;
    Message fault;  ///< where it cannot be read
  };
  std::map<std::string, ReadDesign> designs;  // by SHA-256 of it and of what stands beside it
  std::map<std::string, std::vector<FrameSpan>> spans;  // by procedure
};

struct FrameReview {
  const Book& book;
  std::string serial;
  qualification::Date today;
  FrozenFiles& frozen;
  bool shop_of_one = false;
  bool rig_only = false;  ///< the frame is never ridden: exceptions reach further
  bool as_then = false;   ///< a release of an older program is judged: it is not asked for what nobody asked for then
  std::vector<Gap> found{};
  std::map<std::string, std::optional<files::ProcedureFile>> procedures{};        // by "id revision"
  std::map<std::string, std::vector<qualification::Certificate>> certificates{};  // by welder
  std::map<std::string, std::string> covered_by{};  // the first certificate that covers, by weld
  Lookup records{book};
  std::vector<std::string> beside{};         // SHA-256 of the procedures that a design is read with
  std::unique_ptr<AttachedFiles> files{};    // design.toml, and these procedures by procedure_name()
  std::map<std::pair<std::string, std::int64_t>, std::vector<std::int64_t>> frames_since{};  // by procedure and entry
  std::map<std::int64_t, Record> earlier{};  // what corrections of welds led away from this frame

  /// since: an entry that it rests on besides those of its weld; a later one asks again.
  void add(const std::string& weld, MessageId id, std::vector<Argument> with = {},
           const std::string& detail = {}, std::int64_t since = 0);
  const std::vector<Record>& current(const Mark& mark, const std::string& kind) {
    return records.current(mark, kind);
  }
  /// An earlier entry that one of the frame's replaces, step by step; null where there is none.
  const Record* record(std::int64_t seq) const {
    const auto led_away = earlier.find(seq);
    return led_away == earlier.end() ? records.record(seq) : &led_away->second;
  }
  const std::vector<Record>& of_frame(const char* kind) { return current({mark::frame, serial}, kind); }
};

/// An engineer's signature can cover such a gap.
bool is_exceptable(MessageId gap, bool rig_only);
/// Everything that is wrong with the frame, in the order of gaps(). Throws Fault "book.unknown-frame".
std::vector<Gap> gaps_of(FrameReview& review);
/// Asks for all records that the review rests on, and names the files that it may read.
void gather(FrameReview& review);
/// Asks for the records of root proofs that welds of a design name.
void gather_proofs(FrameReview& review, const design::Design& design);

bool day_of(const Record& r, const char* key, qualification::Date& day);
/// A number of the content; 0 where there is none.
double measure_of(const Record& r, const char* key);
/// The day on which a record was first signed for, whatever was corrected since.
qualification::Date signed_on(const FrameReview& review, const Record& record);
/// The frozen procedure; nothing where it is not in the book or cannot be read.
const files::ProcedureFile* procedure_at(FrameReview& review, const std::string& id,
                                         const std::string& revision);
/// The frozen design with the frame's procedures beside it. Throws the Faults of its reader.
const design::Design& design_at(FrameReview& review, const Record& design);
/// Each weld of the design: made, by whom, with what, looked at, and put right.
void check_welds(FrameReview& review, const design::Design& design);
/// Production tests of the procedure before and after a weld whose rating counts on a fused root: none of them open, and none too long ago.
void check_production_tests(FrameReview& review, const Record& weld_record, const std::string& weld);
/// Nonconformities without a decision, or whose repair is not there.
void check_nonconformities(FrameReview& review, const std::vector<Record>& repairs);
/// Findings of an auditor on the frame that they did not close.
void check_audit_findings(FrameReview& review);
/// Cracks that came back from the field and were not put right since.
void check_cracks(FrameReview& review);

}  // namespace seamwright::book
