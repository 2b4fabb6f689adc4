// SPDX-License-Identifier: GPL-3.0-or-later
// The fields of a kind of record that a person fills in, side by side, made from the table of kinds.
#pragma once

#include <QWidget>
#include <string>
#include <vector>

#include "catalog/book/records/weld_record.h"

namespace seamwright::desktop {

class NumberField;

class RecordForm : public QWidget {
  Q_OBJECT
 public:
  /// A control for each field that has one in the window, but for those that are shown elsewhere.
  RecordForm(const book::Kind& kind, const std::vector<std::string>& elsewhere, QWidget* parent = nullptr);
  /// Gives what stands in the controls, by the names of the fields; nothing for an empty one, or for what is
  /// no number.
  book::Values entered() const;
  void clear();
  std::vector<NumberField*> numbers() const;

 private:
  QWidget* control_of(const book::Field& field, const QString& name);
  struct Control {
    const book::Field* field;
    QWidget* widget;
  };
  std::vector<Control> controls_;
};

}  // namespace seamwright::desktop
