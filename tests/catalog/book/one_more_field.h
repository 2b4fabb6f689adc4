// SPDX-License-Identifier: GPL-3.0-or-later
// The kind of a weld with one row more than the table has: what is made from the table must find it.
#pragma once

#include <vector>

#include "catalog/book/records/names.h"
#include "catalog/book/records/weld_record.h"

namespace seamwright::book {

/// The row: everything that a contributor writes to add a field, but for its sentences, which exist.
inline constexpr Field one_more{.name = "torch_deg",
                                .label = "column.direction",
                                .type = Type::number,
                                .unit = "deg",
                                .least = 0,
                                .most = 90,
                                .column = "column.direction",
                                .control = "window.unit"};

inline const Kind& weld_with_one_more() {
  static const std::vector<Field> fields = [] {
    const Kind& weld = kind_named(kind::weld);
    std::vector<Field> all(weld.fields.begin(), weld.fields.end());
    all.push_back(one_more);
    return all;
  }();
  static const Kind longer = [] {
    Kind k = kind_named(kind::weld);
    k.fields = fields;
    return k;
  }();
  return longer;
}

}  // namespace seamwright::book
