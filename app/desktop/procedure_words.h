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

}  // namespace seamwright::desktop
