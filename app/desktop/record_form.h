// SPDX-License-Identifier: GPL-3.0-or-later
// The fields of a kind of record that a person fills in, made from the table of kinds.
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
  enum class Fields { with_control, all };  ///< all: every field but files, under its label where it has no control
  /// A control for each field that has one in the window, but for those that are shown elsewhere.
  RecordForm(const book::Kind& kind, const std::vector<std::string>& elsewhere, int columns = 4, Fields fields = Fields::with_control,
             QWidget* parent = nullptr);
  /// Offers what the book knows while a person types into a field; anything else may still be typed.
  void suggest(const std::string& field, const std::vector<std::string>& values);
  /// Gives what stands in the controls, by the names of the fields; nothing for an empty one, or for what is
  /// no number.
  book::Values entered() const;
  void clear();
  /// Puts a text into a field of text or texts.
  void set_text(const std::string& field, const std::string& value);
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
