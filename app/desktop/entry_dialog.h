// SPDX-License-Identifier: GPL-3.0-or-later
// Any kind of entry of the record book by form: its fields come from the table of kinds, so that one more kind needs nothing here.
#pragma once

#include <functional>

#include "app/desktop/shift.h"

class QString;
class QWidget;

namespace seamwright::desktop {

/// Asks for a kind and its fields, shows what will be sealed, and signs it. Returns how many entries were added.
std::size_t ask_new_entry(QWidget* parent, Shift& shift, const QString& book);

}  // namespace seamwright::desktop
