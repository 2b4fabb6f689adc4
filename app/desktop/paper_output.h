// SPDX-License-Identifier: GPL-3.0-or-later
// The paper of the window's locale.
#pragma once

#include "reports/pages/pages.h"

namespace seamwright::desktop {

/// Letter where the locale uses it.
reports::Paper paper();

}  // namespace seamwright::desktop
