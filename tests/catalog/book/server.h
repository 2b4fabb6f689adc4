// SPDX-License-Identifier: GPL-3.0-or-later
// A PostgreSQL server of the suite's own: without a network, in a folder that goes again, for this program alone.
#pragma once

#include <sys/types.h>

#include <string>

namespace seamwright::book {

class Server {
 public:
  /// The one of this program, started when it is first asked for; null, and said so, where this machine has none.
  static Server* running();
  /// A book on it as one of its accounts opens it; "keeper" owns the tables.
  static std::string where(const std::string& login = "keeper") { return "postgres:" + login; }
  /// No book is there, and the tables are as the program makes them.
  void make_empty();
  /// Runs a script as somebody who may do all, past every trigger. Gives the first value.
  std::string sql(const std::string& script);
  /// Runs a script as an account; gives the state (SQLSTATE) with which it was refused, "" when it was done.
  std::string refusal_of(const std::string& login, const std::string& script);
  void kill();
  void start();
  ~Server();

 private:
  Server();
  std::string folder_, programs_;
  pid_t process_ = -1;
};

}  // namespace seamwright::book
