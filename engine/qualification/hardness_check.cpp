// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/qualification/hardness_check.h"

#include <algorithm>
#include <cmath>

#include "engine/procedure/hardness.h"

namespace seamwright::qualification {

namespace {

bool asks_no_hardness(const Sheet& s) {
  const auto mild = [](double yield) { return yield > 0 && yield <= 275; };
  return s.groups.size() == 2 && s.groups[0] == "1.1" && s.groups[1] == "1.1" && mild(s.first_yield_mpa) &&
         mild(s.second_yield_mpa);
}

// The lower of both parts; nothing where one of them has none.
std::optional<double> limit_of(const Sheet& s) {
  std::optional<double> lowest;
  for (const std::string& group : s.groups) {
    const auto limit = is_group(group) ? procedure::hardness_limit(group, false) : std::nullopt;
    if (!limit) return std::nullopt;
    lowest = lowest ? std::min(*lowest, *limit) : *limit;
  }
  return lowest;
}

}  // namespace

Item hardness_item(const Sheet& sheet, const Record* record, const std::optional<double>& foretold) {
  const Source source{"iso-15614-1", "Table 3"};
  const std::string of_formulas = foretold ? value_text(std::round(*foretold)) + " HV10" : std::string();
  if (asks_no_hardness(sheet))
    return item_of("hardness", of_formulas, "any; 1.1 up to 275 MPa", Answer::yes, source);
  const auto limit = limit_of(sheet);
  if (!limit)
    return with_note(item_of("hardness", of_formulas, "", Answer::cannot_decide, source),
                     "procedure.hardness-no-limit");
  const std::string covered = "<= " + value_text(*limit) + " HV10";
  const bool values = record && record->signed_off && !record->hardness_hv10.empty();
  if (!values)
    return with_note(item_of("hardness", of_formulas, covered, Answer::cannot_decide, source),
                     foretold ? MessageId("procedure.hardness-no-values") : "procedure.hardness-nothing");
  const double highest = *std::max_element(record->hardness_hv10.begin(), record->hardness_hv10.end());
  const std::string measured = value_text(highest) + " HV10";
  if (highest > *limit) return item_of("hardness", measured, covered, Answer::no, source);
  if (!foretold)
    return with_note(item_of("hardness", measured, covered, Answer::cannot_decide, source),
                     "procedure.hardness-no-chemistry");
  const Item item = item_of("hardness", measured, covered, Answer::yes, source);
  return *foretold > *limit ? with_note(item, "procedure.hardness-foretold",
                                        {number("foretold", std::round(*foretold), "HV10")})
                            : item;
}

}  // namespace seamwright::qualification
