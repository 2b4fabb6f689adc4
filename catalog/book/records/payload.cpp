// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records/payload.h"

#include <algorithm>

#include "catalog/book/records/names.h"
#include "catalog/published/nearest.h"
#include "engine/evidence/evidence.h"
#include "engine/qualification/calendar.h"

namespace seamwright::book {

namespace {

bool is_hash(const Json& value) {
  return value.is_string() && value.get_ref<const std::string&>().size() == 64 &&
         value.get_ref<const std::string&>().find_first_not_of("0123456789abcdef") == std::string::npos;
}

[[noreturn]] void refuse(MessageId id, const std::string& kind, const std::string& key,
                         std::vector<Argument> more = {}) {
  more.push_back(text("kind", kind));
  more.push_back(text("key", key));
  throw Fault{Message{id, std::move(more)}};
}

bool has_type(Type type, const Json& value) {
  switch (type) {
    case Type::text:
    case Type::day:
      return value.is_string();
    case Type::number:
      return value.is_number();
    case Type::flag:
      return value.is_boolean();
    case Type::texts:
      return value.is_array() &&
             std::all_of(value.begin(), value.end(), [](const Json& v) { return v.is_string(); });
    case Type::file:
      return value.is_object() && value.contains(field::sha256) && is_hash(value[field::sha256]) &&
             value.contains(field::name) && value[field::name].is_string() && value.size() == 2;
    case Type::entry:
      return value.is_number_integer() && value > 0;
    case Type::object:
      return value.is_object();
  }
  return false;
}

void check_length(const std::string& kind, const std::string& key, const Json& value) {
  if (value.is_string() && value.get_ref<const std::string&>().size() > longest_text)
    refuse("book.too-long", kind, key, {number("most", static_cast<double>(longest_text), "")});
  if (value.is_structured())
    for (const Json& part : value) check_length(kind, key, part);
}

void check_value(const Kind& kind, const Field& f, const Json& value) {
  if (!has_type(f.type, value))
    refuse("book.wrong-type", kind.name, f.name, {text("found", value.type_name())});
  check_length(kind.name, f.name, value);
  if (f.needed && value.is_string() && value.get_ref<const std::string&>().empty())
    refuse("book.missing-key", kind.name, f.name);
  if (f.type == Type::day && !qualification::read_date(value.get<std::string>()))
    refuse("book.bad-day", kind.name, f.name, {text("found", value.get<std::string>())});
  if (f.words.empty()) return;
  const std::string found = value.get<std::string>();
  if (std::find(f.words.begin(), f.words.end(), found) == f.words.end())
    refuse("book.bad-word", kind.name, f.name,
           {text("found", found.substr(0, 80)),
            text("nearest", published::nearest_or_some(found.substr(0, 80), {f.words.begin(), f.words.end()}))});
}

}  // namespace

std::string word_at(const Json& payload, const char* field) {
  if (!payload.is_object()) return {};
  const auto found = payload.find(field);
  return found != payload.end() && found->is_string() ? found->get<std::string>() : std::string();
}

void check_payload(const Kind& kind, const Json& payload) {
  if (!payload.is_object())
    refuse("book.wrong-type", kind.name, field::payload, {text("found", payload.type_name())});
  for (const auto& [name, value] : payload.items()) {
    const Field* f = field_of(kind, name);
    if (!f) {
      std::vector<std::string> names;
      for (const Field& known : kind.fields) names.emplace_back(known.name);
      refuse("book.unknown-key", kind.name, name.substr(0, 80),
             {text("nearest", published::nearest_or_some(name.substr(0, 80), names))});
    }
    check_value(kind, *f, value);
  }
  for (const Field& f : kind.fields)
    if (f.needed && !payload.contains(f.name)) refuse("book.missing-key", kind.name, f.name);
  const std::string_view name = kind.name;
  if (name == kind::repair && !payload.contains(field::nonconformity))
    refuse("book.missing-key", kind.name, field::nonconformity);
  if (name == kind::correction) {
    const std::string inner = payload[field::kind].get<std::string>();
    if (!may_be_corrected(inner)) throw Fault{Message{"book.not-correctable", {text("kind", inner)}}};
    check_payload(inner, payload[field::payload]);
  }
}

void check_payload(const std::string& kind, const Json& payload) { check_payload(kind_named(kind), payload); }

Content content_of(const std::string& kind, const Json& payload) {
  Content c{kind, &payload, 0};
  if (!payload.is_object() || (kind != kind::correction && kind != kind::annulment)) return c;
  const auto corrected = payload.find(field::of);
  if (corrected != payload.end() && corrected->is_number_integer())
    c.replaces = corrected->get<std::int64_t>();
  const auto inner = payload.find(field::payload);
  if (kind == kind::correction && inner != payload.end()) {
    c.kind = word_at(payload, field::kind);
    c.payload = &*inner;
  }
  return c;
}

namespace {

void add_marks(const char* name, const Json& value, std::vector<Mark>& into) {
  if (value.is_string()) into.push_back({name, value.get<std::string>()});
  if (value.is_array())
    for (const Json& part : value)
      if (part.is_string()) into.push_back({name, part.get<std::string>()});
}

void sort_out(std::vector<Mark>& marks) {
  std::sort(marks.begin(), marks.end());
  marks.erase(std::unique(marks.begin(), marks.end()), marks.end());
}

}  // namespace

std::vector<std::string> mark_names() {
  std::vector<std::string> names;
  for (const Kind& k : kinds())
    for (const Field& f : k.fields)
      if (f.mark[0] && std::find(names.begin(), names.end(), f.mark) == names.end())
        names.emplace_back(f.mark);
  return names;
}

std::vector<Mark> marks_of(const Content& c) {
  std::vector<Mark> marks;
  const Kind* kind = kind_of(c.kind);
  if (!kind || !c.payload->is_object()) return marks;
  for (const Field& f : kind->fields)
    if (f.mark[0] && c.payload->contains(f.name)) add_marks(f.mark, (*c.payload)[f.name], marks);
  sort_out(marks);
  return marks;
}

std::vector<Mark> carried_by(const Content& c) {
  std::vector<Mark> carried;
  const Kind* kind = kind_of(c.kind);
  if (!kind || !c.payload->is_object()) return carried;
  const std::string revision = word_at(*c.payload, field::revision);
  for (const Field& f : kind->fields) {
    if (!f.carried[0] || !c.payload->contains(f.name)) continue;
    const Json& value = (*c.payload)[f.name];
    add_marks(f.carried, value, carried);
    if (f.revised && value.is_string() && !revision.empty())
      carried.push_back({f.carried, value.get<std::string>() + " " + revision});
  }
  sort_out(carried);
  return carried;
}

std::vector<std::string> files_of(const Content& c) {
  std::vector<std::string> files;
  const Kind* kind = kind_of(c.kind);
  if (!kind || !c.payload->is_object()) return files;
  for (const Field& f : kind->fields)
    if (f.type == Type::file && c.payload->contains(f.name) && has_type(Type::file, (*c.payload)[f.name]))
      files.push_back((*c.payload)[f.name][field::sha256].get<std::string>());
  return files;
}

}  // namespace seamwright::book
