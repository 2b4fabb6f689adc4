// SPDX-License-Identifier: GPL-3.0-or-later
// The commands trace, recall and gaps read the record of frames.
#include <filesystem>

#include "app/cli/book_commands.h"
#include "catalog/book/gaps.h"
#include "catalog/book/records.h"
#include "catalog/book/records/names.h"
#include "catalog/files/source.h"
#include "reports/content/book_blocks.h"
#include "reports/render/json.h"
#include "reports/render/render.h"

namespace seamwright::cli {

namespace {

int trace(const BookOptions& o, const Session& session) {
  const book::Book b = book::Book::open_read(o.file);
  const book::Trace t = book::trace(b, o.serial);
  const reports::Document record = reports::trace_document(b, t, today_utc());
  if (!o.out.empty()) files::write_text(o.out, reports::to_html(record, session.language));
  if (!o.pdf.empty()) write_pdf(o.pdf, record, session);
  if (o.json)
    print(reports::to_json(b, t, book::state_of(b, o.serial, today_utc())));
  else
    print(o.full ? record : reports::frame_page(b, t, today_utc()), session);
  return 0;
}

int recall(const BookOptions& o, const Session& session) {
  const book::Book b = book::Book::open_read(o.file);
  const book::Mark what{o.name, o.value};
  const auto carriers = book::recall(b, what, today_utc());
  if (o.json)
    print(reports::to_json(what, carriers));
  else
    print(reports::recall_document(what, carriers), session);
  return carriers.empty() ? 0 : 1;
}

int gaps(const BookOptions& o, const Session& session) {
  const book::FrameState state = book::state_of(book::Book::open_read(o.file), o.serial, today_utc());
  if (o.json)
    print(reports::to_json(state));
  else
    print(reports::gaps_document(state), session);
  return state.is_clear() ? 0 : 1;
}

}  // namespace

void add_trace(CLI::App& app, Session& session) {
  auto o = std::make_shared<BookOptions>();
  CLI::App* story = book_command(&app, "trace", "Trace all that went into a frame, with the persons responsible", trace,
                                 o, session, false);
  story->add_option("serial", o->serial, "frame")->required();
  story->add_option("--html", o->out, "also write an HTML page");
  story->add_option("--pdf", o->pdf, "also write a PDF for printing");
  story->add_flag("--full", o->full, "all entries below the first page");
  story->add_flag("--json", o->json, "one JSON document on stdout");
  CLI::App* back = book_command(&app, "recall", "List every frame affected, those with the most life used first", recall,
                                o, session, false);
  auto* which = back->add_option_group("which");
  for (const char* name : carried_marks)
    which->add_option_function<std::string>(
        std::string("--") + name,
        [o, name](const std::string& value) {
          o->name = name;
          o->value = value;
        },
        "value as recorded");
  which->require_option(1);
  back->add_flag("--json", o->json, "one JSON document on stdout");
  CLI::App* missing =
      book_command(&app, "gaps", "List the gaps that prevent a frame's release", gaps, o, session, false);
  missing->add_option("serial", o->serial, "frame")->required();
  missing->add_flag("--json", o->json, "one JSON document on stdout");
}

}  // namespace seamwright::cli
