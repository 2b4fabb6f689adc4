// SPDX-License-Identifier: GPL-3.0-or-later
// A stopwatch for a pass: arc on, arc off, and with the length welded the travel speed.
#pragma once

#include <QElapsedTimer>
#include <QTimer>
#include <QWidget>

class QLabel;
class QPushButton;

namespace seamwright::desktop {

class NumberField;

class PassClock : public QWidget {
  Q_OBJECT
 public:
  explicit PassClock(QWidget* parent = nullptr);
  /// Length of the seam, mm; a length that a person typed stays until clear(). 0 = not known.
  void set_length(double mm);
  void toggle();
  void clear();
  NumberField* length() const { return length_; }
  double seconds() const { return seconds_; }

 signals:
  /// The pass took its time, and its length is known.
  void measured(double speed_mm_s);

 private:
  void show_time();
  QElapsedTimer running_;
  QTimer tick_;
  double seconds_ = 0;
  QPushButton* button_;
  QLabel* time_;
  NumberField* length_;
};

}  // namespace seamwright::desktop
