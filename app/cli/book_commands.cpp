// SPDX-License-Identifier: GPL-3.0-or-later
// book: the shop's record. Passphrases come from the terminal, a file or a descriptor, never from the command
// line.
#include "app/cli/book_commands.h"

#include <termios.h>
#include <unistd.h>

#include <chrono>
#include <iostream>

#include <fmt/format.h>

#include "catalog/book/station.h"
#include "catalog/files/source.h"
#include "reports/render/cells.h"
#include "reports/text/text.h"

namespace seamwright::cli {

std::string now_utc() {
  const auto time = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm utc{};
  ::gmtime_r(&time, &utc);
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", utc.tm_year + 1900, utc.tm_mon + 1, utc.tm_mday,
                     utc.tm_hour, utc.tm_min, utc.tm_sec);
}

std::string today_utc() { return now_utc().substr(0, 10); }

std::string passphrase(const std::string& file, int fd, const char* prompt) {
  std::string line;
  if (!file.empty()) {
    line = files::read_text(file);
    return line.substr(0, line.find_first_of("\r\n"));
  }
  if (fd >= 0) {
    for (char c = 0; line.size() < 10000 && ::read(fd, &c, 1) == 1 && c != '\n';) line.push_back(c);
    return line;
  }
  if (::isatty(STDIN_FILENO) != 1) throw Fault{Message{"book.no-passphrase", {}}};
  termios shown{};
  ::tcgetattr(STDIN_FILENO, &shown);
  termios hidden = shown;
  hidden.c_lflag &= ~static_cast<tcflag_t>(ECHO);
  std::cerr << prompt << ": " << std::flush;
  ::tcsetattr(STDIN_FILENO, TCSANOW, &hidden);
  std::getline(std::cin, line);
  ::tcsetattr(STDIN_FILENO, TCSANOW, &shown);
  std::cerr << "\n";
  return line;
}

SignsAs signer_of(const book::Book& book, const BookOptions& o) {
  if (o.passphrase.empty() && o.passphrase_fd < 0)
    if (auto station = book::station_of(book.id()); station && (o.by.empty() || o.by == station->person())) {
      std::string person = station->person();
      return {std::move(person), std::move(station)};
    }
  if (o.by.empty()) throw Fault{Message{"book.nobody", {}}};
  return {o.by, book.unlock(o.by, passphrase(o.passphrase, o.passphrase_fd, "passphrase"))};
}

void print_message(MessageId id, std::vector<Argument> with, const Session& session) {
  print(reports::visible(reports::sentence({id, std::move(with)}, session.language)) + "\n");
}

void tell_entry(const book::Entry& e, const Session& session) {
  print_message("book.added",
                {number("seq", static_cast<double>(e.seq), ""), text("kind", e.kind),
                 text("hash", e.hash.substr(0, 16))},
                session);
}

CLI::App* add_signer(CLI::App* command, const std::shared_ptr<BookOptions>& o) {
  command->add_option("--by", o->by, "id of the signing person; otherwise the person who is unlocked");
  command->add_option("--secret-file", o->passphrase, "file with the passphrase in its first line, in place of the terminal");
  command->add_option("--secret-pipe", o->passphrase_fd, "passphrase from a line of this file descriptor")
      ->check(CLI::Range(0, 1000));
  return command;
}

CLI::App* book_command(CLI::App* group, const char* name, const char* what, BookWork work,
                       const std::shared_ptr<BookOptions>& o, Session& session, bool file) {
  CLI::App* c = group->add_subcommand(name, what);
  if (file)
    c->add_option("file", o->file, "record book")->required();
  else
    c->add_option("--book", o->file, "record book; otherwise the one named by SEAMWRIGHT_BOOK")
        ->envname("SEAMWRIGHT_BOOK")
        ->required();
  c->callback([o, work, &session] { session.run = [o, work, &session] { return work(*o, session); }; });
  return c;
}

void add_book(CLI::App& app, Session& session) {
  auto o = std::make_shared<BookOptions>();
  CLI::App* group =
      app.add_subcommand("book", "The shop's record book: entries that are only ever added, chained and signed");
  group->require_subcommand(1);
  add_book_people(group, o, session);
  add_book_records(group, o, session);
  add_book_copies(group, o, session);
}

}  // namespace seamwright::cli
