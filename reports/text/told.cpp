// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/text/told.h"

#include <cstdlib>

#include "reports/text/text.h"

namespace seamwright::reports {

Language language_of_environment() {
  for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG"}) {
    const char* value = std::getenv(name);
    if (!value || *value == '\0') continue;
    for (const Language& offered : languages())
      if (std::string_view(value).starts_with(offered.file->code)) return offered;
    break;
  }
  return language_named("en");
}

std::string placed_sentence(const Fault& fault, Language language) {
  const std::string_view pattern = sentence_template(fault.message.id.text(), language);
  const auto unsaid = [&](std::string_view hole) { return pattern.find(hole) == std::string_view::npos; };
  const FaultPlace& at = fault.place;
  std::string place;
  if (!at.file.empty() && unsaid("{file}")) place.append(at.file).append(":");
  if (at.line > 0 && unsaid("{line}")) place.append(std::to_string(at.line)).append(": ");
  if (!at.key.empty() && unsaid("{key}")) place.append(at.key).append(": ");
  return place.append(sentence(fault.message, language));
}

}  // namespace seamwright::reports
