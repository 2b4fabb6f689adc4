// SPDX-License-Identifier: GPL-3.0-or-later
// book verify, rebuild, backup, restore, compare, export.
#include <algorithm>

#include "app/cli/book_commands.h"
#include "app/cli/progress_bar.h"
#include "catalog/book/copies.h"
#include "catalog/book/records.h"
#include "catalog/book/server_setup.h"
#include "catalog/book/records/names.h"
#include "catalog/book/production.h"
#include "catalog/book/quality.h"
#include "catalog/book/station.h"
#include "catalog/files/source.h"
#include "reports/content/book_blocks.h"
#include "reports/content/quality_blocks.h"
#include "reports/render/json.h"
#include "reports/render/render.h"

namespace seamwright::cli {

namespace {

int verify(const BookOptions& o, const Session& session) {
  const book::Book as_it_is = book::Book::open_read(o.file, book::Tables::as_they_are);
  const book::Verification v = book::verify(as_it_is, o.head);
  book::remember(as_it_is, v, today_utc());
  if (o.json)
    print(reports::to_json(v));
  else
    print(reports::verified_document(v), session);
  if (!o.by.empty()) {  // what was checked, when and by whom, is itself a record
    book::Book b = book::Book::open(o.file);
    const SignsAs as = signer_of(b, o);
    book::Json seen{{book::field::head, v.head},
                    {book::field::entries, v.entries},
                    {book::field::problems, v.problems.size()},
                    {book::field::refused, v.refused.size()}};
    if (!o.head.empty()) seen[book::field::against] = o.head;
    const book::Entry e = b.append(as.person, *as.key, "verification", seen, now_utc());
    if (!o.json) tell_entry(e, session);
  }
  return v.problems.empty() && v.refused.empty() ? 0 : 1;
}

int rebuild(const BookOptions& o, const Session& session) {
  book::Book b = book::Book::open(o.file, book::Tables::as_they_are);
  b.rebuild();
  print_message("book.rebuilt", {}, session);
  return 0;
}

int copy(const BookOptions& o, const Session& session) {
  const book::Verification v = book::copy_verified(o.file, o.out);
  print_message(
      "book.copied",
      {text("file", o.out), number("entries", static_cast<double>(v.entries), ""), text("head", v.head)},
      session);
  return 0;
}

int serve_setup(const BookOptions& o, const Session& session) {
  book::write_server_setup(o.out);
  print_message("book.server-setup-written", {text("folder", o.out)}, session);
  return 0;
}

int compare(const BookOptions& o, const Session& session) {
  const auto look_only = [](const std::string& file) {
    return book::Book::open_read(file, book::Tables::as_they_are);
  };
  const book::BookComparison c = book::compare_books(look_only(o.file), look_only(o.against));
  const MessageId id = !c.same_book ? "book.other-book"
                       : c.forked() ? MessageId("book.forked")
                                    : "book.one-continues";
  print_message(id,
                {number("common", static_cast<double>(c.common), ""),
                 number("one", static_cast<double>(c.only_one), ""),
                 number("other", static_cast<double>(c.only_other), "")},
                session);
  return c.same_book && !c.forked() ? 0 : 1;
}

int export_frame(const BookOptions& o, const Session& session) {
  const book::Book b = book::Book::open_read(o.file);
  const std::size_t entries = book::write_proof(b, o.serial, o.out);
  files::write_text(
      o.out + "/record.html",
      reports::to_html(reports::trace_document(b, book::trace(b, o.serial), today_utc()), session.language));
  print_message("book.exported", {text("folder", o.out), number("entries", static_cast<double>(entries), "")},
                session);
  return 0;
}

int quality(const BookOptions& o, const Session& session) {
  const book::QualityIndex index = book::quality_index(book::Book::open_read(o.file), today_utc());
  const reports::Document d = reports::quality_document(index);
  if (!o.out.empty()) files::write_text(o.out, reports::to_html(d, session.language));
  print(d, session);
  const bool answered = std::all_of(index.rows.begin(), index.rows.end(), [](const book::QualityRow& r) { return r.is_answered(); });
  return answered && index.has_coordinator() ? 0 : 1;
}

int due(const BookOptions& o, const Session& session) {
  const std::string today = today_utc();
  const auto all = book::production_due(book::Book::open_read(o.file), *qualification::read_date(today));
  const reports::Document d = reports::production_document(all, today);
  if (!o.out.empty()) files::write_text(o.out, reports::to_html(d, session.language));
  print(d, session);
  return std::any_of(all.begin(), all.end(), [](const book::ProductionDue& p) { return p.counts_on_fusion && p.overdue; }) ? 1 : 0;
}

}  // namespace

void add_book_copies(CLI::App* group, const std::shared_ptr<BookOptions>& o, Session& session) {
  const auto command = [&](const char* name, const char* what, BookWork work) {
    return book_command(group, name, what, work, o, session);
  };
  CLI::App* check = add_signer(command("verify", "Verify that everything in the record book is intact", verify), o);
  check->add_option("--head", o->head, "head that was printed earlier");
  check->add_flag("--json", o->json, "one JSON document on stdout");
  command("quality", "List the quality records of ISO 3834: kept here, elsewhere, or not applicable", quality)
      ->add_option("--html", o->out, "also write an HTML page");
  command("due", "List which WPS needs a production test piece, by which day or frame", due)->add_option("--html", o->out, "also write an HTML page");
  command("rebuild", "Rebuild the tables that follow from the entries", rebuild);
  command("backup", "Make a verified copy of the record book while it is in use", copy)
      ->add_option("copy", o->out, "new file")
      ->required();
  command("restore", "Restore a backup (FILE) to a new record book, verified", copy)
      ->add_option("book", o->out, "new file")
      ->required();
  command("copy", "Copy a record book from a file to a server or back, verified", copy)
      ->add_option("to", o->out, "new file, or postgres:SERVICE")
      ->required();
  CLI::App* setup = group->add_subcommand("serve-setup", "Write what sets up a server for a record book: tables, roles, certificates, a service file");
  setup->add_option("folder", o->out, "new folder")->required();
  setup->callback([o, &session] { session.run = [o, &session] { return serve_setup(*o, session); }; });
  command("compare", "Check whether two copies are one chain or have diverged", compare)
      ->add_option("other", o->against, "the other copy")
      ->required();
  CLI::App* out = command("export", "Export a frame's entries to a folder that can be verified on its own", export_frame);
  out->add_option("serial", o->serial, "frame")->required();
  out->add_option("folder", o->out, "new folder")->required();
}

}  // namespace seamwright::cli
