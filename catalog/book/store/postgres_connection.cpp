// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/store/postgres_connection.h"

#include <algorithm>
#include <cstring>
#include <utility>

#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

// Statements, and bytes of their values, that go out together at most: their answers must fit the buffers between here and the server.
constexpr std::size_t most_waiting = 200, most_waiting_bytes = 8u << 20;

std::string first_line(const char* told) {
  std::string line(told ? told : "");
  line = line.substr(0, line.find('\n'));
  return line.substr(0, 300);
}

[[noreturn]] void fail_with(const char* state, const char* told) {
  const std::string code(state ? state : "");
  const auto because = [&](MessageId id, Category whose) { return Fault{Message{id, {text("why", first_line(told))}}, whose}; };
  if (code.empty() || code.starts_with("08") || code == "57P01" || code == "57P02" || code == "57P03")
    throw because("book.connection-lost", Category::machine);
  if (code == "55P03" || code == "57014" || code == "25P03") throw because("book.busy", Category::locked);
  if (code.starts_with("40")) throw because("book.collided", Category::locked);
  if (code == "42501" || code == "25006") throw because("book.read-only", Category::machine);
  if (code == "53100") throw because("book.full", Category::machine);
  throw because("book.sql", Category::machine);
}

bool is_service_name(const std::string& name) {
  return !name.empty() && name.size() <= 100 && std::all_of(name.begin(), name.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_' || c == '.';
  });
}

void say_nothing(void*, const char*) {}

}  // namespace

std::string array_of(const std::vector<std::string>& texts) {
  std::string out = "{";
  for (const std::string& one : texts) {
    out.append(out.size() > 1 ? ",\"" : "\"");
    for (const char c : one) {
      if (c == '"' || c == '\\') out.push_back('\\');
      out.push_back(c);
    }
    out.push_back('"');
  }
  return out + "}";
}

std::string array_of(std::span<const std::int64_t> numbers) {
  std::string out = "{";
  for (const std::int64_t n : numbers) out.append(out.size() > 1 ? "," : "").append(std::to_string(n));
  return out + "}";
}

std::string Rows::text(int row, int column) const {
  return {PQgetvalue(result_.get(), row, column), static_cast<std::size_t>(PQgetlength(result_.get(), row, column))};
}

std::int64_t Rows::number(int row, int column) const {
  const auto* bytes = reinterpret_cast<const unsigned char*>(PQgetvalue(result_.get(), row, column));
  std::uint64_t n = 0;
  for (int i = 0; i < PQgetlength(result_.get(), row, column); ++i) n = n << 8 | bytes[i];
  return static_cast<std::int64_t>(n);
}

Connection::Connection(const std::string& service, bool read_only) {
  if (!is_service_name(service)) throw Fault{Message{"book.bad-service", {text("found", service.substr(0, 100))}}};
  // The book's own tables before anybody's temporary ones; a station that sleeps in the middle of an entry gives its turn away.
  const std::string options = std::string(
                                  "-c search_path=seamwright,pg_temp -c lock_timeout=10s -c synchronous_commit=on "
                                  "-c idle_in_transaction_session_timeout=60s -c default_transaction_read_only=") +
                              (read_only ? "on" : "off");
  const char* const keys[] = {"service", "client_encoding", "fallback_application_name", "connect_timeout", "tcp_user_timeout", "options", nullptr};
  const char* const values[] = {service.c_str(), "UTF8", "seamwright", "10", "30000", options.c_str(), nullptr};
  connection_.reset(PQconnectdbParams(keys, values, 0));
  if (!connection_ || PQstatus(connection_.get()) != CONNECTION_OK)
    throw Fault{Message{"book.no-server", {text("found", service), text("why", first_line(connection_ ? PQerrorMessage(connection_.get()) : ""))}},
                Category::machine};
  PQsetNoticeProcessor(connection_.get(), say_nothing, nullptr);
}

void Connection::later(std::string sql, std::vector<Bound> with) {
  for (const Bound& b : with) waiting_bytes_ += b.value.size();
  waiting_.push_back({std::move(sql), std::move(with)});
  if (waiting_.size() >= most_waiting || waiting_bytes_ >= most_waiting_bytes) flush();
}

Rows Connection::ask(std::string sql, std::vector<Bound> with) {
  waiting_.push_back({std::move(sql), std::move(with)});
  return flush();
}

// All that waits in one go; gives the rows of the last.
Rows Connection::flush() {
  const std::vector<Waiting> all = std::exchange(waiting_, {});
  waiting_bytes_ = 0;
  ++trips_;
  PGconn* const c = connection_.get();
  if (PQenterPipelineMode(c) != 1) fail_with("", PQerrorMessage(c));
  for (const Waiting& w : all) {
    std::vector<const char*> values;
    std::vector<int> lengths, formats;
    for (const Bound& b : w.with) {
      // Text goes with its length as well, so that a NUL is refused by the server and never cuts a value short.
      values.push_back(b.value.data());
      lengths.push_back(static_cast<int>(b.value.size()));
      formats.push_back(b.binary || std::memchr(b.value.data(), 0, b.value.size()) ? 1 : 0);
    }
    if (PQsendQueryParams(c, w.sql.c_str(), static_cast<int>(values.size()), nullptr, values.data(), lengths.data(), formats.data(), 1) != 1)
      fail_with("", PQerrorMessage(c));
  }
  if (PQpipelineSync(c) != 1) fail_with("", PQerrorMessage(c));
  Rows last;
  std::string state, told;
  bool failed = false, lost = false;
  for (std::size_t i = 0; i < all.size() && !lost; ++i) {
    while (PGresult* r = PQgetResult(c)) {
      const ExecStatusType status = PQresultStatus(r);
      if (status == PGRES_FATAL_ERROR && !failed) {
        const char* code = PQresultErrorField(r, PG_DIAG_SQLSTATE);
        const char* words = PQresultErrorField(r, PG_DIAG_MESSAGE_PRIMARY);
        failed = true;
        state = code ? code : "";
        told = words ? words : PQerrorMessage(c);
      }
      if (status == PGRES_TUPLES_OK && i + 1 == all.size())
        last = Rows(r);
      else
        PQclear(r);
      if ((lost = PQstatus(c) != CONNECTION_OK)) break;
    }
  }
  if (!lost) PQclear(PQgetResult(c));  // of the sync
  if (lost || PQexitPipelineMode(c) != 1) fail_with(failed && !lost ? state.c_str() : "", failed ? told.c_str() : PQerrorMessage(c));
  if (failed) fail_with(state.c_str(), told.c_str());
  return last;
}

void Connection::run(const std::string& script) {
  ++trips_;
  const std::unique_ptr<PGresult, decltype(&PQclear)> r(PQexec(connection_.get(), script.c_str()), &PQclear);
  const ExecStatusType status = PQresultStatus(r.get());
  if (status != PGRES_COMMAND_OK && status != PGRES_TUPLES_OK)
    fail_with(r ? PQresultErrorField(r.get(), PG_DIAG_SQLSTATE) : "", PQerrorMessage(connection_.get()));
}

}  // namespace seamwright::book
