// SPDX-License-Identifier: GPL-3.0-or-later
// Blocks to terminal text and to HTML; all sites of ratings as a table for spreadsheets.
#pragma once

#include <string>
#include <vector>

#include "reports/content/blocks.h"
#include "reports/text/text.h"

namespace seamwright::rating {
struct Rating;
}

namespace seamwright::reports {

struct TerminalStyle {
  bool colour = false;
  int width = 100;   ///< columns
  bool fit = false;  ///< tables keep to the width too, as on a terminal
};

/// Control characters of foreign text are shown as escapes, never sent to the terminal.
std::string to_terminal(const Document& document, Language language, const TerminalStyle& style);

/// One self-contained page (no outside files, no script), readable on screen and on paper, light and dark.
std::string to_html(const Document& document, Language language);

/// A picture as SVG for a page or a file of its own, in light colours; words stay text.
std::string to_svg(const Picture& picture, Language language);

/// RFC 4180, one line for each site; numbers that are not finite stay empty.
std::string to_csv(const std::vector<rating::Rating>& ratings);

}  // namespace seamwright::reports
