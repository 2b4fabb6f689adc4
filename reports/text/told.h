// SPDX-License-Identifier: GPL-3.0-or-later
// Programs tell a user of faults in the language of their environment, with the place.
#pragma once

#include <string>

#include "engine/evidence/evidence.h"
#include "reports/text/language.h"

namespace seamwright::reports {

/// The language that LC_ALL, LC_MESSAGES or LANG names, the first of them that is set; English where it is none of ours.
Language language_of_environment();

/// The sentence, with "file:line: key: " before it as far as the message has them and the sentence names none.
std::string placed_sentence(const Fault& fault, Language language);

}  // namespace seamwright::reports
