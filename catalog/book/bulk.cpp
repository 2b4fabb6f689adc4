// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/bulk.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "catalog/book/records/weld_record.h"
#include "catalog/files/parse.h"
#include "catalog/files/small_table.h"
#include "catalog/files/source.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

// A file in the folder of the table or below it, wherever links lead: a table from elsewhere must not carry
// other files of this machine into a signed book. Nothing for any other.
std::optional<std::string> path_beside(const std::string& path, const std::string& name) {
  namespace fs = std::filesystem;
  const fs::path stated_path(name);
  if (stated_path.empty() || stated_path.is_absolute() ||
      std::find(stated_path.begin(), stated_path.end(), "..") != stated_path.end())
    return std::nullopt;
  std::error_code failed;
  const fs::path folder = fs::canonical(fs::absolute(path).parent_path(), failed);
  const fs::path whole = fs::weakly_canonical(folder / stated_path, failed);
  if (failed) return std::nullopt;
  const auto [end, ignored] = std::mismatch(folder.begin(), folder.end(), whole.begin(), whole.end());
  return end == folder.end() ? std::optional(whole.string()) : std::nullopt;
}

Json value_of(const files::TableRow& row, const Field& field) {
  const std::string cell = row.text_of(field.name);
  switch (field.type) {
    case Type::number:
    case Type::entry:
      return row.real(field.name);
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

struct EntryOfLine {
  NewEntry record;
  toml::source_index line;
};

// One [[kind]] of the file.
EntryOfLine entry_of_line(const std::string& path, const Kind& kind, const toml::node& row) {
  const toml::source_index line = row.source().begin.line;
  Json payload = json_of(path, row);
  try {
    std::optional<Attachment> attached;
    const auto file = payload.find(field::file);
    if (file != payload.end() && file->is_string()) {
      const std::string name = file->get<std::string>();
      const auto there = path_beside(path, name);
      if (!there) throw Fault{Message{"book.file-outside", {text("key", field::file), text("found", name)}}};
      attached = read_attachment(*there);
      payload.erase(field::file);
    }
    return {record_from(kind, payload, std::move(attached)), line};
  } catch (Fault& f) {
    f.put_at(path, static_cast<int>(line));
    throw;
  }
}

std::vector<NewEntry> read_toml(const std::string& path) {
  const toml::table table = files::parse(path, files::read_text(path));
  if (table["format"].value_or(std::string()) != "seamwright.records/1")
    throw Fault{Message{"book.no-format", {text("file", path)}}};
  std::vector<EntryOfLine> placed;
  for (const auto& [key, node] : table) {
    const std::string kind(key.str());
    if (kind == "format" || (kind == kind::note && node.is_string())) continue;  // [[note]] is a record
    const auto fail = [&, &at = node](const Message& m) {
      Fault fault{m};
      fault.put_at(path, static_cast<int>(at.source().begin.line));
      throw fault;
    };
    try {
      kind_named(kind);
    } catch (const Fault& f) {
      fail(f.message);
    }
    const toml::array* rows = node.as_array();
    if (!rows || !rows->is_homogeneous(toml::node_type::table)) fail({"book.no-table", {text("kind", kind)}});
    for (const toml::node& row : *rows) placed.push_back(entry_of_line(path, *kind_of(kind), row));
  }
  std::stable_sort(placed.begin(), placed.end(),
                   [](const EntryOfLine& a, const EntryOfLine& b) { return a.line < b.line; });
  std::vector<NewEntry> all;
  for (EntryOfLine& p : placed) all.push_back(std::move(p.record));
  return all;
}

}  // namespace

std::vector<NewEntry> read_table(const std::string& path, const Kind& kind) {
  std::vector<std::string> needed, others;
  for (const Field& f : kind.fields) (f.needed ? needed : others).emplace_back(f.name);
  std::vector<NewEntry> all;
  files::read_small_table(path, needed, others, [&](const files::TableRow& row) {
    Json payload = Json::object();
    std::optional<Attachment> attached;
    for (const Field& f : kind.fields) {
      if (!row.has(f.name)) continue;
      if (f.type == Type::file) {
        const auto file = path_beside(path, row.text_of(f.name));
        if (!file) row.fail("book.file-outside", {text("key", f.name), text("found", row.text_of(f.name))});
        attached = read_attachment(*file);
      } else {
        payload[f.name] = value_of(row, f);
      }
    }
    try {
      all.push_back(record_from(kind, payload, std::move(attached)));
    } catch (const Fault& f) {
      row.fail(f.message.id, f.message.arguments);
    }
  });
  return all;
}

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

std::vector<NewEntry> read_records(const std::string& path, const std::string& kind) {
  return std::filesystem::path(path).extension() == ".toml" ? read_toml(path)
                                                            : read_table(path, kind_named(kind));
}

}  // namespace seamwright::book
