// SPDX-License-Identifier: GPL-3.0-or-later
// Blocks to painted pages: PDF, with running head and foot. Needs no display.
#pragma once

#include <string>

#include "reports/content/blocks.h"
#include "reports/text/text.h"

namespace seamwright::reports {

enum class Paper { a4, letter };

/// The bytes of a PDF 1.4 file: real text in embedded fonts, page x of y, the document's foot and the
/// program's version on every page, heads of tables repeated. Two runs give the same text in the same places.
/// Throws Fault "pages.no-fonts" where Liberation Sans and DejaVu Sans are missing.
std::string to_pdf(const Document& document, Language language, Paper paper);

}  // namespace seamwright::reports
