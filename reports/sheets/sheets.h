// SPDX-License-Identifier: GPL-3.0-or-later
// The sheets that people use on paper. Each is a Document: its blocks in the order in which the hand or the
// eye needs them.
#pragma once

#include <initializer_list>

#include "engine/loads/stability.h"
#include "engine/study/bolt_torques.h"
#include "engine/study/influence.h"
#include "engine/study/suggest.h"
#include "reports/content/blocks.h"
#include "reports/content/book_blocks.h"
#include "reports/content/procedure_blocks.h"
#include "reports/content/rating_blocks.h"

namespace seamwright::reports {

struct DrawnViews;

/// This ties a sheet to a frame and to the record book; empty where there is none.
struct Anchor {
  std::string serial, book, head;
  bool rig_only = false;     ///< the frame is never ridden
  bool shop_of_one = false;  ///< one person welds, inspects and releases
};
/// A book as it stands; serial "" = of no frame.
Anchor anchor_of(const book::Book& book, const std::string& serial);
/// "4711:0a1b...": number and first 32 figures of the chain's head, as a sheet carries it; "" for none.
std::string short_head(const std::string& head);
/// Serial (or the sheet's own number) beside the title, chain head in the foot, and both in the QR code as
/// "SERIAL NUMBER:HASH".
void anchor(Document& document, const Anchor& anchor, const std::string& number = {});

/// Views of the frame with a number at every weld, in as many pictures as that takes; a paragraph names the welds
/// that none of them numbers.
void add_numbered_views(Document& document, const design::Design& design, std::initializer_list<const char*> views,
                        double height_mm, const DrawnViews* drawn = nullptr);

/// Name, revision and hash of the design in the foot.
void add_design_foot(Document& document, const design::Design& design);

/// One page for the welding table, in the order in which things are set. The joint's drawing where the
/// report's weld is in the design; design may be null.
Document procedure_sheet(const files::ProcedureReport& report, const design::Design* design,
                         const Anchor& anchor);

/// A procedure says more than its settings: consumables, gas, heat, fit-up, then how to weld.
Facts facts_by_hand(const qualification::Sheet& sheet);
/// "52–65 A"; "not stated".
Cell span_cell(const qualification::Span& span, const char* unit);

/// Tells what to measure on a frame: limits in mm for each weld, boxes to fill in, what to do with a reject.
Document inspection_sheet(const files::InspectionReport& report, const design::Design& design,
                          const Anchor& anchor, const DrawnViews* views = nullptr);

struct RatingSheet {
  const rating::Job* job = nullptr;
  const rating::Rating* rating = nullptr;
  study::Influences influences;                ///< empty: not asked for
  std::vector<study::Suggestion> suggestions;  ///< for the governing weld; empty: none
  const DrawnViews* views = nullptr;           ///< "oblique"; null: double lines
};
Document rating_sheet(const RatingSheet& sheet, const Anchor& anchor);

/// All that the book holds on a frame, with its drawing where the frozen design can be read.
Document frame_sheet(const book::Book& book, const book::Trace& trace, const std::string& today);

/// Shows where each weld is: four views, and what each joins.
Document weld_map(const design::Design& design, const Anchor& anchor, const DrawnViews* views = nullptr);

Document welders_sheet(const files::WeldersReport& report, const Anchor& anchor);
Document recall_sheet(const book::Mark& what, const std::vector<book::Carrier>& carriers,
                      const Anchor& anchor);

/// The sheet says when the trike tips and how hard it can brake.
Document stability_card(const design::Design& design, const loads::Stability& stability, double friction,
                        const Anchor& anchor);

/// The owner looks for cracks here: places, from which length on they are through the wall, how often, when to stop.
Document owner_sheet(const rating::Rating& rating, const design::Design& design, const Anchor& anchor, const DrawnViews* views = nullptr);

/// Lists what is bolted where the trike is unpacked, to which torque, checked and signed.
Document assembly_card(const design::Design& design, const std::vector<study::BoltTorque>& torques,
                       const Anchor& anchor);

}  // namespace seamwright::reports
