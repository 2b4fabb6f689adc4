// SPDX-License-Identifier: GPL-3.0-or-later
// book: the shop's record. Passphrases come from a file or the terminal, never from the command line.
#include <termios.h>
#include <unistd.h>

#include <chrono>
#include <iostream>
#include <memory>

#include <fmt/format.h>

#include "app/cli/commands.h"
#include "catalog/book/verify.h"
#include "catalog/files/source.h"
#include "reports/render/cells.h"
#include "reports/text/text.h"

namespace seamwright::cli {

namespace {

struct Options {
  std::string file, by, id, stamp, role, kind, payload, passphrase, new_passphrase, head;
  bool json = false;
};

std::string now() {
  const auto time = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm utc{};
  ::gmtime_r(&time, &utc);
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", utc.tm_year + 1900, utc.tm_mon + 1, utc.tm_mday,
                     utc.tm_hour, utc.tm_min, utc.tm_sec);
}

// The first line of a file, or what is typed without being shown.
std::string passphrase(const std::string& file, const char* prompt) {
  std::string line;
  if (!file.empty()) {
    line = files::read_text(file);
    return line.substr(0, line.find_first_of("\r\n"));
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

void tell(const char* id, std::vector<Argument> with, const Session& session) {
  print(reports::visible(reports::sentence({id, std::move(with)}, session.language)) + "\n");
}

void tell_entry(const book::Entry& e, const Session& session) {
  tell("book.added",
       {number("seq", static_cast<double>(e.seq), ""), text("kind", e.kind),
        text("hash", e.hash.substr(0, 16))},
       session);
}

int make(const Options& o, const Session& session) {
  const book::Book b =
      book::Book::create(o.file, o.id, o.stamp, passphrase(o.passphrase, "passphrase"), now());
  tell_entry(*b.last(), session);
  return 0;
}

int admit(const Options& o, const Session& session) {
  book::Book b = book::Book::open(o.file);
  const auto key = b.unlock(o.by, passphrase(o.passphrase, "passphrase of the owner"));
  tell_entry(b.admit(o.by, *key, o.id, o.stamp, o.role,
                     passphrase(o.new_passphrase, "passphrase of the new person"), now()),
             session);
  return 0;
}

int add(const Options& o, const Session& session) {
  const book::Json payload = book::Json::parse(files::read_text(o.payload), nullptr, false);
  if (!payload.is_object()) throw Fault{Message{"book.bad-payload", {text("file", o.payload)}}};
  book::Book b = book::Book::open(o.file);
  const auto key = b.unlock(o.by, passphrase(o.passphrase, "passphrase"));
  tell_entry(b.append(o.by, *key, o.kind, payload, now()), session);
  return 0;
}

int verify(const Options& o, const Session& session) {
  const book::Verified v = book::verify(book::Book::open_read(o.file), o.head);
  if (o.json) {
    book::Json j{{"format", "seamwright.verification/1"},
                 {"entries", v.entries},
                 {"backwards", v.backwards},
                 {"head", v.head},
                 {"problems", book::Json::array()}};
    for (const book::Problem& p : v.problems) j["problems"].push_back({{"seq", p.seq}, {"what", p.what}});
    print(j.dump(1) + "\n");
  } else {
    for (const book::Problem& p : v.problems)
      tell("book.problem", {number("seq", static_cast<double>(p.seq), ""), word("what", p.what)}, session);
    tell(v.problems.empty() ? "book.holds" : "book.does-not-hold",
         {number("entries", static_cast<double>(v.entries), ""),
          number("backwards", static_cast<double>(v.backwards), ""), text("head", v.head)},
         session);
  }
  return v.problems.empty() ? 0 : 1;
}

int log(const Options& o, const Session&) {
  book::Book::open_read(o.file).each([](const book::Entry& e) {
    print(reports::visible(fmt::format("{} {} {} {} {} {}", e.seq, e.time, e.author, e.kind,
                                       e.hash.substr(0, 16),
                                       e.payload.is_discarded() ? "?" : e.payload.dump())) +
          "\n");
    return true;
  });
  return 0;
}

}  // namespace

void add_book(CLI::App& app, Session& session) {
  auto o = std::make_shared<Options>();
  CLI::App* group =
      app.add_subcommand("book", "The shop's record: entries only ever added, chained and signed");
  group->require_subcommand(1);
  const auto command = [&](const char* name, const char* what, int (*work)(const Options&, const Session&)) {
    CLI::App* c = group->add_subcommand(name, what);
    c->add_option("file", o->file, "book")->required();
    c->callback([o, work, &session] { session.run = [o, work, &session] { return work(*o, session); }; });
    return c;
  };
  const auto secret = [&](CLI::App* c) {
    c->add_option("--passphrase-file", o->passphrase, "first line of this file in place of the terminal");
    return c;
  };
  CLI::App* fresh = secret(command("new", "A new book and its owner", make));
  fresh->add_option("--owner", o->id, "id of the owner")->required();
  fresh->add_option("--stamp", o->stamp, "their stamp");
  CLI::App* person = secret(command("person", "Admit a person", admit));
  person->add_option("--by", o->by, "id of an owner")->required();
  person->add_option("--id", o->id, "id of the new person")->required();
  person->add_option("--stamp", o->stamp, "their stamp")->required();
  person->add_option("--role", o->role, "what they may sign")
      ->required()
      ->check(CLI::IsMember({"welder", "engineer", "inspector", "auditor", "owner"}));
  person->add_option("--new-passphrase-file", o->new_passphrase, "theirs, in place of the terminal");
  CLI::App* entry = secret(command("add", "Add a signed entry", add));
  entry->add_option("--by", o->by, "id of its author")->required();
  entry->add_option("--kind", o->kind, "weld, lot, frame, inspection, ...")->required();
  entry->add_option("--payload", o->payload, "JSON object in a file")->required();
  CLI::App* check = command("verify", "Whether everything in it still holds", verify);
  check->add_option("--head", o->head, "a head that was printed before");
  check->add_flag("--json", o->json, "one JSON document on stdout");
  command("log", "Its entries, one to a line", log);
}

}  // namespace seamwright::cli
