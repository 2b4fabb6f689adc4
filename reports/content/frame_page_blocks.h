// SPDX-License-Identifier: GPL-3.0-or-later
// The first page of a frame's record: what an auditor asks before the entries.
#pragma once

#include "catalog/book/gaps.h"
#include "catalog/book/records.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// The page tells what the frame is and is for, its rating; welds by welder, metal by heat, inspections, nonconformities, concessions by reason, reports
/// from the field. Adds to a document.
void add_frame_page(Document& document, const book::Trace& trace, const book::FrameState& state);

/// The kind of a gap in words, with its weld and detail: from "gap.not-qualified:W16:W-A".
Message gap_named(const std::string& key);

}  // namespace seamwright::reports
