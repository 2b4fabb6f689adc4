// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of the table of kinds, each in the file of its subject.
#pragma once

#include "catalog/book/records/kinds.h"

namespace seamwright::book {

std::span<const Kind> people_kinds();   ///< who signs and welds, and their certificates
std::span<const Kind> design_kinds();   ///< what is frozen: qualifications, procedures, designs, ratings
std::span<const Kind> stock_kinds();    ///< what is on the shelf: lots, filler, gas, devices
std::span<const Kind> frame_kinds();    ///< a frame and its welds
std::span<const Kind> finding_kinds();  ///< what was found on a frame, decided of it, and where it went
std::span<const Kind> quality_kinds();  ///< what an auditor asks of the shop, and findings
std::span<const Kind> chain_kinds();    ///< what is said of other entries

}  // namespace seamwright::book
