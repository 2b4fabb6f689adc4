// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records/kind_rows.h"
#include "catalog/book/records/names.h"

namespace seamwright::book {

namespace {

constexpr const char* certificate_routes[] = {"a", "b", "c"};  // of ISO 9606-1, 9.3
constexpr const char* knowledge_tests[] = {"tested", "not-tested"};
constexpr const char* programmes[] = {"3834-2", "3834-3", "3834-4"};
constexpr const char* weld_tests[] = {"RT", "UT", "destructive"};  // for a prolongation by 9.3 [from memory]

constexpr Field person_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::person},
    {.name = field::stamp, .label = "label.stamp"},
    {.name = field::role, .label = "label.role", .needed = true},
    {.name = field::public_key, .label = "label.public-key", .needed = true, .trace = false, .sheet = false},
    {.name = field::details_sha256, .label = "label.details-hash", .trace = false, .sheet = false}};
constexpr Field revoke_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::person},
    {.name = field::reason, .label = "column.reason"}};
constexpr Field role_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::person},
    {.name = field::role, .label = "label.role", .needed = true}};
constexpr Field key_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::person},
    {.name = field::public_key, .label = "label.public-key", .needed = true, .trace = false, .sheet = false}};
constexpr Field erase_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::person}};
constexpr Field certificate_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::certificate},
    {.name = field::welder, .label = "label.welder", .needed = true, .mark = mark::welder},
    {.name = field::designation, .label = "label.designation", .needed = true},
    {.name = field::tested, .label = "label.tested", .type = Type::day, .needed = true},
    {.name = field::route, .label = "label.route", .words = certificate_routes},
    {.name = field::employer, .label = "label.employer"},
    {.name = field::supplementary_fillet, .label = "label.supplementary-fillet", .type = Type::flag},
    {.name = field::supplementary_fillet_mm,
     .label = "label.supplementary-wall",
     .type = Type::number,
     .unit = "mm",
     .least = 0},
    {.name = field::job_knowledge, .label = "label.job-knowledge", .words = knowledge_tests},
    {.name = field::examiner, .label = "label.examiner"},
    {.name = field::quality_programme, .label = "label.quality-programme", .words = programmes},
    {.name = field::quality_record, .label = "label.quality-record"},
    {.name = field::file, .label = "label.file", .type = Type::file}};
constexpr Field confirmation_fields[] = {
    {.name = field::certificate, .label = "book.kind-certificate", .needed = true, .mark = mark::certificate},
    {.name = field::on, .label = "label.day", .type = Type::day, .needed = true},
    {.name = field::prolongs, .label = "label.prolongs", .type = Type::flag},
    {.name = field::first_on, .label = "label.first-weld-on", .type = Type::day},
    {.name = field::first_method, .label = "label.first-weld-by", .words = weld_tests},
    {.name = field::second_on, .label = "label.second-weld-on", .type = Type::day},
    {.name = field::second_method, .label = "label.second-weld-by", .words = weld_tests},
    {.name = field::file, .label = "label.file", .type = Type::file},
    {.name = field::withdraws, .label = "label.withdraws", .type = Type::flag}};

// ISO 9712:2021 has these methods and levels [from memory].
constexpr const char* methods[] = {"AT", "ET", "LT", "MT", "PT", "RT", "ST", "TT", "UT", "VT"};
constexpr Field inspector_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::certificate},
    {.name = field::person, .label = "label.inspector", .needed = true, .mark = mark::person},
    {.name = field::method, .label = "label.method", .needed = true, .words = methods},
    {.name = field::level, .label = "label.level", .type = Type::number, .needed = true, .least = 1, .most = 3},
    {.name = field::tested, .label = "label.tested", .type = Type::day, .needed = true},
    {.name = field::until, .label = "label.until", .type = Type::day, .needed = true, .ahead = true},
    {.name = field::by, .label = "label.by"},
    {.name = field::file, .label = "label.file", .type = Type::file}};
// ISO 14731:2019 has these levels of technical knowledge [from memory].
constexpr const char* knowledge_levels[] = {"comprehensive", "specific", "basic"};
constexpr Field coordinator_fields[] = {
    {.name = field::person, .label = "label.coordinator", .needed = true, .mark = mark::coordinator},
    {.name = field::knowledge, .label = "label.knowledge", .needed = true, .words = knowledge_levels},
    {.name = field::on, .label = "label.day", .type = Type::day, .needed = true},
    {.name = field::until, .label = "label.until", .type = Type::day, .ahead = true},
    {.name = field::note, .label = "field.note"},
    {.name = field::file, .label = "label.file", .type = Type::file}};
constexpr const char* staffing[] = {"one", "several"};
constexpr Field shop_fields[] = {
    {.name = field::people, .label = "label.shop-people", .needed = true, .mark = mark::shop, .words = staffing},
    {.name = field::reason, .label = "column.reason", .needed = true}};

constexpr Kind of_people[] = {
    {kind::person, "book.kind-person", "record.people", "", person_fields},
    {kind::revoke, "book.kind-revoke", "", "", revoke_fields},
    {kind::role, "book.kind-role", "", "", role_fields},
    {kind::key, "book.kind-key", "", "", key_fields},
    {kind::erase, "book.kind-erase", "", "", erase_fields},
    {kind::certificate, "book.kind-certificate", "record.people", "e", certificate_fields},
    {kind::confirmation, "book.kind-confirmation", "record.people", "e", confirmation_fields},
    {kind::inspector_certificate, "book.kind-inspector-certificate", "record.people", "e", inspector_fields},
    {kind::coordinator, "book.kind-coordinator", "record.people", "", coordinator_fields},
    {kind::shop, "book.kind-shop", "record.notes", "", shop_fields},
};

}  // namespace

std::span<const Kind> people_kinds() { return of_people; }

}  // namespace seamwright::book
