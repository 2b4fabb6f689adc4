// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records/kind_rows.h"
#include "catalog/book/records/names.h"

namespace seamwright::book {

namespace {

constexpr const char* results[] = {"accept", "reject"};
constexpr const char* decisions[] = {"repair", "use-as-is", "scrap"};

constexpr Field inspection_fields[] = {
    {.name = field::frame,
     .label = "book.kind-frame",
     .needed = true,
     .mark = mark::frame,
     .trace = false,
     .sheet = false},
    {.name = field::weld, .label = "book.kind-weld"},
    {.name = field::method, .label = "label.method", .needed = true},
    {.name = field::result, .label = "label.result", .needed = true, .words = results},
    {.name = field::imperfection, .label = "label.imperfection"},
    {.name = field::value_mm, .label = "label.measured", .type = Type::number, .unit = "mm"},
    {.name = field::limit_mm, .label = "label.limit", .type = Type::number, .unit = "mm"},
    {.name = field::tool, .label = "book.kind-tool", .carried = mark::tool},
    {.name = field::on, .label = "label.day", .type = Type::day, .needed = true},
    {.name = field::note, .label = "field.note"},
    {.name = field::file, .label = "label.file", .type = Type::file}};
constexpr Field nonconformity_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::nonconformity},
    {.name = field::frame,
     .label = "book.kind-frame",
     .needed = true,
     .mark = mark::frame,
     .trace = false,
     .sheet = false},
    {.name = field::weld, .label = "book.kind-weld"},
    {.name = field::what, .label = "label.what", .needed = true},
    {.name = field::on, .label = "label.day", .type = Type::day},
    {.name = field::file, .label = "label.file", .type = Type::file}};
constexpr Field disposition_fields[] = {
    {.name = field::nonconformity,
     .label = "book.kind-nonconformity",
     .needed = true,
     .mark = mark::nonconformity},
    {.name = field::frame,
     .label = "book.kind-frame",
     .needed = true,
     .mark = mark::frame,
     .trace = false,
     .sheet = false},
    {.name = field::decision, .label = "label.decision", .needed = true, .words = decisions},
    {.name = field::reason, .label = "column.reason", .needed = true}};
constexpr Field exception_fields[] = {{.name = field::frame,
                                       .label = "book.kind-frame",
                                       .needed = true,
                                       .mark = mark::frame,
                                       .trace = false,
                                       .sheet = false},
                                      {.name = field::gap, .label = "label.gap-key", .needed = true},
                                      {.name = field::reason, .label = "column.reason", .needed = true}};
constexpr Field release_fields[] = {
    {.name = field::frame,
     .label = "book.kind-frame",
     .needed = true,
     .mark = mark::frame,
     .trace = false,
     .sheet = false},
    {.name = field::on, .label = "label.day", .type = Type::day, .needed = true},
    {.name = field::design_sha256, .label = "label.design-hash", .needed = true},
    {.name = field::exceptions, .label = "label.exceptions", .type = Type::number, .least = 0},
    {.name = field::note, .label = "field.note"}};
constexpr Field shipment_fields[] = {
    {.name = field::order, .label = "label.order", .needed = true, .mark = mark::order},
    {.name = field::frames,
     .label = "label.frames",
     .type = Type::texts,
     .needed = true,
     .mark = mark::frame},
    {.name = field::to, .label = "label.to"},
    {.name = field::on, .label = "label.day", .type = Type::day, .needed = true}};
constexpr Field field_report_fields[] = {
    {.name = field::frame,
     .label = "book.kind-frame",
     .needed = true,
     .mark = mark::frame,
     .trace = false,
     .sheet = false},
    {.name = field::on, .label = "label.day", .type = Type::day, .needed = true},
    {.name = field::what, .label = "label.what", .needed = true},
    {.name = field::km, .label = "label.km", .type = Type::number, .unit = "km", .least = 0},
    {.name = field::weld, .label = "book.kind-weld"},
    {.name = field::cracked, .label = "label.cracked", .type = Type::flag},
    {.name = field::file, .label = "label.file", .type = Type::file}};

constexpr Kind of_findings[] = {
    {kind::inspection, "book.kind-inspection", "record.inspections", "i", inspection_fields},
    {kind::nonconformity, "book.kind-nonconformity", "record.nonconformities", "wei", nonconformity_fields},
    {kind::disposition, "book.kind-disposition", "record.nonconformities", "e", disposition_fields},
    {kind::exception, "book.kind-exception", "record.frame", "eO", exception_fields},
    {kind::release, "book.kind-release", "record.frame", "ei", release_fields},
    {kind::shipment, "book.kind-shipment", "record.frame", "ei", shipment_fields},
    {kind::field_report, "book.kind-field-report", "record.frame", "wei", field_report_fields},
};

}  // namespace

std::span<const Kind> finding_kinds() { return of_findings; }

}  // namespace seamwright::book
