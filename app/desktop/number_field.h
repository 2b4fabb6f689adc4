// SPDX-License-Identifier: GPL-3.0-or-later
// A field for a number that a person types, with what was understood beside it before it counts. Point and
// comma are both the decimal sign in every language; the text stays as it was typed.
#pragma once

#include <QLineEdit>
#include <optional>

class QLabel;

namespace seamwright::desktop {

class NumberField : public QLineEdit {
  Q_OBJECT
 public:
  /// Takes least to most; unit "" = none. What stands there is read by typed_number().
  NumberField(double least, double most, const QString& unit, QWidget* parent = nullptr);
  /// Nothing for an empty field, for what is no number, and beyond least and most.
  std::optional<double> value() const;
  /// Something stands there and it has no value.
  bool is_refused() const { return !text().trimmed().isEmpty() && !value(); }
  void setValue(double value);
  /// "= 1.6 mm", why it is refused, or nothing: to be put beside the field.
  QLabel* reading() const { return reading_; }
  /// The field and its reading in a row.
  QWidget* with_reading();

 signals:
  void changed();

 private:
  void show_reading();
  double least_, most_;
  QString unit_;
  QLabel* reading_;
};

/// Says in words what typed_number() makes of a text: "= 1.6 mm" or that it is no number.
QString reading_of_text(const QString& text, const QString& unit);

}  // namespace seamwright::desktop
