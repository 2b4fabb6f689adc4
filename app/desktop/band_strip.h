// SPDX-License-Identifier: GPL-3.0-or-later
// One parameter of a run: the allowed band with its ends in figures, a field for what the machine shows, and
// where that lies, in words.
#pragma once

#include <QWidget>

#include "reports/content/machine_blocks.h"

class QLabel;

namespace seamwright::desktop {

class NumberField;

class BandStrip : public QWidget {
  Q_OBJECT
 public:
  /// most: of what can be typed; 0 = a strip that moves by itself.
  BandStrip(const QString& name, const QString& unit, double most, QWidget* parent = nullptr);
  void set_band(const qualification::Span& band);
  /// Shows the value of a strip that moves by itself, and on every strip where it lies.
  void show_value(double value, reports::Place place);
  double value() const;  ///< 0 = nothing that can be read
  NumberField* field() const { return field_; }

 signals:
  void changed();

 private:
  class Scale;
  Scale* scale_ = nullptr;
  NumberField* field_ = nullptr;
  QLabel *figure_ = nullptr, *word_ = nullptr;
  QString unit_;
};

}  // namespace seamwright::desktop
