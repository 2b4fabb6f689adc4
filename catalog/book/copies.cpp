// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/copies.h"

#include <filesystem>
#include <fstream>
#include <map>
#include <set>

#include "catalog/book/records.h"
#include "catalog/book/records/names.h"
#include "catalog/book/store/stores.h"
#include "catalog/published/built_in.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

void write_bytes(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream out(path, std::ios::binary);
  out << bytes;
  if (!out.flush()) throw Fault{Message{"book.read-only", {text("why", path.string())}}, Category::machine};
}

// A file's name in the folder: the hash's first figures make it one of its own, and what could lead elsewhere
// or hide is left out.
std::string name_in_folder(const std::string& sha256, const std::string& name) {
  std::string plain;
  for (const char c : name.substr(0, 100))
    if ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_' ||
        c == '.')
      plain.push_back(c);
  return sha256.substr(0, 16) + "-" + plain;
}

void write_files(const Book& book, const std::string& serial, const std::map<std::int64_t, Entry>& entries,
                 const std::filesystem::path& path) {
  std::error_code failed;
  std::filesystem::create_directories(path / "files", failed);
  if (failed) throw Fault{Message{"book.read-only", {text("why", failed.message())}}, Category::machine};
  std::filesystem::permissions(path, std::filesystem::perms::owner_all);
  Json proof{
      {"format", "seamwright.proof/2"}, {"book", book.id()},      {"head", book.head()}, {"serial", serial},
      {"entries", Json::array()},       {"files", Json::object()}};
  std::vector<std::string> asked;
  for (const auto& [seq, e] : entries)
    for (std::string& sha256 : files_of(content_of(e.kind, e.payload))) asked.push_back(std::move(sha256));
  const std::map<std::string, std::string> kept = book.attachments(asked);
  for (const auto& [seq, e] : entries) {
    Json row{{"seq", seq},
             {"time", e.time},
             {"author", e.author},
             {"kind", e.kind},
             {"payload", canonical(e.payload)},
             {"prev", e.prev},
             {"hash", e.hash},
             {"signature", e.signature}};
    if (e.form == 2) row.update({{"seen", e.seen}, {"links", e.links}});
    proof["entries"].push_back(std::move(row));
    const Content content = content_of(e.kind, e.payload);
    for (const std::string& sha256 : files_of(content)) {
      const auto bytes = kept.find(sha256);
      if (bytes == kept.end()) throw Fault{Message{"book.attachment-missing", {text("sha256", sha256)}}};
      const std::string name =
          name_in_folder(sha256, (*content.payload)[field::file][field::name].get<std::string>());
      write_bytes(path / "files" / name, bytes->second);
      proof["files"][sha256] = name;
    }
  }
  write_bytes(path / "check.py", published::book_files()[0].text);
  write_bytes(path / "proof.json", proof.dump(1) + "\n");
}

}  // namespace

Verification copy_verified(const std::string& from, const std::string& to) {
  Book::open_read(from, Tables::as_they_are).copy_to(to);
  try {
    Verification v = verify(Book::open_read(to, Tables::as_they_are));
    if (v.problems.empty()) return v;
    throw Fault{Message{"book.copy-fails", {sentence_argument("why", v.problems[0].what)}}};
  } catch (const Fault&) {
    remove_store(to);
    throw;
  }
}

std::size_t write_proof(const Book& book, const std::string& serial, const std::string& folder) {
  const Trace t = trace(book, serial);
  std::map<std::int64_t, Entry> entries;
  std::vector<std::int64_t> replacing;  // one that makes another void names no frame itself
  for (const auto* part : {&t.own, &t.behind})
    for (const Record& r : *part) {
      entries.emplace(r.entry.seq, r.entry);
      if (r.replaced_by > 0) replacing.push_back(r.replaced_by);
    }
  for (const Record& r : book.records(replacing)) entries.emplace(r.entry.seq, r.entry);
  static const std::set<std::string> of_the_shop{kind::person, kind::key, kind::role, kind::revoke, kind::shop, kind::format, kind::inspector_certificate};
  book.for_each_entry([&](const Entry& e) {  // who was admitted, by whom, with which key; what they hold; who else there is
    if (!of_the_shop.contains(e.kind)) return true;
    book.require_intact(e);
    entries.emplace(e.seq, e);
    return true;
  });
  if (std::filesystem::exists(folder)) throw Fault{Message{"book.exists", {text("file", folder)}}};
  const std::string part = folder + ".part-" + random_hex(4);  // whole or not at all
  std::error_code failed;
  try {
    write_files(book, serial, entries, part);
    std::filesystem::rename(part, folder, failed);
    if (failed) throw Fault{Message{"book.read-only", {text("why", failed.message())}}, Category::machine};
  } catch (const Fault&) {
    std::filesystem::remove_all(part, failed);
    throw;
  }
  return entries.size();
}

}  // namespace seamwright::book
