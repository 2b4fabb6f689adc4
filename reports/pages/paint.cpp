// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/pages/paint.h"

#include <QBuffer>
#include <QFontDatabase>
#include <QFontMetricsF>
#include <QGuiApplication>
#include <QImage>
#include <cstdlib>

#include "reports/render/cells.h"
#include "reports/render/colours.h"

namespace seamwright::reports {

namespace {

struct Painting {
  QPainter& painter;
  QPointF origin;
  double per_mm;
  Language language;
  const Colours& colours;

  QPointF page_point(const Point& p) const { return origin + per_mm * QPointF(p.x, p.y); }
  QPen pen(const Pen& p) const {
    if (p.colour.ink == Ink::none) return Qt::NoPen;
    QPen pen(colours(p.colour), p.width_mm * per_mm);
    pen.setCapStyle(Qt::RoundCap);
    pen.setJoinStyle(Qt::RoundJoin);
    // Dashes count in widths of the pen.
    const double unit = 1 / std::max(p.width_mm, 0.05);
    if (p.dash == Dash::dashed) pen.setDashPattern({2.4 * unit, 1.2 * unit});
    if (p.dash == Dash::dotted) pen.setDashPattern({0.5 * unit, 0.8 * unit});
    return pen;
  }
  QBrush brush(const Colour& c) const { return c.ink == Ink::none ? QBrush() : QBrush(colours(c)); }

  void operator()(const Path& p) const {
    QPolygonF shape;
    for (const Point& point : p.points) shape << page_point(point);
    painter.setPen(pen(p.pen));
    painter.setBrush(brush(p.fill));
    if (p.closed)
      painter.drawPolygon(shape);
    else
      painter.drawPolyline(shape);
  }
  void operator()(const Circle& c) const {
    painter.setPen(pen(c.pen));
    painter.setBrush(brush(c.fill));
    painter.drawEllipse(page_point(c.centre), c.radius_mm * per_mm, c.radius_mm * per_mm);
  }
  void operator()(const PictureText& w) const {
    QFont font = font_of(9, w.bold), small = font;
    font.setPixelSize(std::max(1, static_cast<int>(w.size_mm * per_mm + 0.5)));
    small.setPixelSize(std::max(1, static_cast<int>(raised_share * w.size_mm * per_mm + 0.5)));
    const QString text = QString::fromStdString(plain_text(w.text, language)),
                  raised = QString::fromStdString(visible(w.raised));
    const double width = QFontMetricsF(font, painter.device()).horizontalAdvance(text);
    const double all = width + QFontMetricsF(small, painter.device()).horizontalAdvance(raised);
    const double left = w.anchor == PictureText::Anchor::start    ? 0
                        : w.anchor == PictureText::Anchor::middle ? -all / 2
                                                                  : -all;
    painter.save();
    painter.translate(page_point(w.at));
    if (w.upright) painter.rotate(-90);
    painter.setPen(colours(w.colour));
    painter.setFont(font);
    painter.drawText(QPointF(left, 0), text);
    painter.setFont(small);
    if (!raised.isEmpty()) painter.drawText(QPointF(left + width, -0.4 * w.size_mm * per_mm), raised);
    painter.restore();
  }
};

}  // namespace

QColor paper_colour(const Colour& colour) {
  const Rgb c = on_paper(colour);
  return {c.red, c.green, c.blue};
}

void paint(QPainter& painter, const QPointF& at, double per_mm, const Picture& picture, Language language,
           const Colours& colours) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  const Painting painting{painter, at, per_mm, language, colours};
  for (const auto& item : picture.items) std::visit(painting, item);
  painter.restore();
}

std::string to_png(const Picture& picture, Language language) {
  need_painting();
  constexpr double per_mm = 200 / 25.4, largest_mm = 1500;
  const double shrink = std::min(1.0, largest_mm / std::max({picture.width_mm, picture.height_mm, 1.0}));
  QImage image(QSizeF(picture.width_mm * per_mm * shrink, picture.height_mm * per_mm * shrink)
                   .toSize()
                   .expandedTo(QSize(1, 1)),
               QImage::Format_RGB32);
  image.fill(Qt::white);
  QPainter painter(&image);
  paint(painter, QPointF(0, 0), per_mm * shrink, picture, language);
  painter.end();
  QByteArray bytes;
  QBuffer buffer(&bytes);
  buffer.open(QIODevice::WriteOnly);
  image.save(&buffer, "PNG");
  return bytes.toStdString();
}

QByteArray qt_svg(std::string_view svg) {
  QByteArray bytes(svg.data(), static_cast<qsizetype>(svg.size()));
  return bytes.replace("url(#weld)", "#9AA1A7");
}

QFont font_of(double points, bool bold) {
  QFont font;
  font.setFamilies({QStringLiteral("Liberation Sans"), QStringLiteral("DejaVu Sans")});
  font.setPointSizeF(points);
  font.setBold(bold);
  return font;
}

void need_painting() {
  if (!QCoreApplication::instance()) {
    ::setenv("QT_QPA_PLATFORM", "offscreen", 1);
    static int count = 1;
    static char name[] = "seamwright";
    static char* names[] = {name, nullptr};
    qInstallMessageHandler(
        [](QtMsgType, const QMessageLogContext&, const QString&) {});  // talk of missing desktops
    static QGuiApplication application(count, names);
  }
  const QStringList known = QFontDatabase::families();
  if (!known.contains(QStringLiteral("Liberation Sans")) && !known.contains(QStringLiteral("DejaVu Sans")))
    throw Fault{Message{"pages.no-fonts", {}}, Category::machine};
}

}  // namespace seamwright::reports
