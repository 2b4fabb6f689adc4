// SPDX-License-Identifier: GPL-3.0-or-later
// Production tests of a procedure against the welds between them.
#include "catalog/book/gaps_inside.h"
#include "catalog/book/records/names.h"

namespace seamwright::book {

// Test pieces are cut open between the frames. A weld stands between two of its procedure: where either of them showed an open root, and the
// rating counts on a fused one, the weld is in doubt.
void check_production_tests(FrameReview& review, const Record& w, const std::string& weld) {
  const Record *before = nullptr, *after = nullptr;
  for (const Record& t : review.current({mark::procedure, w.text_of(field::procedure)}, kind::production_test)) {
    if (!t.malformed && measure_of(t, field::fused_sections) + measure_of(t, field::open_sections) <= 0) continue;  // nothing was cut open
    if (t.entry.seq < w.entry.seq)
      before = &t;
    else if (!after)
      after = &t;
  }
  for (const Record* t : {before, after}) {
    if (!t) continue;
    if (!t->malformed && measure_of(*t, field::open_sections) <= 0) continue;
    review.add(weld, "gap.production-test-open", {text("procedure", w.text_of(field::procedure)), text("day", t->text_of(field::on))},
               w.text_of(field::procedure), t->entry.seq);
    return;
  }
}

}  // namespace seamwright::book
