// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <CLI/CLI.hpp>
#include <functional>

#include "reports/text/text.h"

namespace seamwright::cli {

/// Adds the command `rate`; run() then holds what to do, giving the exit code.
void add_rate(CLI::App& app, const reports::Language& language, std::function<int()>& run);

}  // namespace seamwright::cli
