// SPDX-License-Identifier: GPL-3.0-or-later
// Words that engine and catalog give from fixed lists (quantities, items of a check, imperfections), as a reader's language has them.
#pragma once

#include <string>
#include <string_view>

#include "reports/text/language.h"

namespace seamwright::reports {

/// A term argument is shown so: of the family "item." the word "branch angle" is the sentence item.branch-angle. What follows the word in
/// brackets, "scf (brace toe)", stays. A word that the family lacks is shown as it is; numbers with their unit ("2.5 .. 4 mm") have the
/// language's decimal mark; "a, b", "at least x", "1 to 60 names" and "x in place of y" have
/// the words that the family has for their parts.
std::string term_text(std::string_view family, const std::string& word, Language language);

/// The end of the id of a word's sentence: small letters and figures, all else as single dashes.
std::string term_id(std::string_view word);

}  // namespace seamwright::reports
