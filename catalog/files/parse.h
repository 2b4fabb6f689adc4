// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/files/reader.h"
#include "catalog/files/source.h"
#include "catalog/published/nearest.h"

namespace seamwright::files {

/// Parses TOML; throws Fault "file.syntax" with file, line and the parser's description.
toml::table parse(const std::string& path, const std::string& content);

}  // namespace seamwright::files
