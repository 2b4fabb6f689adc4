// SPDX-License-Identifier: GPL-3.0-or-later
// Text broken into lines for one width, painted line by line.
#pragma once

#include <QPainter>
#include <QTextLayout>
#include <memory>

#include "reports/content/blocks.h"
#include "reports/text/text.h"

namespace seamwright::reports {

struct Lines {
  std::shared_ptr<QTextLayout> layout;
  int count = 0;
  double line_height = 0, width = 0;
  QString state;  ///< shape drawn before the first line; "" = none
  QColor colour = Qt::black;
  bool right = false;

  double height() const { return count * line_height; }
  void paint(QPainter& painter, const QPointF& at, int line) const;
  void paint(QPainter& painter, const QPointF& at) const;
};

Lines lines_of(const QString& text, const QFont& font, double width, QPaintDevice* device);
Lines lines_of(const Cell& cell, const QFont& font, double width, QPaintDevice* device, Language language);

/// Width that a cell takes on one line, and that of its longest word.
struct Widths {
  double whole = 0, word = 0;
};
Widths widths_of(const QString& text, const QFont& font, QPaintDevice* device);

}  // namespace seamwright::reports
