// SPDX-License-Identifier: GPL-3.0-or-later
// Colours by role, light and dark; everything that is painted takes them from here or from the palette.
#pragma once

#include <QColor>
#include <QFont>
#include <QPalette>

#include "reports/content/picture.h"

class QApplication;

namespace seamwright::desktop {

enum class Style { light, dark };

struct Colours {
  QColor ground, sheet, ink, faint, steel, arc;
  QColor hairline;    ///< between things
  QColor pale, deep;  ///< ends of the hue for life used
  QColor band;        ///< every second row, headers
};

/// Those of the style in force.
const Colours& colours();
Style style();
/// Sets palette, style sheet and font sizes of the whole program.
void apply_style(QApplication& application, Style style);
/// The desktop's own wish: dark where its palette is dark.
Style desktop_style(const QApplication& application);

/// Gives a colour of pictures in the style in force.
QColor picture_colour(const reports::Colour& colour);
/// 0: least, 1: most.
QColor used_colour(double place);

/// Body is the desktop's font at 10.5 pt at least; numbers, answers and hints in proportion.
QFont body_font();
QFont number_font();
QFont answer_font();
QFont hint_font();

}  // namespace seamwright::desktop
