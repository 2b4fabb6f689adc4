// SPDX-License-Identifier: GPL-3.0-or-later
// The worth of a procedure's text, told while one types: qualified or not, item by item, and the welds of the open job that it covers.
#pragma once

#include <QString>
#include <string>

#include "engine/qualification/calendar.h"

namespace seamwright::design {
struct Design;
}

namespace seamwright::desktop {

/// Several lines. Throws the readers' Faults for a text that does not read.
QString procedure_words(const std::string& path, const std::string& content, const design::Design& design, qualification::Date today);

/// Writes a procedure's file, unless another program changed it since it was read: nothing of that is overwritten in silence. Throws Fault
/// "piece.changed-on-disk" and std::runtime_error.
void write_procedure(const std::string& path, const std::string& as_read, const std::string& content);

}  // namespace seamwright::desktop
