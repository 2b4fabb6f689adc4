// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/band_strip.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPainter>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "app/desktop/forms.h"
#include "app/desktop/number_field.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"

namespace seamwright::desktop {

// The band in the middle of a line, and a marker for the value.
class BandStrip::Scale : public QWidget {
 public:
  using QWidget::QWidget;
  qualification::Span band;
  double value = 0;
  reports::Place place = reports::Place::unknown;
  QSize sizeHint() const override { return {320, 3 * fontMetrics().height() + 12}; }
  QSize minimumSizeHint() const override { return {180, sizeHint().height()}; }

 protected:
  void paintEvent(QPaintEvent*) override {
    QPainter p(this);
    p.setRenderHint(QPainter::Antialiasing);
    p.setFont(number_font());
    const double left = 0.22 * width(), right = 0.78 * width(), middle = 0.5 * fontMetrics().height() + 10;
    p.setPen(QPen(colours().hairline, 2));
    p.drawLine(QPointF(8, middle), QPointF(width() - 8, middle));
    if (!band.stated()) return;
    p.setPen(QPen(colours().ink, 1));
    p.setBrush(colours().band);
    p.drawRect(QRectF(left, middle - 8, right - left, 16));
    const QRectF below(0, middle + 12, width(), 2 * fontMetrics().height());
    p.drawText(below.adjusted(left - 60, 0, left + 60 - width(), 0), Qt::AlignHCenter,
               quantity(band.least, "", 3));
    p.drawText(below.adjusted(right - 60, 0, right + 60 - width(), 0), Qt::AlignHCenter,
               quantity(band.most, "", 3));
    if (!(value > 0)) return;
    const double wide = std::max(band.most - band.least, 1e-9);
    const double x = std::clamp(left + (value - band.least) / wide * (right - left), 10.0, width() - 10.0);
    const bool outside = place == reports::Place::outside;
    p.setPen(Qt::NoPen);
    p.setBrush(outside ? colours().arc : colours().steel);
    if (outside)
      p.drawPolygon(
          QPolygonF{QPointF(x - 9, middle - 11), QPointF(x + 9, middle - 11), QPointF(x, middle + 7)});
    else
      p.drawEllipse(QPointF(x, middle), 8, 8);
  }
};

BandStrip::BandStrip(const QString& name, const QString& unit, double most, QWidget* parent)
    : QWidget(parent), unit_(unit) {
  auto* row = new QHBoxLayout(this);
  row->setContentsMargins(0, 0, 0, 0);
  row->setSpacing(12);
  auto* label = new QLabel(unit.isEmpty() ? name : name + QStringLiteral(", ") + unit);
  label->setMinimumWidth(24 * fontMetrics().averageCharWidth());
  label->setWordWrap(true);
  const QString spoken = QString(name).remove(QLatin1Char('&'));
  row->addWidget(label);
  if (most > 0) {
    field_ = new NumberField(0, most, unit);
    field_->setPlaceholderText(QStringLiteral("–"));
    field_->setFont(number_font());
    make_large(field_);
    field_->setMinimumWidth(120);
    field_->setMaximumWidth(160);
    field_->setAccessibleName(spoken);
    label->setBuddy(field_);
    auto* typed_and_read = new QVBoxLayout;
    typed_and_read->setSpacing(0);
    typed_and_read->addWidget(field_);
    typed_and_read->addWidget(field_->reading());
    row->addLayout(typed_and_read);
    connect(field_, &NumberField::changed, this, &BandStrip::changed);
  } else {
    figure_ = new QLabel;
    figure_->setFont(number_font());
    figure_->setMinimumWidth(120);
    figure_->setAccessibleName(spoken);
    row->addWidget(figure_);
  }
  scale_ = new Scale;
  scale_->setAccessibleName(spoken);
  row->addWidget(scale_, 1);
  word_ = new QLabel;
  word_->setFont(number_font());
  word_->setMinimumWidth(16 * fontMetrics().averageCharWidth());
  row->addWidget(word_);
}

void BandStrip::set_band(const qualification::Span& band) {
  scale_->band = band;
  scale_->update();
}

double BandStrip::value() const { return field_ ? field_->value().value_or(0) : scale_->value; }

void BandStrip::show_value(double value, reports::Place place) {
  scale_->value = std::isfinite(value) ? value : 0;
  scale_->place = place;
  scale_->setAccessibleDescription(sentence_of(composed_id("place.", reports::name_of(place))));
  scale_->update();
  if (figure_)
    figure_->setText(std::isfinite(value) && value > 0 ? quantity(value, unit_.toStdString(), 3)
                                                       : QStringLiteral("–"));
  word_->setText(sentence_of(composed_id("place.", reports::name_of(place))));
  QPalette p = word_->palette();
  p.setColor(QPalette::WindowText, place == reports::Place::outside   ? colours().arc
                                   : place == reports::Place::unknown ? colours().faint
                                                                      : colours().ink);
  word_->setPalette(p);
}

}  // namespace seamwright::desktop
