// SPDX-License-Identifier: GPL-3.0-or-later
// The names that records are written with, each once: what asks for a field, a kind or a mark says it by its
// constant, so that the compiler finds what is typed wrong.
#pragma once

namespace seamwright::book {

/// Fields of payloads; units stand in their names.
namespace field {
inline constexpr const char* id = "id";
inline constexpr const char* stamp = "stamp";
inline constexpr const char* role = "role";
inline constexpr const char* public_key = "public_key";
inline constexpr const char* details_sha256 = "details_sha256";
inline constexpr const char* reason = "reason";
inline constexpr const char* welder = "welder";
inline constexpr const char* designation = "designation";
inline constexpr const char* tested = "tested";
inline constexpr const char* route = "route";
inline constexpr const char* employer = "employer";
inline constexpr const char* supplementary_fillet = "supplementary_fillet";
inline constexpr const char* supplementary_fillet_mm = "supplementary_fillet_mm";
inline constexpr const char* file = "file";
inline constexpr const char* certificate = "certificate";
inline constexpr const char* on = "on";
inline constexpr const char* prolongs = "prolongs";
inline constexpr const char* withdraws = "withdraws";
inline constexpr const char* procedure = "procedure";
inline constexpr const char* root = "root";
inline constexpr const char* by = "by";
inline constexpr const char* revision = "revision";
inline constexpr const char* name = "name";
inline constexpr const char* design = "design";
inline constexpr const char* design_sha256 = "design_sha256";
inline constexpr const char* duty_sha256 = "duty_sha256";
inline constexpr const char* catalog_sha256 = "catalog_sha256";
inline constexpr const char* program = "program";
inline constexpr const char* rules = "rules";
inline constexpr const char* method = "method";
inline constexpr const char* verdict = "verdict";
inline constexpr const char* failure_probability = "failure_probability";
inline constexpr const char* governing_weld = "governing_weld";
inline constexpr const char* life_years = "life_years";
inline constexpr const char* life_km = "life_km";
inline constexpr const char* heat = "heat";
inline constexpr const char* certificate_type = "certificate_type";
inline constexpr const char* certificate_number = "certificate_number";
inline constexpr const char* mill = "mill";
inline constexpr const char* steel = "steel";
inline constexpr const char* outside_mm = "outside_mm";
inline constexpr const char* wall_mm = "wall_mm";
inline constexpr const char* length_m = "length_m";
inline constexpr const char* delivered = "delivered";
inline constexpr const char* size_mm = "size_mm";
inline constexpr const char* serial = "serial";
inline constexpr const char* process = "process";
inline constexpr const char* of = "of";
inline constexpr const char* until = "until";
inline constexpr const char* order = "order";
inline constexpr const char* note = "note";
inline constexpr const char* frame = "frame";
inline constexpr const char* weld = "weld";
inline constexpr const char* machine = "machine";
inline constexpr const char* filler = "filler";
inline constexpr const char* gas = "gas";
inline constexpr const char* lots = "lots";
inline constexpr const char* run = "run";
inline constexpr const char* position = "position";
inline constexpr const char* amperes = "amperes";
inline constexpr const char* volts = "volts";
inline constexpr const char* speed_mm_s = "speed_mm_s";
inline constexpr const char* power_w = "power_w";
inline constexpr const char* heat_kj_mm = "heat_kj_mm";
inline constexpr const char* preheat_c = "preheat_c";
inline constexpr const char* interpass_c = "interpass_c";
inline constexpr const char* gas_l_min = "gas_l_min";
inline constexpr const char* purge_l_min = "purge_l_min";
inline constexpr const char* gap_mm = "gap_mm";
inline constexpr const char* nonconformity = "nonconformity";
inline constexpr const char* result = "result";
inline constexpr const char* imperfection = "imperfection";
inline constexpr const char* value_mm = "value_mm";
inline constexpr const char* limit_mm = "limit_mm";
inline constexpr const char* tool = "tool";
inline constexpr const char* what = "what";
inline constexpr const char* decision = "decision";
inline constexpr const char* gap = "gap";
inline constexpr const char* exceptions = "exceptions";
inline constexpr const char* frames = "frames";
inline constexpr const char* to = "to";
inline constexpr const char* km = "km";
inline constexpr const char* cracked = "cracked";
inline constexpr const char* kind = "kind";
inline constexpr const char* payload = "payload";
inline constexpr const char* head = "head";
inline constexpr const char* entries = "entries";
inline constexpr const char* problems = "problems";
inline constexpr const char* refused = "refused";
inline constexpr const char* against = "against";
inline constexpr const char* text = "text";
inline constexpr const char* sha256 = "sha256";
inline constexpr const char* requirement = "requirement";
inline constexpr const char* part = "part";
inline constexpr const char* kept = "kept";
inline constexpr const char* place = "place";
inline constexpr const char* finding = "finding";
inline constexpr const char* form = "form";
inline constexpr const char* rig_only = "rig_only";
inline constexpr const char* people = "people";
inline constexpr const char* person = "person";
inline constexpr const char* level = "level";
inline constexpr const char* fused_sections = "fused_sections";
inline constexpr const char* open_sections = "open_sections";
inline constexpr const char* job_knowledge = "job_knowledge";
inline constexpr const char* examiner = "examiner";
inline constexpr const char* quality_programme = "quality_programme";
inline constexpr const char* quality_record = "quality_record";
inline constexpr const char* first_on = "first_on";
inline constexpr const char* first_method = "first_method";
inline constexpr const char* second_on = "second_on";
inline constexpr const char* second_method = "second_method";
inline constexpr const char* knowledge = "knowledge";
}  // namespace field

/// Kinds of entries.
namespace kind {
inline constexpr const char* person = "person";
inline constexpr const char* revoke = "revoke";
inline constexpr const char* role = "role";
inline constexpr const char* key = "key";
inline constexpr const char* erase = "erase";
inline constexpr const char* certificate = "certificate";
inline constexpr const char* confirmation = "confirmation";
inline constexpr const char* inspector_certificate = "inspector-certificate";
inline constexpr const char* coordinator = "coordinator";
inline constexpr const char* shop = "shop";
inline constexpr const char* format = "format";
inline constexpr const char* production_test = "production-test";
inline constexpr const char* quality_statement = "quality-statement";
inline constexpr const char* audit_finding = "audit-finding";
inline constexpr const char* corrective_action = "corrective-action";
inline constexpr const char* audit_closing = "audit-closing";
inline constexpr const char* qualification = "qualification";
inline constexpr const char* procedure = "procedure";
inline constexpr const char* design = "design";
inline constexpr const char* rating = "rating";
inline constexpr const char* lot = "lot";
inline constexpr const char* filler = "filler";
inline constexpr const char* gas = "gas";
inline constexpr const char* machine = "machine";
inline constexpr const char* tool = "tool";
inline constexpr const char* calibration = "calibration";
inline constexpr const char* frame = "frame";
inline constexpr const char* weld = "weld";
inline constexpr const char* repair = "repair";
inline constexpr const char* inspection = "inspection";
inline constexpr const char* nonconformity = "nonconformity";
inline constexpr const char* disposition = "disposition";
inline constexpr const char* exception = "exception";
inline constexpr const char* release = "release";
inline constexpr const char* shipment = "shipment";
inline constexpr const char* field_report = "field-report";
inline constexpr const char* correction = "correction";
inline constexpr const char* annulment = "void";
inline constexpr const char* verification = "verification";
inline constexpr const char* note = "note";
}  // namespace kind

/// Entries are found by these marks, and frames carry them.
namespace mark {
inline constexpr const char* person = "person";
inline constexpr const char* certificate = "certificate";
inline constexpr const char* welder = "welder";
inline constexpr const char* qualification = "qualification";
inline constexpr const char* procedure = "procedure";
inline constexpr const char* design = "design";
inline constexpr const char* lot = "lot";
inline constexpr const char* heat = "heat";
inline constexpr const char* filler = "filler";
inline constexpr const char* gas = "gas";
inline constexpr const char* machine = "machine";
inline constexpr const char* tool = "tool";
inline constexpr const char* calibrated = "calibrated";
inline constexpr const char* frame = "frame";
inline constexpr const char* order = "order";
inline constexpr const char* nonconformity = "nonconformity";
inline constexpr const char* coordinator = "coordinator";
inline constexpr const char* shop = "shop";
inline constexpr const char* requirement = "requirement";
inline constexpr const char* audit_finding = "audit-finding";
}  // namespace mark

}  // namespace seamwright::book
