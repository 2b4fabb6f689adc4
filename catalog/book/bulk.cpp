// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/bulk.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "catalog/files/parse.h"
#include "catalog/files/small_table.h"
#include "catalog/files/source.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

std::string beside(const std::string& path, const std::string& name) {
  return (std::filesystem::path(path).parent_path() / name).string();
}

const Kind& known(const std::string& kind) {
  const Kind* k = kind_of(kind);
  if (!k) check_payload(kind, Json::object());  // throws with the nearest
  return *k;
}

Json value_of(const files::TableRow& row, const Key& key) {
  const std::string cell = row.word(key.name);
  switch (key.type) {
    case Type::number:
    case Type::entry:
      return row.real(key.name);
    case Type::flag:
      if (cell != "true" && cell != "false") row.fail("book.bad-flag", {text("found", cell.substr(0, 80))});
      return cell == "true";
    case Type::texts: {
      std::istringstream words(cell);
      Json list = Json::array();
      for (std::string word; words >> word;) list.push_back(word);
      return list;
    }
    default:
      return cell;
  }
}

std::vector<New> read_table(const std::string& path, const std::string& kind) {
  const Kind& k = known(kind);
  std::vector<std::string> needed, others;
  for (const Key& key : k.keys) (key.needed ? needed : others).emplace_back(key.name);
  std::vector<New> all;
  files::read_small_table(path, needed, others, [&](const files::TableRow& row) {
    New n{kind, Json::object(), std::nullopt};
    for (const Key& key : k.keys) {
      if (!row.has(key.name)) continue;
      if (key.type == Type::file)
        n.file = read_attachment(beside(path, row.word(key.name)));
      else
        n.payload[key.name] = value_of(row, key);
    }
    try {
      if (!n.file) check_payload(kind, n.payload);
    } catch (const Fault& f) {
      row.fail(f.message.id.c_str(), f.message.arguments);
    }
    all.push_back(std::move(n));
  });
  return all;
}

Json json_of(const std::string& path, const toml::node& node) {
  if (const auto* s = node.as_string()) return s->get();
  if (const auto* i = node.as_integer()) return i->get();
  if (const auto* f = node.as_floating_point()) return f->get();
  if (const auto* b = node.as_boolean()) return b->get();
  if (const auto* d = node.as_date()) {
    std::ostringstream out;
    out << d->get();
    return out.str();
  }
  if (const auto* a = node.as_array()) {
    Json list = Json::array();
    for (const toml::node& part : *a) list.push_back(json_of(path, part));
    return list;
  }
  if (const auto* t = node.as_table()) {
    Json object = Json::object();
    for (const auto& [key, part] : *t) object[std::string(key.str())] = json_of(path, part);
    return object;
  }
  throw Fault{Message{"book.wrong-type",
                      {text("kind", path), text("key", "?"), text("found", "time"),
                       number("line", static_cast<double>(node.source().begin.line), "")}}};
}

struct Placed {
  New record;
  toml::source_index line;
};

std::vector<New> read_toml(const std::string& path) {
  const toml::table table = files::parse(path, files::read_text(path));
  if (table["format"].value_or(std::string()) != "seamwright.records/1")
    throw Fault{Message{"book.no-format", {text("file", path)}}};
  std::vector<Placed> placed;
  for (const auto& [key, node] : table) {
    const std::string kind(key.str());
    if (kind == "format" || kind == "note") continue;
    known(kind);
    const toml::array* rows = node.as_array();
    if (!rows || !rows->is_homogeneous(toml::node_type::table))
      throw Fault{Message{"book.no-table", {text("file", path), text("kind", kind)}}};
    for (const toml::node& row : *rows) {
      Placed p{{kind, json_of(path, row), std::nullopt}, row.source().begin.line};
      if (p.record.payload.contains("file") && p.record.payload["file"].is_string()) {
        p.record.file = read_attachment(beside(path, p.record.payload["file"].get<std::string>()));
        p.record.payload.erase("file");
      }
      try {
        if (!p.record.file) check_payload(kind, p.record.payload);
      } catch (Fault& f) {
        f.message.arguments.push_back(text("file", path));
        f.message.arguments.push_back(number("line", static_cast<double>(p.line), ""));
        throw;
      }
      placed.push_back(std::move(p));
    }
  }
  std::stable_sort(placed.begin(), placed.end(),
                   [](const Placed& a, const Placed& b) { return a.line < b.line; });
  std::vector<New> all;
  for (Placed& p : placed) all.push_back(std::move(p.record));
  return all;
}

}  // namespace

Attachment read_attachment(const std::string& path) {
  std::error_code ignored;
  if (!std::filesystem::is_regular_file(path, ignored))
    throw Fault{Message{"file.missing", {text("file", path)}}};
  if (std::filesystem::file_size(path, ignored) > largest_attachment)
    throw Fault{Message{"book.attachment-too-large",
                        {text("file", path), number("most", static_cast<double>(largest_attachment), "")}}};
  std::ifstream in(path, std::ios::binary);
  std::ostringstream bytes;
  bytes << in.rdbuf();
  if (!in) throw Fault{Message{"file.unreadable", {text("file", path)}}};
  return {std::filesystem::path(path).filename().string(), bytes.str()};
}

std::vector<New> read_records(const std::string& path, const std::string& kind) {
  return std::filesystem::path(path).extension() == ".toml" ? read_toml(path) : read_table(path, kind);
}

}  // namespace seamwright::book
