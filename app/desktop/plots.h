// SPDX-License-Identifier: GPL-3.0-or-later
// The small drawings of the desk: the S-N line with what a weld meets, shares as bars, the trip as a line of
// legs.
#pragma once

#include <QWidget>
#include <vector>

#include "engine/loads/duty.h"
#include "reports/content/weld_card.h"

namespace seamwright::desktop {

class SnView : public QWidget {
  Q_OBJECT
 public:
  explicit SnView(QWidget* parent = nullptr);
  void set_plot(reports::SnPlot plot);
  QSize sizeHint() const override { return {320, 220}; }
  QSize minimumSizeHint() const override { return {200, 160}; }

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  reports::SnPlot plot_;
};

class ShareBars : public QWidget {
  Q_OBJECT
 public:
  explicit ShareBars(QWidget* parent = nullptr);
  void set_shares(std::vector<reports::Share> shares);
  QSize sizeHint() const override;
  QSize minimumSizeHint() const override { return sizeHint(); }

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  std::vector<reports::Share> shares_;
};

/// Legs end to end, as long as their distances; thicker with payload.
class TripLine : public QWidget {
  Q_OBJECT
 public:
  explicit TripLine(QWidget* parent = nullptr);
  void set_duty(const loads::Duty& duty);
  QSize sizeHint() const override;
  QSize minimumSizeHint() const override { return sizeHint(); }

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  std::vector<loads::Trip> trips_;
};

}  // namespace seamwright::desktop
