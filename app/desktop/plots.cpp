// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/plots.h"

#include <QPainter>
#include <algorithm>
#include <cmath>

#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "reports/pages/paint.h"

namespace seamwright::desktop {

PictureView::PictureView(const QString& name, QWidget* parent) : QWidget(parent) {
  setAccessibleName(name);
  QSizePolicy policy(QSizePolicy::Preferred, QSizePolicy::Preferred);
  policy.setHeightForWidth(true);
  setSizePolicy(policy);
}

void PictureView::set_picture(reports::Picture picture, const QStringList& told) {
  picture_ = std::move(picture);
  setAccessibleDescription(told.join(QLatin1Char('\n')));
  setToolTip(told.join(QLatin1Char('\n')).toHtmlEscaped());
  updateGeometry();
  update();
}

QSize PictureView::sizeHint() const { return {160, heightForWidth(std::max(160, width()))}; }

int PictureView::heightForWidth(int width) const {
  if (!(picture_.width_mm > 0)) return 1;
  return static_cast<int>(std::ceil(width * picture_.height_mm / picture_.width_mm));
}

void PictureView::paintEvent(QPaintEvent*) {
  if (!(picture_.width_mm > 0)) return;
  QPainter painter(this);
  reports::paint(painter, QPointF(0, 0), width() / picture_.width_mm, picture_, language(), picture_colour);
}

QStringList description_of(const reports::SnPlot& plot) {
  QStringList told{sentence_of("window.sn-text", {text("curve", plot.curve)})};
  for (const auto& b : plot.bars)
    told << quantity(b.from_mpa, "MPa", 3) + QStringLiteral(" – ") + quantity(b.to_mpa, "MPa", 3) +
                QStringLiteral(": ") + quantity(b.cycles, "", 2) + QStringLiteral(", ") +
                quantity(100 * b.share, "%", 2);
  return told;
}

QStringList description_of(const std::vector<reports::Share>& shares) {
  QStringList told;
  for (const auto& s : shares)
    told << sentence_of(s.label) + QStringLiteral(": ") + quantity(100 * s.share, "%", 2);
  return told;
}

TripLine::TripLine(QWidget* parent) : QWidget(parent) { setAccessibleName(sentence_of("window.trip-line")); }

void TripLine::set_duty(const loads::Duty& duty) {
  trips_ = duty.trips;
  QStringList told;
  for (const loads::Trip& trip : trips_)
    for (const loads::Leg& leg : trip.legs)
      told << visible_text(leg.id) + QStringLiteral(": ") + quantity(leg.distance_km, "km", 3) +
                  QStringLiteral(", ") + quantity(leg.speed_kmh, "km/h", 3) + QStringLiteral(", ") +
                  quantity(leg.pose.payload_kg, "kg", 3) + QStringLiteral(", ") + visible_text(leg.road);
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
        sentence_of("window.trip-name", {text("trip", trip.id), number("times", trip.trips_per_year, "")}));
    for (const loads::Leg& leg : trip.legs) {
      const double length = least + std::max(0.0, room) * leg.distance_km / std::max(longest, 1e-9);
      const double thick = 2 + 8 * leg.pose.payload_kg / heaviest;
      painter.fillRect(QRectF(x, middle - thick / 2 + 4, length - 2, thick),
                       leg.pose.payload_kg > 0 ? colours().steel : colours().faint);
      painter.setPen(colours().ink);
      const QRectF below(x, middle + 10, length - 4, high);
      painter.drawText(below, Qt::AlignLeft,
                       painter.fontMetrics().elidedText(visible_text(leg.id), Qt::ElideRight,
                                                        static_cast<int>(length - 4)));
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
