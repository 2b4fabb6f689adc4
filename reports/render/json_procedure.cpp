// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/procedure_blocks.h"
#include "reports/content/study_blocks.h"
#include "reports/content/test_piece_blocks.h"
#include "reports/render/json.h"
#include "reports/render/json_parts.h"

namespace seamwright::reports {

namespace {

Json json_of(const qualification::Item& i) {
  Json j = {{"item", i.item},
            {"found", i.found},
            {"covered", i.covered},
            {"answer", name_of(i.answer)},
            {"source", {{"key", i.source.key}, {"clause", i.source.clause}}},
            {"from_memory", i.from_memory}};
  if (!i.note.id.empty()) j["note"] = reports::json_of(i.note);
  return j;
}

Json json_of(const qualification::Check& check) {
  Json j = Json::array();
  for (const qualification::Item& i : check) j.push_back(json_of(i));
  return j;
}

const char* name_of_judgement(inspection::Judgement j) {
  return j == inspection::Judgement::accepted   ? "accepted"
         : j == inspection::Judgement::rejected ? "rejected"
                                                : "engineer";
}

}  // namespace

std::string to_json(const files::ProcedureReport& r) {
  Json j = begin_json("procedure-check");
  j["id"] = r.file.sheet.id;
  j["on"] = r.day;
  j["answer"] = name_of(r.answer);
  j["missing"] = r.missing;
  j["runs"] = Json::array();
  for (const qualification::RunHeat& h : r.numbers.runs)
    j["runs"].push_back(
        {{"lowest_kj_mm", h.lowest}, {"middle_kj_mm", h.middle}, {"highest_kj_mm", h.highest}});
  j["numbers"] = Json::array();
  for (const Evidence& e : r.numbers.evidence) j["numbers"].push_back(json_of(e));
  j["examined"] = json_of(r.numbers.examined);
  j["hardness"] = json_of(r.numbers.hardness);
  j["plausibility"] = json_of(r.numbers.plausibility);
  j["node"] = json_of(r.numbers.node);
  j["record"] = json_of(r.record);
  j["weld"] = json_of(r.weld);
  j["welder"] = json_of(r.welder);
  return end_json(j);
}

std::string to_json(const files::WeldersReport& r) {
  Json j = begin_json("welders");
  j["from"] = r.from;
  j["to"] = r.to;
  j["certificates"] = r.certificates;
  j["welds"] = Json::array();
  for (const files::WelderRow& row : r.rows) {
    Json answers = Json::array();
    for (std::size_t i = 0; i < row.answers.size(); ++i)
      answers.push_back({{"answer", name_of(row.answers[i])}, {"reason", json_of(row.reasons[i])}});
    j["welds"].push_back({{"id", row.weld},
                          {"procedure", row.procedure},
                          {"why", row.why.text()},
                          {"answers", std::move(answers)}});
  }
  return end_json(j);
}

namespace {

Json json_of(const std::vector<qualification::OpenWeld>& open, const std::vector<std::string>& ids) {
  Json j = Json::array();
  for (const qualification::OpenWeld& w : open) j.push_back({{"weld", ids[w.weld]}, {"reason", json_of(w.reason)}});
  return j;
}

Json ids_of(const std::vector<std::size_t>& welds, const std::vector<std::string>& ids) {
  Json j = Json::array();
  for (const std::size_t i : welds) j.push_back(ids[i]);
  return j;
}

}  // namespace

std::string to_json(const files::TestPieceReport& r) {
  Json j = begin_json("test-pieces");
  j["procedures"] = Json::array();
  for (const qualification::ProcedurePiece& p : r.procedures.pieces) {
    const qualification::Variables& v = p.record.tested;
    j["procedures"].push_back({{"procedure", p.procedure},
                               {"form", name_of(v.form)},
                               {"wall_mm", v.thickness_mm},
                               {"diameter_mm", v.diameter_mm},
                               {"other_wall_mm", v.other_thickness_mm},
                               {"other_diameter_mm", v.other_diameter_mm},
                               {"angle_deg", v.branch_angle_deg},
                               {"throat_mm", v.throat_mm},
                               {"heat_kj_mm", v.heat_kj_mm},
                               {"route", p.record.pre_production ? "15613" : "15614-1"},
                               {"welds", ids_of(p.welds, r.welds)}});
  }
  j["procedures_open"] = json_of(r.procedures.open, r.welds);
  j["welders"] = Json::array();
  for (const qualification::WelderPiece& p : r.welders.pieces)
    j["welders"].push_back({{"designation", text_of(p.designation)}, {"welds", ids_of(p.welds, r.welds)}});
  j["welders_open"] = json_of(r.welders.open, r.welds);
  j["proven"] = r.procedures.proven && r.welders.proven;
  return end_json(j);
}

std::string to_json(const DueReport& r) {
  Json j = begin_json("due");
  j["on"] = r.day;
  j["due"] = Json::array();
  for (const files::DueRow& row : r.rows)
    j["due"].push_back({{"kind", row.what == files::DueRow::What::confirmation   ? "confirmation"
                                 : row.what == files::DueRow::What::prolongation ? "prolongation"
                                                                                 : "calibration"},
                        {"id", row.id},
                        {"who", row.who},
                        {"due", qualification::text_of(row.on)},
                        {"days", row.days},
                        {"lapsed", row.lapsed}});
  return end_json(j);
}

std::string to_json(const files::InspectionReport& r) {
  Json j = begin_json("inspection");
  j["findings"] = Json::array();
  for (const files::InspectedRow& row : r.rows)
    j["findings"].push_back({{"weld", row.finding.weld},
                             {"site", row.finding.site},
                             {"imperfection", row.finding.imperfection},
                             {"name", row.name},
                             {"value_mm", row.finding.value_mm},
                             {"limit", row.limit},
                             {"level", std::string(1, row.level)},
                             {"asked_by", row.asked_by},
                             {"judgement", name_of_judgement(row.judgement)}});
  j["rejected"] = r.rejected;
  j["overdue"] = r.overdue;
  j["torques"] = Json::array();
  for (const study::BoltTorque& t : r.torques)
    j["torques"].push_back(
        {{"bolts", t.bolts}, {"count", t.count}, {"preload_n", t.preload_n}, {"torque_nm", t.torque_nm}});
  j["tolerances"] = Json::array();
  for (const files::ToleranceRow& t : r.tolerances)
    j["tolerances"].push_back(
        {{"dimension", t.dimension}, {"length_mm", t.length_mm}, {"tolerance_mm", t.tolerance_mm}});
  j["spokes"] = Json::array();
  for (const files::SpokeRow& w : r.spokes)
    j["spokes"].push_back({{"wheel", w.wheel},
                           {"mean_n", w.mean_n},
                           {"deviation_n", w.deviation_n},
                           {"least_n", w.least_n},
                           {"most_n", w.most_n},
                           {"outside", w.outside}});
  j["welds"] = Json::array();
  for (const files::InspectedWeld& w : r.welds)
    j["welds"].push_back({{"id", w.id},
                          {"level", std::string(1, w.demand.level)},
                          {"no_undercut", w.demand.no_undercut},
                          {"asked_by", w.demand.asked_by},
                          {"methods", w.methods},
                          {"not_measured", w.not_measured}});
  return end_json(j);
}

}  // namespace seamwright::reports
