// SPDX-License-Identifier: GPL-3.0-or-later
// The small drawings of the desks: pictures, and the trip as a line of legs.
#pragma once

#include <QWidget>
#include <vector>

#include "engine/loads/duty.h"
#include "reports/content/picture.h"
#include "reports/content/weld_card.h"

namespace seamwright::desktop {

/// A picture as wide as there is room, in the style's colours.
class PictureView : public QWidget {
  Q_OBJECT
 public:
  explicit PictureView(const QString& name, QWidget* parent = nullptr);
  /// Its words go to who cannot see it, and into the tip.
  void set_picture(reports::Picture picture, const QStringList& told);
  QSize sizeHint() const override;
  bool hasHeightForWidth() const override { return true; }
  int heightForWidth(int width) const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  reports::Picture picture_;
};

/// An S-N line's ranges, and shares, in words.
QStringList description_of(const reports::SnPlot& plot);
QStringList description_of(const std::vector<reports::Share>& shares);

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
