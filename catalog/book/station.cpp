// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/station.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <filesystem>
#include <optional>

#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

class Handle {
 public:
  explicit Handle(int fd) : fd_(fd) {}
  ~Handle() {
    if (fd_ >= 0) ::close(fd_);
  }
  Handle(const Handle&) = delete;
  Handle& operator=(const Handle&) = delete;
  int descriptor() const { return fd_; }
  bool open() const { return fd_ >= 0; }

 private:
  int fd_;
};

// A folder of this user's alone; empty where there is none to be had.
std::string folder() {
  const char* runtime = std::getenv("XDG_RUNTIME_DIR");
  const std::string path = runtime && runtime[0] == '/' ? std::string(runtime) + "/seamwright"
                                                        : "/tmp/seamwright-" + std::to_string(::getuid());
  ::mkdir(path.c_str(), 0700);
  struct stat s {};
  const bool ours = ::lstat(path.c_str(), &s) == 0 && S_ISDIR(s.st_mode) && s.st_uid == ::getuid() &&
                    (s.st_mode & 077) == 0;
  return ours ? path : std::string();
}

std::optional<sockaddr_un> address_of(const std::string& book_id) {
  const std::string path = folder();
  if (path.empty() || book_id.find_first_not_of("0123456789abcdef") != std::string::npos) return std::nullopt;
  const std::string whole = path + "/" + book_id;
  sockaddr_un a{};
  a.sun_family = AF_UNIX;
  if (whole.size() >= sizeof a.sun_path) return std::nullopt;
  std::memcpy(a.sun_path, whole.c_str(), whole.size() + 1);
  return a;
}

bool same_user(int fd) {
  ucred who{};
  socklen_t size = sizeof who;
  return ::getsockopt(fd, SOL_SOCKET, SO_PEERCRED, &who, &size) == 0 && who.uid == ::getuid();
}

// One short line; empty when none comes within two seconds.
std::string read_line(int fd) {
  std::string line;
  char c = 0;
  pollfd waiting{fd, POLLIN, 0};
  while (line.size() < 1000 && ::poll(&waiting, 1, 2000) == 1 && ::read(fd, &c, 1) == 1) {
    if (c == '\n') return line;
    line.push_back(c);
  }
  return {};
}

void write_line(int fd, const std::string& line) {
  const std::string whole = line + "\n";
  (void)!::send(fd, whole.data(), whole.size(), MSG_NOSIGNAL);
}

std::string ask_station(const sockaddr_un& address, const std::string& request) {
  const Handle fd(::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0));
  if (!fd.open() ||
      ::connect(fd.descriptor(), reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0 ||
      !same_user(fd.descriptor()))
    return {};
  write_line(fd.descriptor(), request);
  return read_line(fd.descriptor());
}

bool is_hash(const std::string& text) {
  return text.size() == 64 && text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

// Seconds that also pass while the machine sleeps.
double since_boot_s() {
  timespec now{};
  ::clock_gettime(CLOCK_BOOTTIME, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

// Answers until told to lock, or until nobody asked for a while. Signs hashes and nothing else.
void serve(const Handle& listening, const OpenKey& key, const std::string& person, int idle_s) {
  pollfd waiting{listening.descriptor(), POLLIN, 0};
  for (double used = since_boot_s(); ::poll(&waiting, 1, idle_s * 1000) == 1; used = since_boot_s()) {
    if (since_boot_s() - used > idle_s) return;
    const Handle client(::accept4(listening.descriptor(), nullptr, nullptr, SOCK_CLOEXEC));
    if (!client.open() || !same_user(client.descriptor())) continue;
    const std::string request = read_line(client.descriptor());
    if (request == "who")
      write_line(client.descriptor(), key.public_hex() + " " + person);
    else if (request.starts_with("sign ") && is_hash(request.substr(5)))
      write_line(client.descriptor(), key.sign(request.substr(5)));
    else if (request == "lock")
      return write_line(client.descriptor(), "locked");
  }
}

// Runs in the child and never gives back.
[[noreturn]] void hold_key(int answer_to, const sockaddr_un& address, const std::string& person,
                           const std::string& sealed_hex, const std::string& passphrase, int idle_s) {
  const auto answer = [&](const char* id) { (void)!::write(answer_to, id, std::strlen(id)); };
  try {
    ::setsid();
    const Handle listening(::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0));
    const OpenKey key(sealed_hex, passphrase);
    ::unlink(address.sun_path);
    ::umask(0177);
    if (!listening.open() ||
        ::bind(listening.descriptor(), reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0 ||
        ::listen(listening.descriptor(), 8) != 0) {
      answer("book.no-station");
      ::_exit(1);
    }
    const int null = ::open("/dev/null", O_RDWR);
    for (const int fd : {0, 1, 2}) ::dup2(null, fd);
    answer("ok");
    ::close(answer_to);
    serve(listening, key, person, idle_s);
    ::unlink(address.sun_path);
  } catch (const Fault& f) {
    answer(f.what());
  } catch (...) {
    answer("book.no-station");
  }
  ::_exit(0);
}

}  // namespace

std::string Station::sign(const std::string& message) const {
  sockaddr_un a{};
  a.sun_family = AF_UNIX;
  std::memcpy(a.sun_path, path_.c_str(), path_.size() + 1);
  std::string signature = ask_station(a, "sign " + message);
  if (signature.size() != 128) throw Fault{Message{"book.locked", {}}};
  return signature;
}

std::unique_ptr<Station> station_of(const std::string& book_id) {
  const auto address = address_of(book_id);
  if (!address) return nullptr;
  const std::string who = ask_station(*address, "who");
  if (who.size() < 66 || who[64] != ' ') return nullptr;
  auto s = std::make_unique<Station>();
  s->path_ = address->sun_path;
  s->public_hex_ = who.substr(0, 64);
  s->person_ = who.substr(65);
  return s;
}

void unlock_station(const std::string& book_id, const std::string& person, const std::string& sealed_hex,
                    const std::string& passphrase, int idle_s) {
  const auto address = address_of(book_id);
  std::array<int, 2> pipe{};
  if (!address || person.find('\n') != std::string::npos || ::pipe2(pipe.data(), O_CLOEXEC) != 0)
    throw Fault{Message{"book.no-station", {}}};
  const Handle read_end(pipe[0]);
  std::string said;
  {
    const Handle write_end(pipe[1]);
    const pid_t child = ::fork();
    if (child < 0) throw Fault{Message{"book.no-station", {}}};
    if (child == 0) {
      if (::fork() == 0) {  // the holder belongs to nobody here, so that nobody must wait for it
        ask_station(*address, "lock");
        hold_key(pipe[1], *address, person, sealed_hex, passphrase, idle_s);
      }
      ::_exit(0);
    }
    ::waitpid(child, nullptr, 0);
  }
  std::array<char, 64> buffer{};
  for (ssize_t n = 0; (n = ::read(read_end.descriptor(), buffer.data(), buffer.size())) > 0;)
    said.append(buffer.data(), static_cast<std::size_t>(n));
  if (said == "ok") return;
  throw Fault{Message{find_message_id(said).value_or(MessageId("book.no-station")), {}}};
}

bool lock_station(const std::string& book_id) {
  const auto address = address_of(book_id);
  return address && ask_station(*address, "lock") == "locked";
}

}  // namespace seamwright::book
