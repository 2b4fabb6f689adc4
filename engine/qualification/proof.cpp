// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/qualification/proof.h"

#include <algorithm>
#include <limits>

namespace seamwright::qualification {

namespace {

std::ptrdiff_t macros_at(const std::vector<Macro>& macros, const char* place) {
  return std::count_if(macros.begin(), macros.end(), [&](const Macro& m) { return m.place == place; });
}

bool all_around(const std::vector<Macro>& macros, double fusion_mm) {
  return macros_at(macros, "crown") >= 2 && macros_at(macros, "saddle") >= 2 &&
         std::all_of(macros.begin(), macros.end(), [&](const Macro& m) { return reaches(m, fusion_mm); });
}

// The record reaches to the weld, whatever its macros show.
std::optional<Message> record_doubt(const Record* record, const std::string& id, const Variables& asked) {
  if (!record) return Message{"macro.no-record", {text("proof", id)}};
  if (record->tested.form != asked.form)
    return Message{"macro.other-joint",
                   {text("proof", id), text("tested", name_of(record->tested.form)),
                    text("asked", name_of(asked.form))}};
  return std::nullopt;
}

std::optional<Message> range_doubt(const Record& record, const std::string& id, const Variables& asked) {
  const Check check = covers(record, asked);
  if (const Item* reason = first_reason(check))
    return Message{"macro.outside",
                   {text("proof", id), term_argument("item", "item.", reason->item), term_argument("found", "found.", reason->found),
                    term_argument("covered", "found.", reason->covered)}};
  return std::nullopt;
}

}  // namespace

Check node_rule(const Sheet& sheet, const Record* record, const std::vector<Macro>& macros) {
  Check check;
  if (sheet.form != JointForm::branch) return check;
  const Source rule{"common-practice", "rule of the shop for tube nodes"};
  const auto add = [&](const char* name, const std::string& found, const char* covered, bool met,
                       MessageId note) {
    Item item = item_of(name, found, covered, met ? Answer::yes : Answer::cannot_decide, rule);
    if (!met) item = with_note(std::move(item), note);
    if (!met && !sheet.node_rule_waived.empty()) {
      item.answer = Answer::yes;
      item.covered += "; waived: " + sheet.node_rule_waived;
    }
    check.push_back(std::move(item));
  };
  const bool branch = record && record->tested.form == JointForm::branch;
  add("test piece", record ? name_of(record->tested.form) : "", "branch", branch, "procedure.node-piece");
  for (const char* place : {"crown", "saddle"})
    add(place == std::string("crown") ? "macro at the crown" : "macro at the saddle", "", "one",
        branch && macros_at(macros, place) > 0, "procedure.node-macros");
  if (sheet.angle_deg.stated() && sheet.angle_deg.least < 60)
    add("branch below 60 deg", value_text(sheet.angle_deg.least) + " deg", "piece of ISO 15613",
        record && record->pre_production, "procedure.node-angle");
  for (Item& item : check)
    if (item.item.starts_with("macro") && item.answer == Answer::yes && item.note.id.empty())
      item.found = "one";
  return check;
}

bool reaches(const Macro& macro, double fusion_mm) { return macro.fused || macro.penetration_mm >= fusion_mm; }

std::optional<Message> root_doubt(const Record* record, const std::vector<Macro>& macros,
                                  const std::string& id, const Variables& asked) {
  const auto macro = std::find_if(macros.begin(), macros.end(), [&](const Macro& m) { return m.id == id; });
  if (macro == macros.end() || !macro->fused) return Message{"macro.not-fused", {text("proof", id)}};
  if (auto doubt = record_doubt(record, id, asked)) return doubt;
  if (asked.form == JointForm::branch && !all_around(macros, std::numeric_limits<double>::infinity()))
    return Message{"macro.not-around", {text("proof", id)}};
  return range_doubt(*record, id, asked);
}

std::optional<Message> fusion_doubt(const Record* record, const std::vector<Macro>& macros,
                                    const std::string& id, const Variables& asked, double fusion_mm) {
  const auto macro = std::find_if(macros.begin(), macros.end(), [&](const Macro& m) { return m.id == id; });
  if (auto doubt = record_doubt(record, id, asked)) return doubt;
  if (macro == macros.end() || !all_around(macros, fusion_mm))
    return Message{"macro.not-as-deep", {text("proof", id), number("fusion", fusion_mm, "mm")}};
  return range_doubt(*record, id, asked);
}

}  // namespace seamwright::qualification
