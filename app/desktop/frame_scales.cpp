// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/frame_scales.h"

#include <QPainter>

#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "reports/content/frame_mesh.h"
#include "reports/content/weld_card.h"

namespace seamwright::desktop {

namespace {

constexpr int wide = 160, steps = 40;

QRect scale_place(const QPainter& painter, const QRect& area) {
  const int high = 2 * painter.fontMetrics().height() + 14;
  return {area.right() - wide - 15, area.top() + 10, wide, high};
}

void paint_title(QPainter& painter, const QRect& place, const QString& title) {
  painter.setPen(colours().faint);
  const int room = painter.fontMetrics().horizontalAdvance(title) + 8;
  painter.drawText(QRect(place.right() - room, place.top(), room, painter.fontMetrics().height()),
                   Qt::AlignRight, title);
}

// The bar grows thicker with its hue, so that it is read in grey.
void paint_bar(QPainter& painter, const QRect& place) {
  const int high = painter.fontMetrics().height();
  for (int i = 0; i < steps; ++i) {
    const double share = (i + 0.5) / steps, thick = 1.2 + 4.8 * share;
    painter.fillRect(QRectF(place.left() + i * wide / double(steps), place.top() + high + 6 - thick / 2,
                            wide / double(steps) + 0.5, thick),
                     used_colour(share));
  }
}

}  // namespace

void paint_used_scale(QPainter& painter, const QRect& area) {
  const QRect place = scale_place(painter, area);
  paint_title(painter, place, sentence_of("window.life-used-log"));
  paint_bar(painter, place);
  const int high = painter.fontMetrics().height(), below = place.top() + high + 11;
  const QRect line(place.left(), below, wide, high);
  painter.drawText(line, Qt::AlignLeft, quantity(reports::least_used, "", 1));
  painter.drawText(line, Qt::AlignRight, quantity(reports::most_used, "", 3));
  const int one = place.left() + static_cast<int>(reports::place_of_used(1) * wide);
  painter.drawText(QRect(one - 30, below, 60, high), Qt::AlignHCenter, quantity(1, "", 1));
  painter.drawLine(one, place.top() + high + 1, one, place.top() + high + 11);
}

void paint_stress_scale(QPainter& painter, const QRect& area, const reports::FrameMotion& rest) {
  const QRect place = scale_place(painter, area);
  const double most = reports::largest_stress_mpa(rest);
  paint_title(painter, place, sentence_of("window.stress-at-rest", rest.name.arguments));
  paint_bar(painter, place);
  const int high = painter.fontMetrics().height();
  const QRect line(place.left(), place.top() + high + 11, wide, high);
  painter.drawText(line, Qt::AlignLeft, quantity(0, "MPa", 1));
  painter.drawText(line, Qt::AlignRight, quantity(most, "MPa", 3));
}

}  // namespace seamwright::desktop
