// SPDX-License-Identifier: GPL-3.0-or-later
// An auditor asks this of a shop: its statement on each requirement of ISO 3834, findings and what was done about them.
#include "catalog/book/records/kind_rows.h"
#include "catalog/book/records/names.h"
#include "catalog/book/records/quality_requirements.h"

namespace seamwright::book {

namespace {

constexpr const char* places[] = {"here", "elsewhere", "not-applicable"};
constexpr const char* parts[] = {"2", "3", "4"};

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
    {kind::quality_statement, "book.kind-quality-statement", "record.notes", "e", statement_fields},
    {kind::audit_finding, "book.kind-audit-finding", "record.nonconformities", "aO", finding_fields},
    {kind::corrective_action, "book.kind-corrective-action", "record.nonconformities", "ei", action_fields},
    {kind::audit_closing, "book.kind-audit-closing", "record.nonconformities", "aO", closing_fields},
};

}  // namespace

std::span<const Kind> quality_kinds() { return of_quality; }

}  // namespace seamwright::book
