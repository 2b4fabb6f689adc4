// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "engine/evidence/evidence.h"

namespace seamwright::reports {

using Json = nlohmann::ordered_json;

/// {"format", "program"} of a document.
Json begin_json(const std::string& kind, int version = 1);
std::string end_json(const Json& document);
/// The same in one line, for what is large.
std::string end_json_tightly(const Json& document);
Json json_of(const Message& message);
Json json_of(const Evidence& evidence);

}  // namespace seamwright::reports
