// SPDX-License-Identifier: GPL-3.0-or-later
// The small forms share these: rows with their names for those who do not see them, and a place for faults.
#pragma once

#include <QFormLayout>
#include <QString>
#include <functional>

#include "engine/evidence/evidence.h"

class QFont;
class QLabel;
class QLineEdit;

namespace seamwright::desktop {

/// Makes a control, or the rows of a list, large enough for a glove: 48 pixels. By the style, which else sets their height.
void make_large(QWidget* control);
/// A column that scrolls where the window is too low for it.
QWidget* scrolling(QWidget* column);
/// An empty label of plain words that break at its edge.
QLabel* wrapped_label(const QFont& font);

/// A sentence without its mnemonic, for names.
QString without_mnemonic(MessageId id);
/// The name of a control and of the line inside it.
void name_control(QWidget* control, const QString& name);
QLineEdit* add_line(QFormLayout* form, MessageId label, const QString& value = {}, bool hidden = false);
/// A line for a path with a button beside it that asks for one.
QLineEdit* add_path(QFormLayout* form, MessageId label, const std::function<QString()>& ask);
QLabel* add_fault(QFormLayout* form);
void show_fault(QLabel* label, const Message& message);

}  // namespace seamwright::desktop
