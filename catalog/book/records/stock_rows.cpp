// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records/kind_rows.h"
#include "catalog/book/records/names.h"

namespace seamwright::book {

namespace {

constexpr const char* certificate_types[] = {"2.1", "2.2", "3.1", "3.2"};  // EN 10204:2004

constexpr Field lot_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::lot},
    {.name = field::heat, .label = "recall.by-heat", .needed = true, .mark = mark::heat},
    {.name = field::certificate_type, .label = "label.certificate-type", .words = certificate_types},
    {.name = field::certificate_number, .label = "label.certificate-number"},
    {.name = field::mill, .label = "label.mill"},
    {.name = field::steel, .label = "field.steel"},
    {.name = field::outside_mm, .label = "label.outside", .type = Type::number, .unit = "mm", .least = 0},
    {.name = field::wall_mm, .label = "label.wall", .type = Type::number, .unit = "mm", .least = 0},
    {.name = field::length_m, .label = "label.length", .type = Type::number, .unit = "m", .least = 0},
    {.name = field::delivered, .label = "label.delivered", .type = Type::day},
    {.name = field::file, .label = "label.file", .type = Type::file}};
constexpr Field filler_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::filler},
    {.name = field::designation, .label = "label.designation", .needed = true},
    {.name = field::heat, .label = "recall.by-heat", .mark = mark::heat},
    {.name = field::size_mm, .label = "label.size", .type = Type::number, .unit = "mm", .least = 0},
    {.name = field::certificate_type, .label = "label.certificate-type", .words = certificate_types},
    {.name = field::delivered, .label = "label.delivered", .type = Type::day},
    {.name = field::file, .label = "label.file", .type = Type::file}};
constexpr Field gas_fields[] = {{.name = field::id, .label = "field.id", .needed = true, .mark = mark::gas},
                                {.name = field::designation, .label = "label.designation", .needed = true},
                                {.name = field::delivered, .label = "label.delivered", .type = Type::day},
                                {.name = field::file, .label = "label.file", .type = Type::file}};
constexpr Field machine_fields[] = {
    {.name = field::id, .label = "field.id", .needed = true, .mark = mark::machine},
    {.name = field::name, .label = "field.name", .needed = true},
    {.name = field::serial, .label = "label.serial"},
    {.name = field::process, .label = "label.process"}};
constexpr Field tool_fields[] = {{.name = field::id, .label = "field.id", .needed = true, .mark = mark::tool},
                                 {.name = field::name, .label = "field.name", .needed = true},
                                 {.name = field::serial, .label = "label.serial"}};
constexpr Field calibration_fields[] = {
    {.name = field::of, .label = "label.device", .needed = true, .mark = mark::calibrated},
    {.name = field::on, .label = "label.day", .type = Type::day, .needed = true},
    {.name = field::until, .label = "label.until", .type = Type::day, .needed = true, .ahead = true},
    {.name = field::by, .label = "label.by"},
    {.name = field::file, .label = "label.file", .type = Type::file}};

constexpr Kind of_stock[] = {
    {kind::lot, "book.kind-lot", "record.materials", "wei", lot_fields},
    {kind::filler, "book.kind-filler", "record.materials", "wei", filler_fields},
    {kind::gas, "book.kind-gas", "record.materials", "wei", gas_fields},
    {kind::machine, "book.kind-machine", "record.devices", "ei", machine_fields},
    {kind::tool, "book.kind-tool", "record.devices", "ei", tool_fields},
    {kind::calibration, "book.kind-calibration", "record.devices", "ei", calibration_fields},
};

}  // namespace

std::span<const Kind> stock_kinds() { return of_stock; }

}  // namespace seamwright::book
