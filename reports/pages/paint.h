// SPDX-License-Identifier: GPL-3.0-or-later
// Pictures by Qt: on pages, as images, and in windows with their own colours.
#pragma once

#include <QByteArray>
#include <QColor>
#include <QPainter>
#include <functional>
#include <string>
#include <string_view>

#include "reports/content/picture.h"
#include "reports/text/text.h"

namespace seamwright::reports {

using Colours = std::function<QColor(const Colour&)>;
/// Ink on white.
QColor paper_colour(const Colour& colour);

/// Puts the picture's upper left corner at a place of the painter, at so many units per mm.
void paint(QPainter& painter, const QPointF& at, double per_mm, const Picture& picture, Language language,
           const Colours& colours = paper_colour);

/// The bytes of a PNG image at 200 dots per inch, on white. Needs no display.
std::string to_png(const Picture& picture, Language language);

/// A drawing of the catalog as Qt can paint it: SVG Tiny has no patterns, so hatched is grey.
QByteArray qt_svg(std::string_view svg);

/// The fonts of everything that is painted.
QFont font_of(double points, bool bold = false);
/// Qt paints through an application object; one without a display is made where there is none. Throws Fault
/// "pages.no-fonts" where Liberation Sans and DejaVu Sans are missing.
void need_painting();

}  // namespace seamwright::reports
