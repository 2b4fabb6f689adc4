// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/record_lines.h"

#include <fmt/format.h>

#include "catalog/book/records/names.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/frame_page_blocks.h"

namespace seamwright::reports {

namespace {

constexpr int digits_recorded = 9;  // as it was told, not computed

using RecordedValue = std::variant<Verbatim, Quantity, Message>;

RecordedValue value_of(const book::Field& f, const book::Json& value) {
  if (value.is_boolean()) return message_of(value.get<bool>() ? MessageId("word.yes") : "word.no");
  if (std::string_view(f.name) == book::field::gap && value.is_string()) return gap_named(value.get<std::string>());
  if (!f.words.empty() && value.is_string()) return std::get<Message>(term_cell("record-word.", value.get<std::string>()));
  if (value.is_number()) return Quantity{value.get<double>(), f.unit, digits_recorded};
  return Verbatim{text_of(value)};
}

}  // namespace

std::string text_of(const book::Json& value) {
  if (value.is_string()) return value.get<std::string>();
  if (value.is_number_float()) return fmt::format("{:g}", value.get<double>());
  if (value.is_object()) {
    const std::string name = book::word_at(value, book::field::name);
    return name.empty() ? value.dump() : name;
  }
  if (!value.is_array()) return value.dump();
  std::string out;
  for (const book::Json& part : value) out.append(out.empty() ? "" : " ").append(text_of(part));
  return out;
}

Cell cell_of(const book::Field& field, const book::Json& content) {
  const auto stated = content.find(field.name);
  if (stated == content.end()) return Verbatim{"–"};
  return std::visit([](const auto& v) { return Cell(v); }, value_of(field, *stated));
}

Particulars line_of(const book::Kind& kind, const book::Json& content, RecordView on) {
  Particulars line;
  if (!content.is_object()) return line;
  for (const book::Field& f : kind.fields) {
    const auto stated = content.find(f.name);
    if (stated != content.end() && (on == RecordView::trace ? f.trace : f.sheet))
      line.all.push_back({message_of(f.label), value_of(f, *stated)});
  }
  return line;
}

Particulars line_of(const book::Record& r, RecordView on) {
  const book::Kind* kind = book::kind_of(r.kind);
  return kind ? line_of(*kind, r.content, on) : Particulars{};
}

Facts lines_of(const book::Kind& kind, const book::Json& payload) {
  Facts facts;
  if (!payload.is_object()) return facts;
  facts.facts.push_back({message_of("column.kind"), message_of(kind.label)});
  for (const book::Field& f : kind.fields) {
    const auto stated = payload.find(f.name);
    if (stated == payload.end()) continue;
    const book::Kind* inner =
        f.type == book::Type::object ? book::kind_of(book::word_at(payload, book::field::kind)) : nullptr;
    if (inner) {
      const Facts instead = lines_of(*inner, *stated);
      facts.facts.insert(facts.facts.end(), instead.facts.begin(), instead.facts.end());
    } else {
      facts.facts.push_back({message_of(f.label), cell_of(f, payload)});
    }
  }
  return facts;
}

Facts lines_of(const book::NewEntry& entry) {
  const book::Kind* kind = book::kind_of(entry.kind);
  if (!kind || !entry.payload.is_object())
    return {{{message_of("column.kind"), message_of("record.malformed")}}};  // which the book refuses
  book::Json payload = entry.payload;
  if (entry.file) payload[book::field::file] = entry.file->name;
  return lines_of(*kind, payload);
}

}  // namespace seamwright::reports
