// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records/kind_rows.h"
#include "catalog/book/records/names.h"

namespace seamwright::book {

namespace {

constexpr double absolute_zero_c = -273.15;

constexpr Field frame_fields[] = {
    {.name = field::serial, .label = "label.serial", .needed = true, .mark = mark::frame},
    {.name = field::design,
     .label = "book.kind-design",
     .needed = true,
     .carried = mark::design,
     .revised = true},
    {.name = field::revision, .label = "field.revision", .needed = true},
    {.name = field::order, .label = "label.order", .mark = mark::order},
    {.name = field::on, .label = "label.day", .type = Type::day},
    {.name = field::rig_only,
     .label = "label.rig-only",
     .type = Type::flag},
    {.name = field::note, .label = "field.note"}};
// A weld and its repair share these fields; a repair names the nonconformity that asked for it. The struct of
// weld_record.h has a member for each.
constexpr Field weld_fields[] = {
    {.name = field::frame,
     .label = "book.kind-frame",
     .needed = true,
     .mark = mark::frame,
     .trace = false,
     .sheet = false},
    {.name = field::weld, .label = "book.kind-weld", .needed = true, .column = "column.weld"},
    {.name = field::procedure,
     .label = "book.kind-procedure",
     .carried = mark::procedure,
     .revised = true,
     .column = "column.procedure"},
    {.name = field::revision, .label = "field.revision"},
    {.name = field::welder, .label = "label.welder", .carried = mark::welder, .column = "column.welder"},
    {.name = field::machine,
     .label = "book.kind-machine",
     .carried = mark::machine,
     .column = "column.machine",
     .control = "desk.machine"},
    {.name = field::filler, .label = "book.kind-filler", .carried = mark::filler, .column = "column.filler", .control = "desk.filler"},
    {.name = field::gas, .label = "book.kind-gas", .carried = mark::gas, .control = "desk.gas-batch"},
    {.name = field::lots,
     .label = "label.lots",
     .type = Type::texts,
     .carried = mark::lot,
     .column = "column.lots",
     .control = "desk.lots"},
    {.name = field::on, .label = "label.day", .type = Type::day, .column = "column.day"},
    {.name = field::run, .label = "column.run", .type = Type::number, .least = 1},
    {.name = field::position, .label = "label.position", .control = "desk.position"},
    {.name = field::amperes,
     .label = "label.amperes",
     .type = Type::number,
     .unit = "A",
     .least = 0,
     .most = 9999,
     .control = "window.amperes"},
    {.name = field::volts,
     .label = "label.volts",
     .type = Type::number,
     .unit = "V",
     .least = 0,
     .most = 9999,
     .control = "window.volts"},
    {.name = field::speed_mm_s,
     .label = "label.speed",
     .type = Type::number,
     .unit = "mm/s",
     .least = 0,
     .most = 9999,
     .control = "window.speed"},
    {.name = field::power_w, .label = "label.power", .type = Type::number, .unit = "W", .least = 0},
    {.name = field::heat_kj_mm,
     .label = "label.heat-input",
     .type = Type::number,
     .unit = "kJ/mm",
     .least = 0},
    {.name = field::preheat_c,
     .label = "label.preheat",
     .type = Type::number,
     .unit = "°C",
     .least = absolute_zero_c},
    {.name = field::interpass_c,
     .label = "label.interpass",
     .type = Type::number,
     .unit = "°C",
     .least = absolute_zero_c},
    {.name = field::gas_l_min, .label = "label.gas-flow", .type = Type::number, .unit = "l/min", .least = 0},
    {.name = field::gap_mm,
     .label = "label.gap",
     .type = Type::number,
     .unit = "mm",
     .least = 0,
     .most = 20,
     .control = "desk.gap"},
    {.name = field::purge_l_min,
     .label = "label.purge",
     .type = Type::number,
     .unit = "l/min",
     .least = 0,
     .most = 100,
     .control = "desk.purge"},
    {.name = field::nonconformity, .label = "book.kind-nonconformity", .mark = mark::nonconformity},
    {.name = field::reason,
     .label = "column.reason",
     .remark = "why it is recorded although something speaks against it"},
    {.name = field::note, .label = "field.note"}};

constexpr Kind of_frames[] = {
    {kind::frame, "book.kind-frame", "record.frame", "we", frame_fields},
    {kind::weld, "book.kind-weld", "", "we", weld_fields},
    {kind::repair, "book.kind-repair", "record.nonconformities", "we", weld_fields},
};

}  // namespace

std::span<const Kind> frame_kinds() { return of_frames; }

}  // namespace seamwright::book
