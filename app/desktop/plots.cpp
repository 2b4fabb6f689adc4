// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/plots.h"

#include <QPainter>
#include <algorithm>
#include <cmath>

#include "app/desktop/theme.h"
#include "app/desktop/words.h"

namespace seamwright::desktop {

namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

// Log axes: cycles across, range upright.
struct Axes {
  QRectF area;
  double x0 = 3, x1 = 9, y0 = 0.5, y1 = 3;  // log10
  double x(double cycles) const { return area.left() + area.width() * (std::log10(cycles) - x0) / (x1 - x0); }
  double y(double range) const {
    return area.bottom() - area.height() * (std::log10(range) - y0) / (y1 - y0);
  }
};

Axes axes_of(const reports::SnPlot& plot, const QRectF& area) {
  double low = nan, high = nan, few = nan, many = nan;
  for (const auto& b : plot.bars) {
    low = std::fmin(low, b.from_mpa);
    high = std::fmax(high, b.to_mpa);
    few = std::fmin(few, std::max(1.0, b.cycles));
    many = std::fmax(many, b.cycles);
  }
  Axes a{area};
  a.x0 = std::floor(std::fmin(4, std::log10(few)));
  a.x1 = std::ceil(std::fmax(8, std::log10(many)));
  a.y0 = std::log10(std::fmin(20, low) * 0.8);
  a.y1 = std::log10(std::fmax(400, high) * 1.1);
  return a;
}

void paint_grid(QPainter& painter, const Axes& a) {
  painter.setFont(hint_font());
  const int high = painter.fontMetrics().height();
  for (double decade = a.x0; decade <= a.x1 + 0.5; ++decade) {
    const double x = a.area.left() + a.area.width() * (decade - a.x0) / (a.x1 - a.x0);
    painter.setPen(colours().hairline);
    painter.drawLine(QPointF(x, a.area.top()), QPointF(x, a.area.bottom()));
    painter.setPen(colours().faint);
    static const char* raised[] = {"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
    const int power = std::clamp(static_cast<int>(decade), 0, 19);
    QString text = QStringLiteral("10");
    if (power >= 10) text += QString::fromUtf8(raised[1]);
    text += QString::fromUtf8(raised[power % 10]);
    painter.drawText(QRectF(x - 20, a.area.bottom() + 2, 40, high), Qt::AlignHCenter, text);
  }
  for (const double range : {1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0}) {
    const double y = a.y(range);
    if (y < a.area.top() - 1 || y > a.area.bottom() + 1) continue;
    painter.setPen(colours().hairline);
    painter.drawLine(QPointF(a.area.left(), y), QPointF(a.area.right(), y));
    painter.setPen(colours().faint);
    painter.drawText(QRectF(0, y - high / 2.0, a.area.left() - 6, high), Qt::AlignRight | Qt::AlignVCenter,
                     QString::number(range));
  }
}

}  // namespace

SnView::SnView(QWidget* parent) : QWidget(parent) { setAccessibleName(say("window.sn")); }

void SnView::set_plot(reports::SnPlot plot) {
  plot_ = std::move(plot);
  QStringList told{say("window.sn-text", {text("curve", plot_.curve)})};
  for (const auto& b : plot_.bars)
    told << quantity(b.from_mpa, "MPa", 3) + QStringLiteral(" – ") + quantity(b.to_mpa, "MPa", 3) +
                QStringLiteral(": ") + quantity(b.cycles, "", 2) + QStringLiteral(", ") +
                quantity(100 * b.share, "%", 2);
  setAccessibleDescription(told.join(QLatin1Char('\n')));
  setToolTip(told.join(QLatin1Char('\n')));
  update();
}

void SnView::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setFont(hint_font());
  const int high = painter.fontMetrics().height(),
            left = painter.fontMetrics().horizontalAdvance(QStringLiteral("0000")) + 8;
  const Axes a = axes_of(plot_, QRectF(left, high + 6, width() - left - 10, height() - 3.4 * high - 14));
  paint_grid(painter, a);
  painter.setPen(colours().faint);
  painter.drawText(QRectF(0, 0, width(), high), Qt::AlignLeft, say("window.sn-range"));
  painter.drawText(QRectF(0, a.area.bottom() + high + 3, width() - 8, high), Qt::AlignRight,
                   say("window.sn-cycles"));
  painter.drawText(QRectF(0, height() - high - 1, width(), high), Qt::AlignLeft,
                   plot_.curve.empty()
                       ? say("window.sn-none")
                       : say(plot_.from_memory ? "window.sn-source-memory" : "window.sn-source",
                             {text("source", plot_.source.key), text("clause", plot_.source.clause)}));
  painter.setClipRect(a.area.adjusted(0, -2, 0, 2));
  double most = 0;
  for (const auto& b : plot_.bars) most = std::max(most, b.share);
  for (const auto& b : plot_.bars) {
    const double to = std::max(a.area.left() + 3, a.x(std::max(1.0, b.cycles)));
    painter.fillRect(QRectF(QPointF(a.area.left(), a.y(b.to_mpa)), QPointF(to, a.y(b.from_mpa) - 1)),
                     reports::used_colour(frame_colours(), most > 0 ? b.share / most : 0));
  }
  painter.setPen(QPen(colours().ink, 1.6));
  for (std::size_t i = 0; i + 1 < plot_.line.size(); ++i)
    painter.drawLine(QPointF(a.x(plot_.line[i].first), a.y(plot_.line[i].second)),
                     QPointF(a.x(plot_.line[i + 1].first), a.y(plot_.line[i + 1].second)));
  if (plot_.line.size() > 1) {
    const double mpa = std::pow(10, a.y0 + 0.82 * (a.y1 - a.y0));
    // Beside the line: straight between its ends on these axes.
    const auto& p = plot_.line[0];
    const auto& q = plot_.line[1];
    const double share =
        (std::log10(p.second) - std::log10(mpa)) / (std::log10(p.second) - std::log10(q.second));
    const double cycles =
        std::pow(10, std::log10(p.first) + share * (std::log10(q.first) - std::log10(p.first)));
    painter.drawText(QPointF(a.x(cycles) + 8, a.y(mpa)), of(plot_.curve));
  }
}

