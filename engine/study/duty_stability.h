// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "engine/loads/stability.h"
#include "engine/rating/job.h"

namespace seamwright::study {

/// Tells when the trike tips: empty and with every loading of the duty, at so many steering angles from stop
/// to stop. Throws what loads::stability() throws.
loads::Stability stability_of(const rating::Job& job, std::size_t angles);

}  // namespace seamwright::study
