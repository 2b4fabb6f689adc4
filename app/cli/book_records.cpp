// SPDX-License-Identifier: GPL-3.0-or-later
// book add, import, sign, drafts, correct, void, rate, log, head, release.
#include <fmt/format.h>

#include "app/cli/book_commands.h"
#include "app/cli/joint_models.h"
#include "catalog/book/bulk.h"
#include "catalog/book/gaps.h"
#include "catalog/book/production.h"
#include "catalog/book/records/rating_record.h"
#include "catalog/book/records/weld_record.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "engine/rating/rate.h"
#include "reports/content/record_lines.h"
#include "reports/render/cells.h"

namespace seamwright::cli {

namespace {

book::Json payload_of(const BookOptions& o) {
  book::Json payload = book::read_json(files::read_text(o.payload));
  if (!payload.is_object()) throw Fault{Message{"book.bad-payload", {text("file", o.payload)}}};
  return payload;
}

int add_all(const BookOptions& o, const std::vector<book::NewEntry>& all, const Session& session) {
  book::Book b = book::Book::open(o.file);
  if (o.later) {
    if (o.by.empty()) throw Fault{Message{"book.nobody", {}}};
    for (const book::NewEntry& n : all) b.keep_draft(o.by, n, now_utc());
    print_message("book.kept", {number("count", static_cast<double>(all.size()), ""), text("person", o.by)},
                  session);
    return 0;
  }
  const SignsAs as = signer_of(b, o);
  const auto added = b.append_all(as.person, *as.key, all, now_utc());
  if (!added.empty()) tell_entry(added.back(), session);
  print_message("book.added-all", {number("count", static_cast<double>(added.size()), "")}, session);
  return 0;
}

int add(const BookOptions& o, const Session& session) {
  std::optional<book::Attachment> attached;
  if (!o.attach.empty()) attached = book::read_attachment(o.attach);
  return add_all(o, {book::record_from(book::kind_named(o.kind), payload_of(o), std::move(attached))},
                 session);
}

int import(const BookOptions& o, const Session& session) {
  return add_all(o, book::read_records(o.payload, o.kind), session);
}

std::vector<book::Draft> show_drafts(const book::Book& b, const std::string& person, const Session& session) {
  auto all = b.drafts(person);
  for (const book::Draft& d : all) {
    print(reports::visible(fmt::format("{} {} {}", d.id, reports::local_time(d.time), d.person)) + "\n");
    for (const auto& [label, value] : reports::lines_of(book::NewEntry{d.kind, d.payload}).facts)
      print("  " + reports::sentence(label, session.language) + ": " +
            reports::plain_text(value, session.language) + "\n");
  }
  print_message("book.drafts",
                {number("count", static_cast<double>(all.size()), ""), text("digest", book::digest_of(all))},
                session);
  return all;
}

// Signing cannot be undone: what is to be signed is shown first, and signed only as it was seen.
int sign(const BookOptions& o, const Session& session) {
  book::Book b = book::Book::open(o.file);
  const SignsAs as = signer_of(b, o);
  if (o.seen.empty()) {
    if (show_drafts(b, as.person, session).empty()) return 0;
    print_message("book.sign-seen", {}, session);
    return 1;
  }
  const auto added = b.sign_drafts(as.person, *as.key, o.seen, now_utc());
  for (const book::Entry& e : added) tell_entry(e, session);
  print_message("book.added-all", {number("count", static_cast<double>(added.size()), "")}, session);
  return 0;
}

int drafts(const BookOptions& o, const Session& session) {
  show_drafts(book::Book::open_read(o.file), o.by, session);
  return 0;
}

int discard(const BookOptions& o, const Session& session) {
  const bool there = book::Book::open(o.file).drop_draft(std::strtoll(o.value.c_str(), nullptr, 10));
  print_message(there ? MessageId("book.discarded") : "book.no-draft", {text("id", o.value)}, session);
  return there ? 0 : 1;
}

int correct(const BookOptions& o, const Session& session) {
  const auto of = std::strtoll(o.value.c_str(), nullptr, 10);
  book::Book b = book::Book::open(o.file);
  const auto old = b.record(of);
  if (!old) throw Fault{Message{"book.no-such-entry", {number("seq", static_cast<double>(of), "")}}};
  const SignsAs as = signer_of(b, o);
  book::Json payload{{book::field::of, of}, {book::field::reason, o.reason}};
  if (!o.payload.empty()) {
    payload[book::field::kind] = old->kind;
    payload[book::field::payload] = payload_of(o);
  }
  tell_entry(b.append(as.person, *as.key, o.payload.empty() ? "void" : "correction", payload, now_utc()),
             session);
  return 0;
}

// Rates the job and records what came out, with the design as it is: the very bytes that were rated.
int record_rating(const BookOptions& o, const Session& session) {
  rating::Job job = files::read_job(o.value, "", published::catalog());
  book::count_production_tests(book::Book::open_read(o.file), job.design);
  add_joint_models(job, session.language);
  const rating::Rating rated =
      rating::rate(job, published::catalog().data, rating::Method::time, rating::Progress{});
  const std::string design = files::design_path(o.value);
  const design::Identity& d = job.design.identity;
  return add_all(o,
                 {{book::kind::design,
                   {{book::field::name, d.name}, {book::field::revision, d.revision}},
                   book::read_attachment(design)},
                  {"rating", book::rating_payload(rated, "seamwright " SEAMWRIGHT_VERSION), std::nullopt}},
                 session);
}

int log(const BookOptions& o, const Session&) {
  book::Book::open_read(o.file).for_each_entry([](const book::Entry& e) {
    print(reports::visible(fmt::format("{} {} {} {} {} {}", e.seq, reports::local_time(e.time), e.author,
                                       e.kind, e.hash.substr(0, 16),
                                       e.payload.is_discarded() ? "?" : e.payload.dump())) +
          "\n");
    return true;
  });
  return 0;
}

int head(const BookOptions& o, const Session&) {
  print(book::Book::open_read(o.file).head() + "\n");
  return 0;
}

int except_gap(const BookOptions& o, const Session& session) {
  book::Book b = book::Book::open(o.file);
  const SignsAs as = signer_of(b, o);
  tell_entry(book::except_gap(b, o.serial, o.gap, o.reason, as.person, *as.key, now_utc()), session);
  return 0;
}

int release_frame(const BookOptions& o, const Session& session) {
  book::Book b = book::Book::open(o.file);
  const SignsAs as = signer_of(b, o);
  try {
    tell_entry(book::release(b, o.serial, as.person, *as.key, now_utc()), session);
  } catch (const Fault& f) {
    if (f.message.id != MessageId("book.gaps")) throw;
    print_message("book.gaps", f.message.arguments, session);
    return 1;
  }
  return 0;
}

}  // namespace

void add_book_records(CLI::App* group, const std::shared_ptr<BookOptions>& o, Session& session) {
  const auto command = [&](const char* name, const char* what, BookWork work) {
    return book_command(group, name, what, work, o, session);
  };
  const auto later = [&](CLI::App* c) {
    c->add_flag("--later", o->later, "keep it as a draft entry for --by, to be signed with all others by `book sign`");
  };
  CLI::App* one = add_signer(command("add", "Add a signed entry", add), o);
  one->add_option("--kind", o->kind, "kind of entry: weld, lot, frame, inspection, ...")->required();
  one->add_option("--payload", o->payload, "content of the entry, a JSON object in a file")->required();
  one->add_option("--attach", o->attach, "file to attach, such as a certificate");
  later(one);
  CLI::App* many = add_signer(command("import", "Add all entries of a table, or none", import), o);
  many->add_option("records", o->payload, "CSV with one kind of entry, or TOML with several")->required();
  many->add_option("--kind", o->kind, "kind of entry, for a CSV");
  later(many);
  add_signer(command("sign", "Sign all draft entries kept for you, as they were shown", sign), o)
      ->add_option("--seen", o->seen,
                   "digest that `book sign` or `book drafts` printed last; without it, the draft entries are shown");
  command("discard", "Discard a draft entry", discard)->add_option("draft", o->value, "number of the draft entry")->required();
  command("drafts", "List the draft entries to be signed", drafts)->add_option("--by", o->by, "draft entries of this person only");
  CLI::App* fix = add_signer(command("correct", "Correct an entry: a new entry in place of an old one", correct), o);
  fix->add_option("seq", o->value, "number of the old entry")->required();
  fix->add_option("--payload", o->payload,
                  "content that replaces the old one, a JSON object in a file; without it the old entry is void");
  fix->add_option("--reason", o->reason, "reason")->required();
  CLI::App* rated =
      add_signer(command("rate", "Freeze a job's design and record its rating", record_rating), o);
  rated->add_option("job", o->value, "job folder")->required();
  command("log", "List the entries, one per line", log);
  command("head", "Number and hash of the last entry, to be printed and kept elsewhere", head);
  CLI::App* exception = add_signer(command("except", "Sign an engineer's concession for a gap", except_gap), o);
  exception->add_option("serial", o->serial, "frame")->required();
  exception->add_option("--gap", o->gap, "key of the gap, as `gaps` shows it")->required();
  exception->add_option("--reason", o->reason, "reason for the concession")->required();
  add_signer(command("release", "Release a frame; refused while gaps remain", release_frame), o)
      ->add_option("serial", o->serial, "frame")
      ->required();
}

}  // namespace seamwright::cli