ShareBars::ShareBars(QWidget* parent) : QWidget(parent) { setAccessibleName(say("window.shares")); }

void ShareBars::set_shares(std::vector<reports::Share> shares) {
  shares_ = std::move(shares);
  QStringList told;
  for (const auto& s : shares_)
    told << said(s.label) + QStringLiteral(": ") + quantity(100 * s.share, "%", 2);
  setAccessibleDescription(told.join(QStringLiteral("; ")));
  updateGeometry();
  update();
}

QSize ShareBars::sizeHint() const {
  return {200, static_cast<int>(std::max<std::size_t>(1, shares_.size())) * (fontMetrics().height() + 6)};
}

void ShareBars::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  const int row = fontMetrics().height() + 6,
            names = std::min(width() / 2, 18 * fontMetrics().averageCharWidth()),
            figures = fontMetrics().horizontalAdvance(QStringLiteral("100,0 %")) + 6;
  for (std::size_t i = 0; i < shares_.size(); ++i) {
    const int top = static_cast<int>(i) * row;
    painter.setPen(colours().ink);
    painter.drawText(QRect(0, top, names, row), Qt::AlignVCenter | Qt::AlignLeft,
                     fontMetrics().elidedText(said(shares_[i].label), Qt::ElideRight, names - 6));
    painter.drawText(QRect(names, top, figures - 8, row), Qt::AlignVCenter | Qt::AlignRight,
                     quantity(100 * shares_[i].share, "%", 2));
    const int room = width() - names - figures;
    painter.fillRect(
        QRectF(names + figures, top + row * 0.3, std::max(1.0, shares_[i].share * room), row * 0.4),
        colours().steel);
  }
}

TripLine::TripLine(QWidget* parent) : QWidget(parent) { setAccessibleName(say("window.trip-line")); }

void TripLine::set_duty(const loads::Duty& duty) {
  trips_ = duty.trips;
  QStringList told;
  for (const loads::Trip& trip : trips_)
    for (const loads::Leg& leg : trip.legs)
      told << of(leg.id) + QStringLiteral(": ") + quantity(leg.distance_km, "km", 3) + QStringLiteral(", ") +
                  quantity(leg.speed_kmh, "km/h", 3) + QStringLiteral(", ") +
                  quantity(leg.pose.payload_kg, "kg", 3) + QStringLiteral(", ") + of(leg.road);
  setAccessibleDescription(told.join(QStringLiteral("; ")));
  setToolTip(told.join(QLatin1Char('\n')));
  updateGeometry();
  update();
}

QSize TripLine::sizeHint() const {
  const int lines = static_cast<int>(std::max<std::size_t>(1, trips_.size()));
  return {200, lines * (3 * fontMetrics().height() + 22)};
}

void TripLine::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setFont(hint_font());
  const int high = painter.fontMetrics().height();
  double heaviest = 1, longest = 0;
  for (const loads::Trip& t : trips_) {
    longest = std::max(longest, loads::distance_km(t));
    for (const loads::Leg& leg : t.legs) heaviest = std::max(heaviest, leg.pose.payload_kg);
  }
  int top = 4;
  for (const loads::Trip& trip : trips_) {
    double x = 4;
    const double least = 14, room = width() - 8 - least * static_cast<double>(trip.legs.size());
    const double middle = top + high + 8;
    painter.setPen(colours().faint);
    painter.drawText(
        QRectF(4, top, width() - 8, high), Qt::AlignLeft,
        say("window.trip-name", {text("trip", trip.id), number("times", trip.trips_per_year, "")}));
    for (const loads::Leg& leg : trip.legs) {
      const double length = least + std::max(0.0, room) * leg.distance_km / std::max(longest, 1e-9);
      const double thick = 2 + 8 * leg.pose.payload_kg / heaviest;
      painter.fillRect(QRectF(x, middle - thick / 2 + 4, length - 2, thick),
                       leg.pose.payload_kg > 0 ? colours().steel : colours().faint);
      painter.setPen(colours().ink);
      const QRectF below(x, middle + 10, length - 4, high);
      painter.drawText(
          below, Qt::AlignLeft,
          painter.fontMetrics().elidedText(of(leg.id), Qt::ElideRight, static_cast<int>(length - 4)));
      painter.setPen(colours().faint);
      painter.drawText(below.translated(0, high), Qt::AlignLeft,
                       painter.fontMetrics().elidedText(quantity(leg.distance_km, "km", 3), Qt::ElideRight,
                                                        static_cast<int>(length - 4)));
      x += length;
    }
    top += 3 * high + 22;
  }
}

}  // namespace seamwright::desktop
