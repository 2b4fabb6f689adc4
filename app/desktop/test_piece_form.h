// SPDX-License-Identifier: GPL-3.0-or-later
// The qualification record of a procedure by form: the test piece as it was welded, and what each examination gave.
#pragma once

#include <string>

#include "catalog/files/procedure_reader.h"

class QWidget;

namespace seamwright::desktop {

/// True when the record was written into the procedure's file.
bool ask_new_record(QWidget* parent, const std::string& job, const files::ProcedureFile& procedure);

}  // namespace seamwright::desktop
