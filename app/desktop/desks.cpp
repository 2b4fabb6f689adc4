// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/desks.h"

#include <QPainter>
#include <QPixmap>
#include <functional>

#include "app/desktop/inspect_desk.h"
#include "app/desktop/rate_desk.h"
#include "app/desktop/theme.h"
#include "app/desktop/trace_desk.h"
#include "app/desktop/weld_desk.h"

namespace seamwright::desktop {

namespace {

QIcon drawn(const std::function<void(QPainter&)>& draw) {
  QPixmap picture(96, 72);
  picture.setDevicePixelRatio(2);
  picture.fill(Qt::transparent);
  QPainter p(&picture);
  p.setRenderHint(QPainter::Antialiasing);
  p.setPen(QPen(colours().ink, 1.6));
  draw(p);
  return QIcon(picture);
}

// A torch over a joint.
QIcon weld_icon() {
  return drawn([](QPainter& p) {
    p.drawLine(QPointF(6, 31), QPointF(42, 31));
    p.drawPolygon(QPolygonF{QPointF(40, 4), QPointF(44, 8), QPointF(28, 22), QPointF(25, 19)});
    for (const double x : {14.0, 19.0, 24.0}) p.drawArc(QRectF(x - 3, 27, 6, 8), 0, 180 * 16);
  });
}

// A gauge over a fillet.
QIcon inspect_icon() {
  return drawn([](QPainter& p) {
    p.drawLine(QPointF(6, 31), QPointF(42, 31));
    p.drawLine(QPointF(24, 31), QPointF(24, 12));
    p.drawLine(QPointF(24, 20), QPointF(35, 31));
    p.drawEllipse(QPointF(33, 13), 8, 8);
    p.drawLine(QPointF(39, 19), QPointF(44, 24));
  });
}

// A span on two supports with a load on it.
QIcon rate_icon() {
  return drawn([](QPainter& p) {
    p.drawLine(QPointF(6, 23), QPointF(42, 23));
    p.drawLine(QPointF(6, 19), QPointF(42, 19));
    for (const double x : {9.0, 39.0})
      p.drawPolygon(QPolygonF{QPointF(x, 24), QPointF(x - 4, 31), QPointF(x + 4, 31)});
    p.drawLine(QPointF(24, 4), QPointF(24, 16));
    p.drawLine(QPointF(24, 17), QPointF(20.5, 11.5));
    p.drawLine(QPointF(24, 17), QPointF(27.5, 11.5));
  });
}

// Linked rings.
QIcon trace_icon() {
  return drawn([](QPainter& p) {
    for (const double x : {4.0, 16.0, 28.0}) p.drawRoundedRect(QRectF(x, 12, 16, 12), 6, 6);
  });
}

}  // namespace

const std::vector<DeskKind>& desks() {
  static const std::vector<DeskKind> all{
      {"weld", "window.desk-weld", weld_icon, true,
       [](const Context& c) -> Desk* { return new WeldDesk(c); }},
      {"inspect", "window.desk-inspect", inspect_icon, true,
       [](const Context& c) -> Desk* { return new InspectDesk(c); }},
      {"rate", "window.desk-rate", rate_icon, true,
       [](const Context& c) -> Desk* { return new RateDesk(c); }},
      {"trace", "window.desk-trace", trace_icon, false,
       [](const Context& c) -> Desk* { return new TraceDesk(c); }},
  };
  return all;
}

}  // namespace seamwright::desktop
