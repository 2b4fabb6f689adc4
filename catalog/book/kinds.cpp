// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/kinds.h"

#include <algorithm>
#include <array>
#include <unordered_map>

#include "catalog/published/nearest.h"
#include "engine/evidence/evidence.h"
#include "engine/qualification/calendar.h"

namespace seamwright::book {

namespace {

constexpr const char* no = "";

constexpr Key person_keys[] = {{"id", Type::text, true, "person", no},
                               {"stamp", Type::text, false, no, no},
                               {"role", Type::text, true, no, no},
                               {"public_key", Type::text, true, no, no},
                               {"details_sha256", Type::text, false, no, no}};
constexpr Key revoke_keys[] = {{"id", Type::text, true, "person", no}, {"reason", Type::text, false, no, no}};
constexpr Key role_keys[] = {{"id", Type::text, true, "person", no}, {"role", Type::text, true, no, no}};
constexpr Key key_keys[] = {{"id", Type::text, true, "person", no}, {"public_key", Type::text, true, no, no}};
constexpr Key erase_keys[] = {{"id", Type::text, true, "person", no}};
constexpr Key certificate_keys[] = {{"id", Type::text, true, "certificate", no},
                                    {"welder", Type::text, true, "welder", no},
                                    {"designation", Type::text, true, no, no},
                                    {"tested", Type::day, true, no, no},
                                    {"route", Type::text, false, no, no},
                                    {"employer", Type::text, false, no, no},
                                    {"supplementary_fillet", Type::flag, false, no, no},
                                    {"supplementary_fillet_mm", Type::number, false, no, no},
                                    {"file", Type::file, false, no, no}};
constexpr Key confirmation_keys[] = {{"certificate", Type::text, true, "certificate", no},
                                     {"on", Type::day, true, no, no},
                                     {"prolongs", Type::flag, false, no, no},
                                     {"withdraws", Type::flag, false, no, no}};
constexpr Key qualification_keys[] = {{"id", Type::text, true, "qualification", no},
                                      {"procedure", Type::text, false, "procedure", no},
                                      {"on", Type::day, false, no, no},
                                      {"root", Type::text, false, no, no},
                                      {"by", Type::text, false, no, no},
                                      {"file", Type::file, false, no, no}};
constexpr Key procedure_keys[] = {{"id", Type::text, true, "procedure", no},
                                  {"revision", Type::text, true, no, no},
                                  {"file", Type::file, true, no, no}};
constexpr Key design_keys[] = {{"name", Type::text, true, "design", no},
                               {"revision", Type::text, true, no, no},
                               {"file", Type::file, true, no, no}};
constexpr Key rating_keys[] = {{"design", Type::text, true, "design", no},
                               {"design_sha256", Type::text, true, no, no},
                               {"duty_sha256", Type::text, false, no, no},
                               {"catalog_sha256", Type::text, true, no, no},
                               {"program", Type::text, true, no, no},
                               {"rules", Type::text, true, no, no},
                               {"method", Type::text, true, no, no},
                               {"verdict", Type::text, true, no, no},
                               {"failure_probability", Type::number, false, no, no},
                               {"governing_weld", Type::text, false, no, no},
                               {"life_years", Type::number, false, no, no},
                               {"life_km", Type::number, false, no, no},
                               {"file", Type::file, false, no, no}};
constexpr Key lot_keys[] = {{"id", Type::text, true, "lot", no},
                            {"heat", Type::text, true, "heat", no},
                            {"certificate_type", Type::text, false, no, no},
                            {"certificate_number", Type::text, false, no, no},
                            {"mill", Type::text, false, no, no},
                            {"steel", Type::text, false, no, no},
                            {"outside_mm", Type::number, false, no, no},
                            {"wall_mm", Type::number, false, no, no},
                            {"length_m", Type::number, false, no, no},
                            {"delivered", Type::day, false, no, no},
                            {"file", Type::file, false, no, no}};
constexpr Key filler_keys[] = {{"id", Type::text, true, "filler", no},
                               {"designation", Type::text, true, no, no},
                               {"heat", Type::text, false, "heat", no},
                               {"size_mm", Type::number, false, no, no},
                               {"certificate_type", Type::text, false, no, no},
                               {"delivered", Type::day, false, no, no},
                               {"file", Type::file, false, no, no}};
constexpr Key gas_keys[] = {{"id", Type::text, true, "gas", no},
                            {"designation", Type::text, true, no, no},
                            {"delivered", Type::day, false, no, no},
                            {"file", Type::file, false, no, no}};
constexpr Key machine_keys[] = {{"id", Type::text, true, "machine", no},
                                {"name", Type::text, true, no, no},
                                {"serial", Type::text, false, no, no},
                                {"process", Type::text, false, no, no}};
constexpr Key tool_keys[] = {{"id", Type::text, true, "tool", no},
                             {"name", Type::text, true, no, no},
                             {"serial", Type::text, false, no, no}};
constexpr Key calibration_keys[] = {{"of", Type::text, true, "calibrated", no},
                                    {"on", Type::day, true, no, no},
                                    {"until", Type::day, true, no, no},
                                    {"by", Type::text, false, no, no},
                                    {"file", Type::file, false, no, no}};
constexpr Key frame_keys[] = {
    {"serial", Type::text, true, "frame", no}, {"design", Type::text, true, no, "design"},
    {"revision", Type::text, true, no, no},    {"order", Type::text, false, "order", no},
    {"on", Type::day, false, no, no},          {"note", Type::text, false, no, no}};
// Of a weld and of its repair; a repair names the nonconformity that asked for it.
constexpr Key weld_keys[] = {{"frame", Type::text, true, "frame", no},
                             {"weld", Type::text, true, no, no},
                             {"procedure", Type::text, false, no, "procedure"},
                             {"revision", Type::text, false, no, no},
                             {"welder", Type::text, false, no, "welder"},
                             {"machine", Type::text, false, no, "machine"},
                             {"filler", Type::text, false, no, "filler"},
                             {"gas", Type::text, false, no, "gas"},
                             {"lots", Type::texts, false, no, "lot"},
                             {"on", Type::day, false, no, no},
                             {"run", Type::number, false, no, no},
                             {"position", Type::text, false, no, no},
                             {"amperes", Type::number, false, no, no},
                             {"volts", Type::number, false, no, no},
                             {"speed_mm_s", Type::number, false, no, no},
                             {"power_w", Type::number, false, no, no},
                             {"preheat_c", Type::number, false, no, no},
                             {"interpass_c", Type::number, false, no, no},
                             {"gas_l_min", Type::number, false, no, no},
                             {"purge_l_min", Type::number, false, no, no},
                             {"gap_mm", Type::number, false, no, no},
                             {"nonconformity", Type::text, false, "nonconformity", no},
                             {"reason", Type::text, false, no, no},
                             {"note", Type::text, false, no, no}};
constexpr Key inspection_keys[] = {{"frame", Type::text, true, "frame", no},
                                   {"weld", Type::text, false, no, no},
                                   {"method", Type::text, true, no, no},
                                   {"result", Type::text, true, no, no},
                                   {"imperfection", Type::text, false, no, no},
                                   {"value_mm", Type::number, false, no, no},
                                   {"limit_mm", Type::number, false, no, no},
                                   {"tool", Type::text, false, no, "tool"},
                                   {"on", Type::day, true, no, no},
                                   {"note", Type::text, false, no, no},
                                   {"file", Type::file, false, no, no}};
constexpr Key nonconformity_keys[] = {{"id", Type::text, true, "nonconformity", no},
                                      {"frame", Type::text, true, "frame", no},
                                      {"weld", Type::text, false, no, no},
                                      {"what", Type::text, true, no, no},
                                      {"on", Type::day, false, no, no},
                                      {"file", Type::file, false, no, no}};
constexpr Key disposition_keys[] = {{"nonconformity", Type::text, true, "nonconformity", no},
                                    {"frame", Type::text, true, "frame", no},
                                    {"decision", Type::text, true, no, no},
                                    {"reason", Type::text, true, no, no}};
constexpr Key exception_keys[] = {{"frame", Type::text, true, "frame", no},
                                  {"gap", Type::text, true, no, no},
                                  {"reason", Type::text, true, no, no}};
constexpr Key release_keys[] = {{"frame", Type::text, true, "frame", no},
                                {"on", Type::day, true, no, no},
                                {"design_sha256", Type::text, true, no, no},
                                {"exceptions", Type::number, false, no, no},
                                {"note", Type::text, false, no, no}};
constexpr Key shipment_keys[] = {{"order", Type::text, true, "order", no},
                                 {"frames", Type::texts, true, "frame", no},
                                 {"to", Type::text, false, no, no},
                                 {"on", Type::day, true, no, no}};
constexpr Key report_keys[] = {
    {"frame", Type::text, true, "frame", no}, {"on", Type::day, true, no, no},
    {"what", Type::text, true, no, no},       {"km", Type::number, false, no, no},
    {"weld", Type::text, false, no, no},      {"cracked", Type::flag, false, no, no},
    {"file", Type::file, false, no, no}};
constexpr Key correction_keys[] = {{"of", Type::entry, true, no, no},
                                   {"kind", Type::text, true, no, no},
                                   {"reason", Type::text, true, no, no},
                                   {"payload", Type::object, true, no, no}};
constexpr Key void_keys[] = {{"of", Type::entry, true, no, no}, {"reason", Type::text, true, no, no}};
constexpr Key verification_keys[] = {{"head", Type::text, true, no, no},
                                     {"entries", Type::number, true, no, no},
                                     {"problems", Type::number, true, no, no},
                                     {"refused", Type::number, false, no, no},
                                     {"against", Type::text, false, no, no}};
constexpr Key note_keys[] = {{"text", Type::text, true, no, no},
                             {"frame", Type::text, false, "frame", no},
                             {"file", Type::file, false, no, no}};

// Signers: welder, engineer, inspector, auditor; the owner signs all but what stands with an O.
constexpr Kind table[] = {
    {"person", "", person_keys},
    {"revoke", "", revoke_keys},
    {"role", "", role_keys},
    {"key", "", key_keys},
    {"erase", "", erase_keys},
    {"certificate", "e", certificate_keys},
    {"confirmation", "e", confirmation_keys},
    {"qualification", "e", qualification_keys},
    {"procedure", "e", procedure_keys},
    {"design", "e", design_keys},
    {"rating", "e", rating_keys},
    {"lot", "wei", lot_keys},
    {"filler", "wei", filler_keys},
    {"gas", "wei", gas_keys},
    {"machine", "ei", machine_keys},
    {"tool", "ei", tool_keys},
    {"calibration", "ei", calibration_keys},
    {"frame", "we", frame_keys},
    {"weld", "we", weld_keys},
    {"repair", "we", weld_keys},
    {"inspection", "i", inspection_keys},
    {"nonconformity", "wei", nonconformity_keys},
    {"disposition", "e", disposition_keys},
    {"exception", "eO", exception_keys},
    {"release", "ei", release_keys},
    {"shipment", "ei", shipment_keys},
    {"field-report", "wei", report_keys},
    {"correction", "wei", correction_keys},
    {"void", "wei", void_keys},
    {"verification", "weia", verification_keys},
    {"note", "wei", note_keys},
};

constexpr std::array roles{"welder", "engineer", "inspector", "auditor", "owner"};

// Keys whose text is one of a few words.
struct Words {
  const char *kind, *key;
  std::vector<std::string> words;
};
const std::vector<Words>& words() {
  static const std::vector<Words> all{
      {"inspection", "result", {"accept", "reject"}},
      {"disposition", "decision", {"repair", "use-as-is", "scrap"}},
      {"qualification", "root", {"fused", "not-fused"}},
      {"rating", "verdict", {"meets", "falls_short", "not_covered"}},
      {"certificate", "route", {"a", "b", "c"}},
      {"lot", "certificate_type", {"2.1", "2.2", "3.1", "3.2"}},  // EN 10204:2004
      {"filler", "certificate_type", {"2.1", "2.2", "3.1", "3.2"}},
  };
  return all;
}

// Kinds that decide who may sign, or that say what was seen on a day: a new entry follows, none is corrected.
constexpr std::array uncorrected{"person", "revoke",     "role", "key",
                                 "erase",  "correction", "void", "verification"};

bool is_hash(const Json& value) {
  return value.is_string() && value.get_ref<const std::string&>().size() == 64 &&
         value.get_ref<const std::string&>().find_first_not_of("0123456789abcdef") == std::string::npos;
}

[[noreturn]] void refuse(const char* id, const std::string& kind, const std::string& key,
                         std::vector<Argument> more = {}) {
  more.push_back(text("kind", kind));
  more.push_back(text("key", key));
  throw Fault{Message{id, std::move(more)}};
}

bool holds(Type type, const Json& value) {
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
      return value.is_object() && value.contains("sha256") && is_hash(value["sha256"]) &&
             value.contains("name") && value["name"].is_string() && value.size() == 2;
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

void check_value(const Kind& kind, const Key& key, const Json& value) {
  if (!holds(key.type, value))
    refuse("book.wrong-type", kind.name, key.name, {text("found", value.type_name())});
  check_length(kind.name, key.name, value);
  if (key.needed && value.is_string() && value.get_ref<const std::string&>().empty())
    refuse("book.missing-key", kind.name, key.name);
  if (key.type == Type::day && !qualification::read_date(value.get<std::string>()))
    refuse("book.bad-day", kind.name, key.name, {text("found", value.get<std::string>())});
  for (const Words& w : words())
    if (w.key == std::string(key.name) && w.kind == std::string(kind.name) &&
        std::find(w.words.begin(), w.words.end(), value.get<std::string>()) == w.words.end())
      refuse("book.bad-word", kind.name, key.name,
             {text("found", value.get<std::string>().substr(0, 80)),
              text("nearest", published::nearest(value.get<std::string>().substr(0, 80), w.words))});
}

}  // namespace

std::string word_at(const Json& payload, const char* key) {
  if (!payload.is_object()) return {};
  const auto found = payload.find(key);
  return found != payload.end() && found->is_string() ? found->get<std::string>() : std::string();
}

std::span<const Kind> kinds() { return table; }

const Kind* kind_of(std::string_view name) {
  static const auto by_name = [] {
    std::unordered_map<std::string_view, const Kind*> all;
    for (const Kind& k : table) all.emplace(k.name, &k);
    return all;
  }();
  const auto found = by_name.find(name);
  return found == by_name.end() ? nullptr : found->second;
}

bool is_role(const std::string& role) { return std::find(roles.begin(), roles.end(), role) != roles.end(); }

bool may_sign(const std::string& role, const std::string& kind) {
  const Kind* known = kind_of(kind);
  if (!known || !is_role(role)) return false;
  const std::string_view signers = known->signers;
  if (role == "owner") return signers.find('O') == std::string_view::npos;
  return signers.find(role[0]) != std::string_view::npos;
}

bool may_be_corrected(const std::string& kind) {
  return std::find(uncorrected.begin(), uncorrected.end(), kind) == uncorrected.end();
}

void check_payload(const std::string& kind, const Json& payload) {
  const Kind* known = kind_of(kind);
  if (!known) {
    std::vector<std::string> names;
    for (const Kind& k : table) names.emplace_back(k.name);
    throw Fault{Message{
        "book.unknown-kind",
        {text("kind", kind.substr(0, 80)), text("nearest", published::nearest(kind.substr(0, 80), names))}}};
  }
  if (!payload.is_object()) refuse("book.wrong-type", kind, "payload", {text("found", payload.type_name())});
  for (const auto& [name, value] : payload.items()) {
    const auto key = std::find_if(known->keys.begin(), known->keys.end(),
                                  [&wanted = name](const Key& k) { return k.name == wanted; });
    if (key == known->keys.end()) {
      std::vector<std::string> names;
      for (const Key& k : known->keys) names.emplace_back(k.name);
      refuse("book.unknown-key", kind, name.substr(0, 80),
             {text("nearest", published::nearest(name.substr(0, 80), names))});
    }
    check_value(*known, *key, value);
  }
  for (const Key& k : known->keys)
    if (k.needed && !payload.contains(k.name)) refuse("book.missing-key", kind, k.name);
  if (kind == "repair" && !payload.contains("nonconformity"))
    refuse("book.missing-key", kind, "nonconformity");
  if (kind == "correction") {
    const std::string inner = payload["kind"].get<std::string>();
    if (!may_be_corrected(inner)) throw Fault{Message{"book.not-correctable", {text("kind", inner)}}};
    check_payload(inner, payload["payload"]);
  }
}

Content content_of(const std::string& kind, const Json& payload) {
  Content c{kind, &payload, 0};
  if (!payload.is_object() || (kind != "correction" && kind != "void")) return c;
  const auto of = payload.find("of");
  if (of != payload.end() && of->is_number_integer()) c.replaces = of->get<std::int64_t>();
  const auto inner = payload.find("payload");
  if (kind == "correction" && inner != payload.end()) {
    c.kind = word_at(payload, "kind");
    c.payload = &*inner;
  }
  return c;
}

namespace {

void take(const char* name, const Json& value, std::vector<Mark>& into) {
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

std::vector<Mark> marks_of(const Content& c) {
  std::vector<Mark> marks;
  const Kind* kind = kind_of(c.kind);
  if (!kind || !c.payload->is_object()) return marks;
  for (const Key& k : kind->keys)
    if (k.mark[0] && c.payload->contains(k.name)) take(k.mark, (*c.payload)[k.name], marks);
  sort_out(marks);
  return marks;
}

std::vector<Mark> carried_by(const Content& c) {
  std::vector<Mark> carried;
  const Kind* kind = kind_of(c.kind);
  if (!kind || !c.payload->is_object()) return carried;
  const std::string revision = word_at(*c.payload, "revision");
  for (const Key& k : kind->keys) {
    if (!k.carried[0] || !c.payload->contains(k.name)) continue;
    const Json& value = (*c.payload)[k.name];
    take(k.carried, value, carried);
    const bool revised = std::string_view(k.name) == "procedure" || std::string_view(k.name) == "design";
    if (revised && value.is_string() && !revision.empty())
      carried.push_back({k.carried, value.get<std::string>() + " " + revision});
  }
  sort_out(carried);
  return carried;
}

std::vector<std::string> files_of(const Content& c) {
  std::vector<std::string> files;
  const Kind* kind = kind_of(c.kind);
  if (!kind || !c.payload->is_object()) return files;
  for (const Key& k : kind->keys)
    if (k.type == Type::file && c.payload->contains(k.name) && holds(Type::file, (*c.payload)[k.name]))
      files.push_back((*c.payload)[k.name]["sha256"].get<std::string>());
  return files;
}

}  // namespace seamwright::book
