// SPDX-License-Identifier: GPL-3.0-or-later
// Files that the window writes.
#pragma once

#include <QString>
#include <string>

#include "reports/pages/pages.h"

namespace seamwright::desktop {

/// Whole or not at all. Throws std::runtime_error.
void write_whole(const QString& path, const std::string& bytes);
/// Letter where the locale uses it.
reports::Paper paper();

}  // namespace seamwright::desktop
