// SPDX-License-Identifier: GPL-3.0-or-later
// A connection to a PostgreSQL server, every failure a Fault. What only changes something waits until something is asked or kept, and goes
// with it: one round trip for all.
#pragma once

#include <libpq-fe.h>

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace seamwright::book {

/// A bound value: text as it is, a number in figures, or bytes.
struct Bound {
  Bound(std::string words) : value(std::move(words)) {}
  Bound(const char* words) : value(words) {}
  Bound(std::int64_t figures) : value(std::to_string(figures)) {}
  static Bound bytes(std::string of) {
    Bound b(std::move(of));
    b.binary = true;
    return b;
  }
  std::string value;
  bool binary = false;
};

/// An array of texts as the server reads it.
std::string array_of(const std::vector<std::string>& texts);
std::string array_of(std::span<const std::int64_t> numbers);

/// The rows that answer a question; in binary, as the server keeps them.
class Rows {
 public:
  Rows() = default;
  explicit Rows(PGresult* result) : result_(result) {}
  int count() const { return result_ ? PQntuples(result_.get()) : 0; }
  std::string text(int row, int column) const;
  std::int64_t number(int row, int column) const;

 private:
  struct Clear {
    void operator()(PGresult* r) const { PQclear(r); }
  };
  std::unique_ptr<PGresult, Clear> result_;
};

class Connection {
 public:
  /// service: a section of the connection service file. Throws Fault "book.bad-service", "book.no-server".
  Connection(const std::string& service, bool read_only);
  /// Sends this with the next question. Throws what earlier ones that went out with it met.
  void later(std::string sql, std::vector<Bound> with = {});
  /// One round trip. Throws Fault "book.busy", "book.collided", "book.read-only", "book.full", "book.connection-lost", "book.sql".
  Rows ask(std::string sql, std::vector<Bound> with = {});
  /// A script of several statements without values.
  void run(const std::string& script);
  bool in_transaction() const { return open_; }
  void set_in_transaction(bool open) { open_ = open; }
  /// Forgets what waits.
  void forget() { waiting_.clear(); }
  std::int64_t trips() const { return trips_; }

 private:
  struct Waiting {
    std::string sql;
    std::vector<Bound> with;
  };
  Rows flush();
  struct Finish {
    void operator()(PGconn* c) const { PQfinish(c); }
  };
  std::unique_ptr<PGconn, Finish> connection_;
  std::vector<Waiting> waiting_;
  std::size_t waiting_bytes_ = 0;
  bool open_ = false;
  std::int64_t trips_ = 0;
};

}  // namespace seamwright::book
