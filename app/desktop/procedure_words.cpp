// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/procedure_words.h"

#include <QStringList>

#include "app/desktop/window_words.h"
#include "catalog/files/begin_record.h"
#include "engine/design/design.h"
#include "reports/content/procedure_blocks.h"

namespace seamwright::desktop {

QString procedure_words(const std::string& path, const std::string& content, const design::Design& design, qualification::Date today) {
  const files::ProcedureFile p = files::procedure_of_text(path, content, today);
  QStringList lines;
  if (p.record) {
    const qualification::Check check = files::qualified(p, files::numbers_of(p));
    lines << cell_text(reports::range_state(verdict(check)));
    for (const qualification::Item& item : check)
      if (item.answer != qualification::Answer::yes)
        lines << QStringLiteral("– ") + cell_text(reports::range_state(item.answer)) + QStringLiteral(": ") +
                     sentence_of("procedure.unfit", {term_argument("item", "item.", item.item), term_argument("found", "found.", item.found),
                                                     term_argument("covered", "found.", item.covered)}) +
                     (item.note.id.empty() ? QString() : QLatin1Char(' ') + sentence_of(item.note));
  } else {
    lines << sentence_of("piece.preliminary");
  }
  std::string covered;
  std::size_t count = 0;
  for (const joints::Weld& weld : design.welds)
    if (verdict(qualification::sheet_covers(p.sheet, files::sizes_of(design, weld))) == qualification::Answer::yes) {
      covered += (covered.empty() ? "" : ", ") + weld.id;
      ++count;
    }
  lines << (count == 0 ? sentence_of("piece.fits-none")
                       : sentence_of("piece.fits", {number("count", static_cast<double>(count), ""),
                                                    number("all", static_cast<double>(design.welds.size()), ""), text("welds", covered)}));
  return lines.join(QLatin1Char('\n'));
}

void write_procedure(const std::string& path, const std::string& as_read, const std::string& content) {
  if (files::read_text(path) != as_read) throw Fault{Message{"piece.changed-on-disk", {text("file", path)}}};
  files::write_text(path, content);
}

}  // namespace seamwright::desktop
