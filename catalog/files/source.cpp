// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/source.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string_view>

#include "engine/evidence/evidence.h"

namespace seamwright::files {

namespace {

struct Handle {
  int fd;
  ~Handle() {
    if (fd >= 0) ::close(fd);
  }
};

[[noreturn]] void fail(MessageId id, const std::string& path, std::vector<Argument> more = {}) {
  more.insert(more.begin(), text("file", path));
  throw Fault{Message{id, std::move(more)}};
}

// Length of the UTF-8 sequence at i, 0 when it is broken (overlong, surrogate, beyond U+10FFFF).
std::size_t sequence(std::string_view s, std::size_t i) {
  const auto byte = [&](std::size_t k) { return k < s.size() ? static_cast<unsigned char>(s[k]) : 0u; };
  const auto tail = [&](std::size_t k) { return (byte(k) & 0xC0u) == 0x80u; };
  const unsigned a = byte(i), b = byte(i + 1);
  if (a < 0x80) return 1;
  if (a >= 0xC2 && a < 0xE0 && tail(i + 1)) return 2;
  if (a >= 0xE0 && a < 0xF0 && tail(i + 1) && tail(i + 2) && !(a == 0xE0 && b < 0xA0) &&
      !(a == 0xED && b > 0x9F))
    return 3;
  if (a >= 0xF0 && a < 0xF5 && tail(i + 1) && tail(i + 2) && tail(i + 3) && !(a == 0xF0 && b < 0x90) &&
      !(a == 0xF4 && b > 0x8F))
    return 4;
  return 0;
}

void require_text(const std::string& path, std::string_view content) {
  double line = 1;
  for (std::size_t i = 0; i < content.size();) {
    const std::size_t length = content[i] == '\0' ? 0 : sequence(content, i);
    if (length == 0) fail("file.not-text", path, {number("line", line, "")});
    if (content[i] == '\n') ++line;
    i += length;
  }
}

[[noreturn]] void fail_too_large(const std::string& path) {
  fail("file.too-large", path, {number("most", static_cast<double>(largest_file >> 20), "MiB")});
}

class FilesOnDisk : public Files {
 public:
  std::string bytes(const std::string& path) const override;
  std::unique_ptr<std::istream> stream(const std::string& path) const override {
    std::error_code ignored;
    if (!std::filesystem::exists(path, ignored)) fail("file.missing", path);
    if (!std::filesystem::is_regular_file(path, ignored)) fail("file.not-a-file", path);
    auto file = std::make_unique<std::ifstream>(path, std::ios::binary);
    if (!*file) fail("file.unreadable", path);
    return file;
  }
  std::vector<std::string> names_in(const std::string& folder) const override {
    std::vector<std::string> names;
    std::error_code none;
    for (const auto& entry : std::filesystem::directory_iterator(folder, none))
      names.push_back(entry.path().string());
    std::sort(names.begin(), names.end());
    return names;
  }
  bool is_folder(const std::string& path) const override {
    std::error_code ignored;
    return std::filesystem::is_directory(path, ignored);
  }
};

std::string FilesOnDisk::bytes(const std::string& path) const {
  const Handle handle{::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK)};
  if (handle.fd < 0)
    fail(errno == ENOENT || errno == ENOTDIR ? MessageId("file.missing") : "file.unreadable", path);
  struct stat status {};
  if (::fstat(handle.fd, &status) != 0) fail("file.unreadable", path);
  if (!S_ISREG(status.st_mode)) fail("file.not-a-file", path);
  if (status.st_size > static_cast<off_t>(largest_file)) fail_too_large(path);
  std::string content;
  std::array<char, 65536> buffer{};
  for (;;) {
    const ssize_t got = ::read(handle.fd, buffer.data(), buffer.size());
    if (got < 0) fail("file.unreadable", path);
    if (got == 0) return content;
    content.append(buffer.data(), static_cast<std::size_t>(got));
    if (content.size() > largest_file) fail_too_large(path);
  }
}

}  // namespace

const Files& files_on_disk() {
  static const FilesOnDisk disk;
  return disk;
}

const std::string& FilesInMemory::text_of(const std::string& name) const {
  const auto found = texts_.find(name);
  if (found == texts_.end()) fail(is_folder(name) ? MessageId("file.not-a-file") : "file.missing", name);
  return found->second;
}

std::string FilesInMemory::bytes(const std::string& name) const {
  const std::string& text = text_of(name);
  if (text.size() > largest_file) fail_too_large(name);
  return text;
}

std::unique_ptr<std::istream> FilesInMemory::stream(const std::string& name) const {
  return std::make_unique<std::istringstream>(text_of(name));
}

std::vector<std::string> FilesInMemory::names_in(const std::string& folder) const {
  std::vector<std::string> names;
  const std::string start = folder.empty() ? "" : folder + "/";
  for (const auto& [name, text] : texts_)
    if (name.starts_with(start) && name.find('/', start.size()) == std::string::npos) names.push_back(name);
  return names;
}

bool FilesInMemory::is_folder(const std::string& name) const {
  const auto first = texts_.lower_bound(name + "/");
  return first != texts_.end() && first->first.starts_with(name + "/");
}

SourceFile SourceFile::beside(const std::string& other) const {
  return {*files, (std::filesystem::path(name).parent_path() / other).string()};
}

std::vector<SourceFile> SourceFile::files_in(const std::string& ending) const {
  std::vector<SourceFile> found;
  for (std::string& one : files->names_in(name))
    if (std::filesystem::path(one).extension() == ending) found.emplace_back(*files, std::move(one));
  return found;
}

std::string read_text(const SourceFile& file) {
  std::string content = file.files->bytes(file.name);
  if (content.empty()) fail("file.empty", file.name);
  require_text(file.name, content);
  return content;
}

void write_text(const std::string& path, const std::string& content) {
  struct stat before {};  // a file that is replaced keeps its permissions
  const mode_t mode = ::stat(path.c_str(), &before) == 0 ? before.st_mode & 0777u : 0644u;
  std::string temporary = path + ".XXXXXX";
  const int fd = ::mkstemp(temporary.data());
  bool good = fd >= 0;
  std::size_t done = 0;
  while (good && done < content.size()) {
    const ssize_t wrote = ::write(fd, content.data() + done, content.size() - done);
    good = wrote > 0;
    done += good ? static_cast<std::size_t>(wrote) : 0;
  }
  good = good && ::fchmod(fd, mode) == 0 && ::fsync(fd) == 0;
  if (fd >= 0) good = ::close(fd) == 0 && good;
  good = good && ::rename(temporary.c_str(), path.c_str()) == 0;
  if (good) return;
  const std::string why = std::strerror(errno);
  if (fd >= 0) ::unlink(temporary.c_str());
  throw std::runtime_error("cannot write " + path + ": " + why);
}

}  // namespace seamwright::files
