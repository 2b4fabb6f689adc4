// SPDX-License-Identifier: GPL-3.0-or-later
// The quality records that ISO 3834-2 asks for, by clause [clauses from memory, edition of 2021], and the kinds of entries that hold them.
#pragma once

#include <array>

namespace seamwright::book {

struct QualityRequirement {
  const char *id, *clause;
  const char* kinds;  ///< of the book, separated by blanks; "" = the book has none for it
};

inline constexpr std::array<QualityRequirement, 22> quality_records{{
    {"requirements-review", "5.2", ""},
    {"technical-review", "5.3", ""},
    {"subcontracting", "6", ""},
    {"welders", "7.2", "certificate confirmation"},
    {"coordination", "7.3", "coordinator"},
    {"inspectors", "8.2", "inspector-certificate"},
    {"equipment-list", "9.3", "machine tool"},
    {"maintenance", "9.5", ""},
    {"production-plan", "10.2", ""},
    {"procedures", "10.3", "procedure"},
    {"procedure-qualification", "10.4", "qualification"},
    {"documents", "10.6", "design"},
    {"consumables", "11", "filler gas"},
    {"parent-material", "12", "lot"},
    {"post-weld-treatment", "13", ""},
    {"inspection-before", "14.2", ""},
    {"inspection-during", "14.3", "weld"},
    {"inspection-after", "14.4", "inspection"},
    {"nonconformity", "15", "nonconformity disposition"},
    {"calibration", "16", "calibration"},
    {"traceability", "17", "frame"},
    {"quality-records", "18", "verification"}}};

/// The same ids alone, as words of a field.
inline constexpr const char* quality_requirements[] = {"requirements-review", "technical-review", "subcontracting", "welders", "coordination", "inspectors", "equipment-list", "maintenance", "production-plan", "procedures", "procedure-qualification", "documents", "consumables", "parent-material", "post-weld-treatment", "inspection-before", "inspection-during", "inspection-after", "nonconformity", "calibration", "traceability", "quality-records"};

}  // namespace seamwright::book
