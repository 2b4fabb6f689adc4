// SPDX-License-Identifier: GPL-3.0-or-later
// The commands of the record book share these.
#pragma once

#include <memory>
#include <string>

#include "app/cli/commands.h"
#include "catalog/book/book.h"

namespace seamwright::cli {

struct BookOptions {
  std::string file, by, id, stamp, role, kind, payload, passphrase, new_passphrase, details, head, against,
      attach, out, pdf, seen;
  std::string serial, reason, gap, name, value, reports_to;
  int passphrase_fd = -1, minutes = 60;
  bool json = false, full = false, later = false;
};

/// Frames are recalled by these marks.
inline constexpr const char* carried_marks[] = {"heat",    "lot",  "filler",    "gas",   "welder",
                                                "machine", "tool", "procedure", "design",
                                                "production-test"};

std::string now_utc();
std::string today_utc();
/// Reads a file's first line, a descriptor, or what is typed without being shown.
std::string passphrase(const std::string& file, int fd, const char* prompt);
/// The one who signs: the station that was unlocked, or the person named with their passphrase.
struct SignsAs {
  std::string person;
  std::unique_ptr<book::Signer> key;
};
SignsAs signer_of(const book::Book& book, const BookOptions& o);

void print_message(MessageId id, std::vector<Argument> with, const Session& session);
void tell_entry(const book::Entry& e, const Session& session);
/// --secret-file, --secret-pipe and --by.
CLI::App* add_signer(CLI::App* command, const std::shared_ptr<BookOptions>& o);

using BookWork = int (*)(const BookOptions&, const Session&);
/// A command on a book: its file as first argument, or as --book or SEAMWRIGHT_BOOK where `file` is false.
CLI::App* book_command(CLI::App* group, const char* name, const char* what, BookWork work,
                       const std::shared_ptr<BookOptions>& o, Session& session, bool file = true);

void add_book_people(CLI::App* group, const std::shared_ptr<BookOptions>& o, Session& session);
void add_book_records(CLI::App* group, const std::shared_ptr<BookOptions>& o, Session& session);
void add_book_copies(CLI::App* group, const std::shared_ptr<BookOptions>& o, Session& session);

}  // namespace seamwright::cli
