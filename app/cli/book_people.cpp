// SPDX-License-Identifier: GPL-3.0-or-later
// book new, person, role, revoke, key, passphrase, erase, unlock, lock.
#include "app/cli/book_commands.h"
#include "catalog/book/records/names.h"
#include "catalog/book/station.h"
#include "catalog/files/source.h"

namespace seamwright::cli {

namespace {

int make(const BookOptions& o, const Session& session) {
  const book::Book b = book::Book::create(o.file, o.id, o.stamp,
                                          passphrase(o.passphrase, o.passphrase_fd, "passphrase"), now_utc());
  tell_entry(*b.last_entry(), session);
  return 0;
}

book::Json details_of(const std::string& file) {
  if (file.empty()) return {};
  book::Json details = book::read_json(files::read_text(file));
  if (!details.is_object()) throw Fault{Message{"book.bad-payload", {text("file", file)}}};
  return details;
}

int admit_person(const BookOptions& o, const Session& session) {
  const book::Json details = details_of(o.details);
  book::Book b = book::Book::open(o.file);
  const SignsAs as = signer_of(b, o);
  tell_entry(
      b.admit_person(as.person, *as.key, o.id, o.stamp, o.role,
                     passphrase(o.new_passphrase, -1, "passphrase of the new person"), now_utc(), details),
      session);
  return 0;
}

int change_role(const BookOptions& o, const Session& session) {
  book::Book b = book::Book::open(o.file);
  const SignsAs as = signer_of(b, o);
  tell_entry(b.append(as.person, *as.key, book::kind::role,
                      {{book::field::id, o.id}, {book::field::role, o.role}}, now_utc()),
             session);
  return 0;
}

int revoke(const BookOptions& o, const Session& session) {
  book::Book b = book::Book::open(o.file);
  const SignsAs as = signer_of(b, o);
  book::Json payload{{book::field::id, o.id}};
  if (!o.reason.empty()) payload[book::field::reason] = o.reason;
  tell_entry(b.append(as.person, *as.key, "revoke", payload, now_utc()), session);
  return 0;
}

int renew(const BookOptions& o, const Session& session) {
  book::Book b = book::Book::open(o.file);
  const SignsAs as = signer_of(b, o);
  tell_entry(b.renew_key(as.person, *as.key, o.id, passphrase(o.new_passphrase, -1, "their new passphrase"),
                         now_utc()),
             session);
  return 0;
}

int change_passphrase(const BookOptions& o, const Session& session) {
  book::Book b = book::Book::open(o.file);
  const auto key = b.unlock(o.id, passphrase(o.passphrase, o.passphrase_fd, "passphrase"));
  b.change_passphrase(o.id, *key, passphrase(o.new_passphrase, -1, "new passphrase"));
  print_message("book.passphrase-changed", {text("person", o.id)}, session);
  return 0;
}

int erase(const BookOptions& o, const Session& session) {
  book::Book b = book::Book::open(o.file);
  const SignsAs as = signer_of(b, o);
  tell_entry(b.erase(as.person, *as.key, o.id, now_utc()), session);
  return 0;
}

int unlock(const BookOptions& o, const Session& session) {
  std::string book_id, sealed;
  {
    const book::Book b = book::Book::open_read(o.file);  // closed again before the holder starts
    book_id = b.id();
    sealed = b.sealed_key(o.id);
  }
  book::unlock_station(book_id, o.id, sealed, passphrase(o.passphrase, o.passphrase_fd, "passphrase"),
                       o.minutes * 60);
  print_message("book.unlocked", {text("person", o.id), number("minutes", o.minutes, "")}, session);
  return 0;
}

int lock(const BookOptions& o, const Session& session) {
  const bool was = book::lock_station(book::Book::open_read(o.file).id());
  print_message(was ? MessageId("book.locked-now") : "book.nobody", {}, session);
  return was ? 0 : 1;
}

}  // namespace

void add_book_people(CLI::App* group, const std::shared_ptr<BookOptions>& o, Session& session) {
  const CLI::IsMember roles({"welder", "engineer", "inspector", "auditor", "owner"});
  const auto command = [&](const char* name, const char* what, BookWork work) {
    return book_command(group, name, what, work, o, session);
  };
  const auto secret = [&](CLI::App* c) {
    c->add_option("--secret-file", o->passphrase, "file with the passphrase in its first line, in place of the terminal");
    c->add_option("--secret-pipe", o->passphrase_fd, "passphrase from a line of this file descriptor")
        ->check(CLI::Range(0, 1000));
    return c;
  };
  CLI::App* fresh = secret(command("new", "Create a record book and its owner", make));
  fresh->add_option("--owner", o->id, "id of the owner")->required();
  fresh->add_option("--stamp", o->stamp, "stamp of the person");
  CLI::App* person = add_signer(command("person", "Admit a person", admit_person), o);
  person->add_option("--id", o->id, "id of the new person")->required();
  person->add_option("--stamp", o->stamp, "stamp of the person")->required();
  person->add_option("--role", o->role, "role, which determines what the person may sign")->required()->check(roles);
  person->add_option("--new-secret-file", o->new_passphrase, "file with the person's passphrase, in place of the terminal");
  person->add_option("--details", o->details,
                     "name and other personal details, a JSON object in a file; can be erased later");
  CLI::App* role = add_signer(command("role", "Give a person another role", change_role), o);
  role->add_option("--id", o->id, "id of the person")->required();
  role->add_option("--role", o->role, "new role, which determines what the person may sign from now on")->required()->check(roles);
  CLI::App* out = add_signer(command("revoke", "Revoke a person's right to sign, from now on", revoke), o);
  out->add_option("--id", o->id, "id of the person")->required();
  out->add_option("--reason", o->reason, "reason");
  CLI::App* key = add_signer(command("key", "New keys for a person whose passphrase is lost", renew), o);
  key->add_option("--id", o->id, "id of the person")->required();
  key->add_option("--new-secret-file", o->new_passphrase, "file with the person's passphrase, in place of the terminal");
  CLI::App* change = secret(command("passphrase", "Change your passphrase", change_passphrase));
  change->add_option("--id", o->id, "your id")->required();
  change->add_option("--new-secret-file", o->new_passphrase, "file with the new passphrase, in place of the terminal");
  CLI::App* forget = add_signer(command("erase", "Erase a person's personal details from the file", erase), o);
  forget->add_option("--id", o->id, "id of the person")->required();
  CLI::App* open = secret(command("unlock", "Allow signing without passphrase until locked or idle", unlock));
  open->add_option("--by", o->id, "your id")->required();
  open->add_option("--minutes", o->minutes, "minutes without use until the station locks")->check(CLI::Range(1, 720));
  command("lock", "Lock the person who is unlocked", lock);
}

}  // namespace seamwright::cli
