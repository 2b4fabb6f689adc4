// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/catalog/book/server.h"

#include <fcntl.h>
#include <libpq-fe.h>
#include <pwd.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <memory>
#include <stdexcept>
#include <vector>

#include "catalog/book/store/stores.h"

namespace seamwright::book {

namespace {

namespace fs = std::filesystem;

std::string programs_of_server() {
  std::string newest;
  std::error_code none;
  for (const auto& version : fs::directory_iterator("/usr/lib/postgresql", none))
    if (fs::exists(version.path() / "bin/initdb")) newest = std::max(newest, (version.path() / "bin").string());
  return newest;
}

// A server refuses to run for root: it is run for its own user.
pid_t run_as_server(std::vector<std::string> command) {
  if (::geteuid() == 0) {
    const std::vector<std::string> as{"setpriv", "--reuid=postgres", "--regid=postgres", "--clear-groups", "--pdeathsig", "QUIT"};
    command.insert(command.begin(), as.begin(), as.end());
  }
  const pid_t child = ::fork();
  if (child != 0) return child;
  const int nowhere = ::open("/dev/null", O_RDWR);
  for (const int fd : {0, 1, 2}) ::dup2(nowhere, fd);
  std::vector<char*> words;
  for (std::string& word : command) words.push_back(word.data());
  words.push_back(nullptr);
  ::execvp(words[0], words.data());
  ::_exit(127);
}

struct Asked {
  std::string refused, value;
};

Asked asked(const std::string& service, const std::string& options, const std::string& script) {
  const char* const keys[] = {"service", "options", nullptr};
  const char* const values[] = {service.c_str(), options.c_str(), nullptr};
  const std::unique_ptr<PGconn, decltype(&PQfinish)> c(PQconnectdbParams(keys, values, 0), &PQfinish);
  if (PQstatus(c.get()) != CONNECTION_OK) return {"08001", PQerrorMessage(c.get())};
  PQsetNoticeProcessor(c.get(), [](void*, const char*) {}, nullptr);
  const std::unique_ptr<PGresult, decltype(&PQclear)> r(PQexec(c.get(), script.c_str()), &PQclear);
  const char* code = PQresultErrorField(r.get(), PG_DIAG_SQLSTATE);
  if (code) return {code, PQerrorMessage(c.get())};
  return {"", PQntuples(r.get()) > 0 ? PQgetvalue(r.get(), 0, 0) : ""};
}

}  // namespace

Server* Server::running() {
  static const std::unique_ptr<Server> server = [] {
    if (!programs_of_server().empty() && (::geteuid() != 0 || ::getpwnam("postgres"))) return std::unique_ptr<Server>(new Server);
    std::cerr << "NOT TESTED: a book on a server; this machine has no PostgreSQL (package postgresql)\n";
    return std::unique_ptr<Server>();
  }();
  return server.get();
}

Server::Server() : programs_(programs_of_server()) {
  char name[] = "/tmp/sw-server-XXXXXX";
  folder_ = ::mkdtemp(name);
  if (::geteuid() == 0) {
    const passwd* who = ::getpwnam("postgres");
    if (::chown(folder_.c_str(), who->pw_uid, who->pw_gid) != 0) throw std::runtime_error("chown");
  }
  int status = 0;
  ::waitpid(run_as_server({programs_ + "/initdb", "-N", "-U", "postgres", "-A", "trust", "-E", "UTF8", "--locale=C", "-D", folder_ + "/data"}), &status, 0);
  if (status != 0) throw std::runtime_error("initdb");
  std::ofstream services(folder_ + "/services");
  for (const char* login : {"postgres", "keeper", "welder", "engineer", "reader"})
    services << "[" << login << "]\nhost=" << folder_ << "\ndbname=postgres\nuser=" << login << "\n";
  services.close();
  ::setenv("PGSERVICEFILE", (folder_ + "/services").c_str(), 1);
  start();
  sql("CREATE ROLE keeper LOGIN; GRANT CREATE ON DATABASE postgres TO keeper");
}

Server::~Server() {
  if (process_ > 0) {
    ::kill(process_, SIGQUIT);
    ::waitpid(process_, nullptr, 0);
  }
  std::error_code ignored;
  fs::remove_all(folder_, ignored);
}

void Server::start() {
  for (int tries = 0; tries < 400; ++tries) {
    if (process_ <= 0 || ::waitpid(process_, nullptr, WNOHANG) == process_)  // one that was killed leaves its memory for a moment
      process_ = run_as_server({programs_ + "/postgres", "-D", folder_ + "/data", "-k", folder_, "-c", "listen_addresses="});
    ::usleep(50000);
    if (asked("postgres", "", "SELECT 1").value == "1") return;
  }
  throw std::runtime_error("the server does not start");
}

void Server::kill() {
  ::kill(process_, SIGKILL);
  ::waitpid(process_, nullptr, 0);
  process_ = -1;
}

void Server::make_empty() {
  sql("DROP SCHEMA IF EXISTS seamwright CASCADE");
  open_store(where(), Access::create);
}

std::string Server::sql(const std::string& script) {
  const Asked a = asked("postgres", "-c session_replication_role=replica -c search_path=seamwright,public", script);
  if (!a.refused.empty()) throw std::runtime_error(a.refused + " " + a.value);
  return a.value;
}

std::string Server::refusal_of(const std::string& login, const std::string& script) {
  return asked(login, "-c search_path=seamwright", script).refused;
}

}  // namespace seamwright::book
