// SPDX-License-Identifier: GPL-3.0-or-later
// A procedure's file by form: one line for each item of the sheet, each change a step that can be undone, written whole or not at all.
#pragma once

#include <string>

class QWidget;

namespace seamwright::desktop {

/// True when the file was written.
bool ask_edited_procedure(QWidget* parent, const std::string& job, const std::string& path);

}  // namespace seamwright::desktop
