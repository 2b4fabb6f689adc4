// SPDX-License-Identifier: GPL-3.0-or-later
// The frame and its load cases as an input deck for a general finite-element program: keywords with stars,
// as CalculiX reads them (quadratic beams, links as springs along their axes; mm, N, t, MPa).
#pragma once

#include "engine/rating/job.h"

namespace seamwright::study {

/// The deck has without a duty the design's load cases on its supports, with one the trike at rest under 1 g,
/// empty and with each payload, as the forces that everything which is no beam (tyres, masses, rider,
/// dampers) puts on the nodes, in balance by themselves, and one node held so that nothing floats. Members
/// are divided into `divisions` elements between their nodes (1..200); where they meet a chord's wall a stiff
/// piece leads from the node to it, as in the rating. Left out: joints that give way (the deck says so),
/// rounded corners. Throws Fault "deck.no-case", "deck.no-section" for a flat oval tube, "frame.bad-number"
/// for the divisions, and what assembling and solving throw.
std::string frame_deck(const design::Design& design, const loads::Duty* duty, int divisions);

}  // namespace seamwright::study
