// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/desks.h"

#include <QPainter>
#include <QPixmap>

#include "app/desktop/rate_desk.h"
#include "app/desktop/theme.h"

namespace seamwright::desktop {

namespace {

// A span on two supports with a load on it.
QIcon rate_icon() {
  QPixmap picture(96, 72);
  picture.setDevicePixelRatio(2);
  picture.fill(Qt::transparent);
  QPainter p(&picture);
  p.setRenderHint(QPainter::Antialiasing);
  p.setPen(QPen(colours().ink, 1.6));
  p.drawLine(QPointF(6, 23), QPointF(42, 23));
  p.drawLine(QPointF(6, 19), QPointF(42, 19));
  for (const double x : {9.0, 39.0})
    p.drawPolygon(QPolygonF{QPointF(x, 24), QPointF(x - 4, 31), QPointF(x + 4, 31)});
  p.drawLine(QPointF(24, 4), QPointF(24, 16));
  p.drawLine(QPointF(24, 17), QPointF(20.5, 11.5));
  p.drawLine(QPointF(24, 17), QPointF(27.5, 11.5));
  return QIcon(picture);
}

}  // namespace

const std::vector<DeskKind>& desks() {
  static const std::vector<DeskKind> all{
      {"rate", "window.desk-rate", rate_icon, [](const Context& c) -> Desk* { return new RateDesk(c); }},
  };
  return all;
}

}  // namespace seamwright::desktop
