// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records/kind_rows.h"
#include "catalog/book/records/names.h"

namespace seamwright::book {

namespace {

constexpr const char* roots[] = {"fused", "not-fused"};
constexpr const char* verdicts[] = {"meets", "falls_short", "not_covered"};

constexpr Field qualification_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::qualification},
    {.name = field::procedure, .label = "book.kind-procedure", .mark = mark::procedure},
    {.name = field::on, .label = "label.day", .type = Type::day},
    {.name = field::root, .label = "label.root", .words = roots},
    {.name = field::by, .label = "label.by"},
    {.name = field::file, .label = "label.file", .type = Type::file}};
constexpr Field procedure_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::procedure},
    {.name = field::revision, .label = "field.revision", .needed = true},
    {.name = field::file, .label = "label.file", .type = Type::file, .needed = true}};
constexpr Field design_fields[] = {
    {.name = field::name, .label = "field.name", .needed = true, .mark = mark::design},
    {.name = field::revision, .label = "field.revision", .needed = true},
    {.name = field::file, .label = "label.file", .type = Type::file, .needed = true}};
constexpr Field rating_fields[] = {
    {.name = field::design, .label = "book.kind-design", .needed = true, .mark = mark::design},
    {.name = field::design_sha256, .label = "label.design-hash", .needed = true},
    {.name = field::duty_sha256, .label = "label.duty-hash"},
    {.name = field::catalog_sha256, .label = "label.catalog-hash", .needed = true},
    {.name = field::program, .label = "label.program", .needed = true},
    {.name = field::rules, .label = "column.rules", .needed = true},
    {.name = field::method, .label = "label.method", .needed = true},
    {.name = field::verdict, .label = "column.verdict", .needed = true, .words = verdicts},
    {.name = field::failure_probability,
     .label = "label.failure-probability",
     .type = Type::number,
     .least = 0,
     .most = 1},
    {.name = field::governing_weld, .label = "label.governing-weld"},
    {.name = field::life_years,
     .label = "label.life-years",
     .type = Type::number,
     .unit = "years",
     .least = 0},
    {.name = field::life_km, .label = "label.life-km", .type = Type::number, .unit = "km", .least = 0},
    {.name = field::file, .label = "label.file", .type = Type::file}};

constexpr Kind of_designs[] = {
    {kind::qualification, "book.kind-qualification", "record.procedures", "e", qualification_fields},
    {kind::procedure, "book.kind-procedure", "record.procedures", "e", procedure_fields},
    {kind::design, "book.kind-design", "record.design", "e", design_fields},
    {kind::rating, "book.kind-rating", "record.design", "e", rating_fields},
};

}  // namespace

std::span<const Kind> design_kinds() { return of_designs; }

}  // namespace seamwright::book
