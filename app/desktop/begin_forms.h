// SPDX-License-Identifier: GPL-3.0-or-later
// Short forms that begin a welding procedure for welds of the open job, and enter a welder's certificate.
#pragma once

#include <QString>
#include <string>
#include <vector>

class QWidget;

namespace seamwright::desktop {

/// Begins a preliminary procedure for these welds, from a start; which of them it covers is shown before it is written. Returns the file's
/// name, "" when none was made.
QString ask_new_procedure(QWidget* parent, const std::string& job, const std::vector<std::string>& welds, const std::string& maker);
/// True when a certificate was entered.
bool ask_new_certificate(QWidget* parent, const std::string& job, const std::string& employer);

}  // namespace seamwright::desktop
