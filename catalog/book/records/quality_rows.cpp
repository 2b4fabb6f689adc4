// SPDX-License-Identifier: GPL-3.0-or-later
// An auditor asks this of a shop: test pieces that are welded with its frames, its statement on each requirement of ISO 3834, findings and
// what was done about them.
#include "catalog/book/records/kind_rows.h"
#include "catalog/book/records/names.h"
#include "catalog/book/records/quality_requirements.h"

namespace seamwright::book {

namespace {

constexpr const char* places[] = {"here", "elsewhere", "not-applicable"};
constexpr const char* parts[] = {"2", "3", "4"};

// A piece welded like the frames of its days and cut open: so many sections with the root fused, so many with the root open.
constexpr Field production_test_fields[] = {
    {.name = field::procedure, .label = "book.kind-procedure", .needed = true, .mark = mark::procedure},
    {.name = field::on, .label = "label.day", .type = Type::day, .needed = true},
    {.name = field::fused_sections, .label = "label.fused-sections", .type = Type::number, .needed = true, .least = 0, .most = 1000},
    {.name = field::open_sections, .label = "label.open-sections", .type = Type::number, .needed = true, .least = 0, .most = 1000},
    {.name = field::welder, .label = "label.welder"},
    {.name = field::by, .label = "label.by"},
    {.name = field::note, .label = "field.note"},
    {.name = field::file, .label = "label.file", .type = Type::file}};
constexpr Field statement_fields[] = {
    {.name = field::requirement, .label = "label.requirement", .needed = true, .mark = mark::requirement, .words = quality_requirements},
    {.name = field::part, .label = "label.part-of-3834", .needed = true, .words = parts},
    {.name = field::kept, .label = "label.kept", .needed = true, .words = places},
    {.name = field::place, .label = "label.kept-place"},
    {.name = field::reason, .label = "column.reason"}};
constexpr Field finding_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::audit_finding},
    {.name = field::frame, .label = "book.kind-frame", .mark = mark::frame, .trace = false, .sheet = false},
    {.name = field::what, .label = "label.what", .needed = true},
    {.name = field::requirement, .label = "label.requirement"},
    {.name = field::on, .label = "label.day", .type = Type::day, .needed = true},
    {.name = field::file, .label = "label.file", .type = Type::file}};
constexpr Field action_fields[] = {
    {.name = field::finding, .label = "book.kind-audit-finding", .needed = true, .mark = mark::audit_finding},
    {.name = field::what, .label = "label.what", .needed = true},
    {.name = field::on, .label = "label.day", .type = Type::day, .needed = true},
    {.name = field::file, .label = "label.file", .type = Type::file}};
constexpr Field closing_fields[] = {
    {.name = field::finding, .label = "book.kind-audit-finding", .needed = true, .mark = mark::audit_finding},
    {.name = field::reason, .label = "column.reason", .needed = true},
    {.name = field::on, .label = "label.day", .type = Type::day, .needed = true}};

constexpr Kind of_quality[] = {
    {kind::production_test, "book.kind-production-test", "record.inspections", "ei", production_test_fields},
    {kind::quality_statement, "book.kind-quality-statement", "record.notes", "e", statement_fields},
    {kind::audit_finding, "book.kind-audit-finding", "record.nonconformities", "aO", finding_fields},
    {kind::corrective_action, "book.kind-corrective-action", "record.nonconformities", "ei", action_fields},
    {kind::audit_closing, "book.kind-audit-closing", "record.nonconformities", "aO", closing_fields},
};

}  // namespace

std::span<const Kind> quality_kinds() { return of_quality; }

}  // namespace seamwright::book
