// SPDX-License-Identifier: GPL-3.0-or-later
// A job as it enters the book, so that frames can be held to it years later: its procedures with their records, its welders' certificates, its
// design and its rating.
#pragma once

#include <string>
#include <vector>

#include "catalog/book/book.h"
#include "engine/qualification/calendar.h"

namespace seamwright::rating {
struct Rating;
}

namespace seamwright::book {

/// The entries that the book lacks, in the order in which one rests on the other. A procedure, a certificate or a design that stands in the book
/// byte for byte is not entered again; the rating always is. design_text is what was rated. Throws the readers' Faults.
std::vector<NewEntry> job_records(const Book& book, const std::string& folder, const std::string& design_text, const rating::Rating& rating,
                                  const std::string& program, qualification::Date today);

}  // namespace seamwright::book
