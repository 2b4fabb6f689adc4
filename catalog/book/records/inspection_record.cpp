// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records/inspection_record.h"

#include "catalog/book/records/names.h"

namespace seamwright::book {

namespace {

Json payload_of(const Values& values) {
  Json payload = Json::object();
  for (const auto& [name, value] : values) std::visit([&, &key = name](const auto& v) { payload[key] = v; }, value);
  return payload;
}

}  // namespace

NewEntry record_of_values(const Kind& kind, const Values& values, std::optional<Attachment> file) {
  return record_from(kind, payload_of(values), std::move(file));
}

NewEntry inspection_record(const Inspection& i, std::optional<Attachment> file) {
  Values values{{field::frame, i.frame}, {field::weld, i.weld}, {field::method, i.method}, {field::on, i.day},
                {field::result, std::string(i.accepted ? "accept" : "reject")}};
  for (const auto& [name, value] : {std::pair(field::imperfection, &i.imperfection), std::pair(field::tool, &i.tool), std::pair(field::note, &i.note)})
    if (!value->empty()) values[name] = *value;
  if (i.value_mm) values[field::value_mm] = *i.value_mm;
  return {kind::inspection, payload_of(values), std::move(file)};
}

NewEntry left_to_engineer(const std::string& frame, const std::string& weld, const std::string& time, const std::string& what,
                          std::optional<Attachment> file) {
  return {kind::nonconformity,
          payload_of({{field::id, frame + "-" + weld + "-" + time}, {field::frame, frame}, {field::weld, weld}, {field::what, what}, {field::on, time.substr(0, 10)}}),
          std::move(file)};
}

}  // namespace seamwright::book
