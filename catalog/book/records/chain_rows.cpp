// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records/kind_rows.h"
#include "catalog/book/records/names.h"

namespace seamwright::book {

namespace {

constexpr Field correction_fields[] = {
    {.name = field::of, .label = "label.entry", .type = Type::entry, .needed = true},
    {.name = field::kind, .label = "field.kind", .needed = true},
    {.name = field::reason, .label = "column.reason", .needed = true},
    {.name = field::payload, .label = "label.payload", .type = Type::object, .needed = true}};
constexpr Field annulment_fields[] = {
    {.name = field::of, .label = "label.entry", .type = Type::entry, .needed = true},
    {.name = field::reason, .label = "column.reason", .needed = true}};
constexpr Field verification_fields[] = {
    {.name = field::head, .label = "label.head", .needed = true},
    {.name = field::entries, .label = "label.entries", .type = Type::number, .needed = true, .least = 0},
    {.name = field::problems, .label = "label.problems", .type = Type::number, .needed = true, .least = 0},
    {.name = field::refused, .label = "label.refused", .type = Type::number, .least = 0},
    {.name = field::against, .label = "label.against"}};
constexpr Field format_fields[] = {
    {.name = field::form, .label = "label.form", .type = Type::number, .needed = true, .least = 2, .most = 9}};
constexpr Field note_fields[] = {
    {.name = field::text, .label = "label.text", .needed = true},
    {.name = field::frame, .label = "book.kind-frame", .mark = mark::frame, .trace = false, .sheet = false},
    {.name = field::file, .label = "label.file", .type = Type::file}};

constexpr Kind of_chain[] = {
    {kind::correction, "book.kind-correction", "", "wei", correction_fields},
    {kind::annulment, "book.kind-void", "record.notes", "wei", annulment_fields},
    {kind::format, "book.kind-format", "record.notes", "weia", format_fields},
    {kind::verification, "book.kind-verification", "", "weia", verification_fields},
    {kind::note, "book.kind-note", "record.notes", "wei", note_fields},
};

}  // namespace

std::span<const Kind> chain_kinds() { return of_chain; }

}  // namespace seamwright::book
