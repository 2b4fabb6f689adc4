// SPDX-License-Identifier: GPL-3.0-or-later
// Gaps are what is missing before a frame may leave.
#pragma once

#include <map>

#include "catalog/book/book.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

struct Gap {
  std::string weld;                 ///< "" = the frame
  Message what;                     ///< "gap.no-procedure", ...
  std::string key;                  ///< what an exception names: id, weld and detail
  bool exceptable = true;           ///< false where it keeps the rest from being seen, or the frame is scrap
  std::int64_t since = 0;           ///< entry that it rests on last; only an exception signed after it counts
  std::string excepted_by, reason;  ///< person and their reason, where an engineer signed for it
  std::int64_t crack_report = 0;    ///< entry of the report from the field, where the gap is a crack
};

struct FrozenFiles;
std::shared_ptr<FrozenFiles> frozen_files();

/// Gaps stand in the order of the design's welds, the frame's own first. today: "2026-11-26". Throws Fault
/// "book.unknown-frame". frozen: keeps what was read of frozen files, where many frames are asked.
std::vector<Gap> gaps(const Book& book, const std::string& serial, const std::string& today,
                      FrozenFiles* frozen = nullptr);
/// Those that nobody signed for.
std::vector<Gap> open_gaps(const std::vector<Gap>& all);

/// Says what keeps a frame from being released by such an entry on that day: open gaps ("book.gaps"), or that
/// it names another design or other exceptions than there are ("rule.release-differs"). Nothing where it may.
/// Demands::first: what was asked since the first books alone, for releases that stand there already: not how long ago a production test
/// was, nor the evidence of a prolongation.
enum class Demands { all, first };
std::optional<Message> release_fault(const Book& book, const Json& release, const std::string& time, FrozenFiles* frozen = nullptr,
                                     Demands demands = Demands::all);

/// An engineer answers for a gap that stands. Throws Fault "book.no-such-gap" (nearest),
/// "book.not-exceptable".
Entry except_gap(Book& book, const std::string& serial, const std::string& gap, const std::string& reason,
                 const std::string& author, const Signer& key, const std::string& time);

/// The release as it would be signed now.
NewEntry release_record(const Book& book, const std::string& serial, const std::string& today);
/// Signs the release. Throws Fault "book.gaps" while gaps remain, as every append() of a release does.
Entry release(Book& book, const std::string& serial, const std::string& author, const Signer& key,
              const std::string& time);

/// A frame in one line: what stands above its record and its gaps.
struct FrameState {
  bool rig_only = false;        ///< never to be ridden
  std::string serial, verdict;  ///< of the rating stored for its frozen design; "" = none is stored
  std::vector<Gap> gaps;
  std::vector<Record> cracks;  ///< reports from the field of cracks that were not put right since
  std::optional<Record> release, shipment;
  std::map<std::string, std::string> covered_by{};  ///< of each weld the certificate that covers it, the first where several do
  /// No crack, a rating that meets, no open gap.
  bool is_clear() const { return cracks.empty() && verdict == "meets" && open_gaps(gaps).empty(); }
};
FrameState state_of(const Book& book, const std::string& serial, const std::string& today);

}  // namespace seamwright::book
