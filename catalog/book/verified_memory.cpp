// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/verified_memory.h"

#include <sys/stat.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "catalog/book/book.h"
#include "catalog/book/verify.h"

namespace seamwright::book {

namespace {

constexpr std::uintmax_t most_bytes = std::uintmax_t{256} << 20;

std::filesystem::path file_of(const std::string& book_id) {
  if (book_id.empty() || book_id.find_first_not_of("0123456789abcdef") != std::string::npos) return {};
  const char *state = std::getenv("XDG_STATE_HOME"), *home = std::getenv("HOME");
  std::filesystem::path folder;
  if (state && state[0] == '/')
    folder = state;
  else if (home && home[0] == '/')
    folder = std::filesystem::path(home) / ".local/state";
  return folder.empty() ? folder : folder / "seamwright/books" / book_id;
}

std::string mark_key(const Mark& m) { return m.name + "\n" + m.value; }

// Nothing where there is no such file, or none of ours.
std::optional<Json> read_file(const std::filesystem::path& path) {
  std::error_code failed;
  if (path.empty() || !std::filesystem::is_regular_file(path, failed) || std::filesystem::file_size(path, failed) > most_bytes) return std::nullopt;
  std::ifstream in(path, std::ios::binary);
  Json j = Json::parse(in, nullptr, false);
  return j.is_object() && j.value("format", "") == "seamwright.verified/1" ? std::optional(std::move(j)) : std::nullopt;
}

// Whole or not at all.
void write_file(const std::filesystem::path& path, const Json& content) {
  std::error_code failed;
  const std::filesystem::path part = path.string() + ".part-" + random_hex(4);
  std::ofstream out(part, std::ios::binary);
  out << content.dump();
  out.close();
  if (out) std::filesystem::rename(part, path, failed);
  if (!out || failed) std::filesystem::remove(part, failed);
}

std::filesystem::path carriers_of(const std::string& book_id) {
  std::filesystem::path path = file_of(book_id);
  if (!path.empty()) path += ".carriers";
  return path;
}

}  // namespace

std::optional<VerifiedMemory> remembered(const std::string& book_id) {
  const auto j = read_file(file_of(book_id));
  if (!j) return std::nullopt;
  try {
    return VerifiedMemory{j->at("seq").get<std::int64_t>(), j->at("hash").get<std::string>(), j->at("day").get<std::string>(),
                          j->at("last").get<std::map<std::string, std::int64_t>>()};
  } catch (const Json::exception&) {
    return std::nullopt;
  }
}

std::optional<std::vector<std::string>> remembered_carriers(const std::string& book_id, const Mark& mark) {
  const auto j = read_file(carriers_of(book_id));
  if (!j) return std::nullopt;
  try {
    const auto found = j->at("carriers").find(mark_key(mark));
    return found == j->at("carriers").end() ? std::vector<std::string>() : found->get<std::vector<std::string>>();
  } catch (const Json::exception&) {
    return std::nullopt;
  }
}

void remember(const Book& book, const Verification& verified, const std::string& day) {
  const std::filesystem::path path = file_of(book.id());
  const auto last = book.last_entry();
  if (path.empty() || !last || !verified.problems.empty()) return;
  Json carriers = Json::object();
  book.each_carried([&](const Mark& mark, const std::string& frame) { carriers[mark_key(mark)].push_back(frame); });
  std::error_code failed;
  std::filesystem::create_directories(path.parent_path(), failed);
  ::chmod(path.parent_path().c_str(), 0700);
  const char* const format = "seamwright.verified/1";
  write_file(carriers_of(book.id()), {{"format", format}, {"carriers", std::move(carriers)}});
  write_file(path, {{"format", format}, {"seq", last->seq}, {"hash", last->hash}, {"day", day}, {"last", verified.last_about}});
}

}  // namespace seamwright::book
