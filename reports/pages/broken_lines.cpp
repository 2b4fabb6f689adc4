// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/pages/broken_lines.h"

#include <QFontMetricsF>
#include <QTextOption>
#include <algorithm>

#include "reports/render/cells.h"

namespace seamwright::reports {

namespace {

// Shapes are drawn: not every font has them.
void paint_state(QPainter& painter, const QRectF& box, const QString& state) {
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(QPen(Qt::black, box.width() / 12));
  painter.setBrush(Qt::NoBrush);
  const std::string shape = shape_of(State{state.toStdString()});
  if (shape == "●") {
    painter.setBrush(Qt::black);
    painter.drawEllipse(box);
  } else if (shape == "▼") {
    painter.setBrush(Qt::black);
    painter.drawPolygon(QPolygonF({box.topLeft(), box.topRight(), QPointF(box.center().x(), box.bottom())}));
  } else if (shape == "⧄") {
    painter.drawRect(box);
    painter.drawLine(box.bottomLeft(), box.topRight());
  } else {
    painter.drawEllipse(box);
    painter.setBrush(Qt::black);
    if (state == QStringLiteral("extended")) painter.drawPie(box, 90 * 16, 180 * 16);
  }
  painter.restore();
}

}  // namespace

void Lines::paint(QPainter& painter, const QPointF& at, int line) const {
  if (line >= count) return;
  painter.setPen(colour);
  const QTextLine row = layout->lineAt(line);
  const double shift = right ? width - row.naturalTextWidth() : 0;
  row.draw(&painter, at + QPointF(shift, -row.y()));
  if (line == 0 && !state.isEmpty()) {
    const double side = 0.55 * line_height;
    paint_state(painter, QRectF(at + QPointF(0, 0.24 * line_height), QSizeF(side, side)), state);
  }
}

void Lines::paint(QPainter& painter, const QPointF& at) const {
  for (int i = 0; i < count; ++i) paint(painter, at + QPointF(0, i * line_height), i);
}

Lines lines_of(const QString& text, const QFont& font, double width, QPaintDevice* device) {
  Lines lines;
  lines.width = width;
  lines.line_height = 1.22 * QFontMetricsF(font, device).height();
  lines.layout = std::make_shared<QTextLayout>(text, font, device);
  QTextOption option;
  option.setWrapMode(QTextOption::WrapAtWordBoundaryOrAnywhere);
  lines.layout->setTextOption(option);
  lines.layout->beginLayout();
  for (QTextLine row = lines.layout->createLine(); row.isValid(); row = lines.layout->createLine()) {
    row.setLineWidth(std::max(width, 1.0));
    row.setPosition(QPointF(0, lines.count * lines.line_height));
    ++lines.count;
  }
  lines.layout->endLayout();
  return lines;
}

Lines lines_of(const Cell& cell, const QFont& font, double width, QPaintDevice* device, Language language) {
  if (std::holds_alternative<EntryBox>(cell)) return lines_of(QString(), font, width, device);
  const auto* state = std::get_if<State>(&cell);
  if (!state) {
    Lines lines = lines_of(QString::fromStdString(plain_text(cell, language)), font, width, device);
    lines.right = std::holds_alternative<Quantity>(cell);
    return lines;
  }
  const QString word =
      QString::fromStdString(visible(sentence({composed_id("state.", state->name), {}}, language)));
  const double indent = 0.9 * QFontMetricsF(font, device).height();
  Lines lines = lines_of(word, font, width - indent, device);
  for (int i = 0; i < lines.count; ++i)
    lines.layout->lineAt(i).setPosition(QPointF(indent, i * lines.line_height));
  lines.state = QString::fromStdString(state->name);
  return lines;
}

Widths widths_of(const QString& text, const QFont& font, QPaintDevice* device) {
  constexpr qsizetype long_text = 300;  // takes all the room that there is
  const QFontMetricsF metrics(font, device);
  if (text.size() > long_text) return {1e9, metrics.horizontalAdvance(text.left(20))};
  Widths widths{metrics.horizontalAdvance(text), 0};
  for (const QString& word : text.split(u' '))
    widths.word = std::max(widths.word, metrics.horizontalAdvance(word));
  return widths;
}

}  // namespace seamwright::reports
