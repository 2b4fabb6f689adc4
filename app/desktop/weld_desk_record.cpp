// SPDX-License-Identifier: GPL-3.0-or-later
// The weld desk's way into the book: what would be recorded, what speaks against it, and the signature.
#include <QComboBox>
#include <algorithm>

#include "app/desktop/band_strip.h"
#include "app/desktop/number_field.h"
#include "app/desktop/record_dialog.h"
#include "app/desktop/record_form.h"
#include "app/desktop/weld_desk.h"
#include "app/desktop/window_words.h"
#include "catalog/book/records/weld_record.h"
#include "catalog/book/repairs.h"

namespace seamwright::desktop {

std::vector<book::NewEntry> WeldDesk::records(const std::string& serial, const std::string& person,
                                              const std::string& reason, const book::Book* book) const {
  const auto read_at = [](const BandStrip* strip) {
    return strip->value() > 0 ? book::Weld::Number(strip->value()) : std::nullopt;
  };
  book::Weld weld;
  weld.frame = serial;
  weld.welder = person;
  weld.day = qualification::text_of(today());
  if (file_) {
    weld.procedure = file_->sheet.id;
    weld.revision = file_->sheet.revision;
  }
  if (run_->currentIndex() >= 0) weld.run = run_->currentText().toInt();
  weld.amperes = read_at(amperes_);
  weld.volts = read_at(volts_);
  weld.speed_mm_s = read_at(speed_);
  if (!reason.empty()) weld.reason = reason;
  book::enter(weld, table_->entered());
  book::enter(weld, form_->entered());
  std::vector<book::NewEntry> all;
  for (const std::string& id : chosen_welds()) {
    weld.weld = id;
    weld.nonconformity = book ? book::asked_repair(*book, serial, id) : std::nullopt;
    all.push_back(book::weld_record(weld, weld.nonconformity ? book::kind::repair : book::kind::weld));
  }
  return all;
}

std::vector<Message> WeldDesk::concerns(const book::Book& book, const std::string& serial) const {
  std::vector<Message> all;
  const auto outside = [&](MessageId what, reports::Place place) {
    if (place == reports::Place::outside)
      all.push_back({"desk.concern-outside", {sentence_argument("what", what)}});
  };
  outside("desk.outside-amperes", reading_.amperes);
  outside("desk.outside-volts", reading_.volts);
  outside("desk.outside-speed", reading_.speed);
  outside("desk.outside-heat", reading_.heat);
  if (!serial.empty() && book.current({book::mark::frame, serial}, book::kind::frame).empty())
    all.push_back({"desk.concern-frame", {text("serial", serial)}});
  for (const Message& m : unknown_in(book)) all.push_back(m);
  if (procedure_fits_ != qualification::Answer::yes) all.push_back({"desk.concern-procedure", {}});
  if (welder_covers_ != qualification::Answer::yes) all.push_back({"desk.concern-welder", {}});
  return all;
}

// What was used is not told, or the book does not know it, or the machine's check lapsed.
std::vector<Message> WeldDesk::unknown_in(const book::Book& book) const {
  std::vector<Message> all;
  book::Values used = table_->entered();
  for (const auto& [name, value] : form_->entered()) used.emplace(name, value);
  for (const char* name : {book::field::machine, book::field::filler, book::field::gas, book::field::lots}) {
    const book::Field& of = *book::field_of(book::kind_named(book::kind::weld), name);
    const auto told = used.find(name);
    if (told == used.end()) {
      all.push_back({"desk.concern-not-told", {sentence_argument("what", of.label)}});
      continue;
    }
    const auto* several = std::get_if<std::vector<std::string>>(&told->second);
    for (const std::string& id : several ? *several : std::vector<std::string>{std::get<std::string>(told->second)})
      if (book.current({of.carried, id}, of.carried).empty()) all.push_back({"desk.concern-unknown", {text("id", id)}});
  }
  if (const auto machine = used.find(book::field::machine); machine != used.end()) {
    const std::string now = qualification::text_of(today());  // days as text stand in their order
    const auto checks = book.current({book::mark::calibrated, std::get<std::string>(machine->second)}, book::kind::calibration);
    if (std::none_of(checks.begin(), checks.end(), [&](const book::Record& r) {
          return r.text_of(book::field::on) <= now && now <= r.text_of(book::field::until);
        }))
      all.push_back({"desk.concern-calibration", {text("id", std::get<std::string>(machine->second))}});
  }
  return all;
}

void WeldDesk::ask_record() {
  for (const NumberField* field : fields())
    if (field->is_refused()) {
      const std::string name = field->accessibleName().toStdString();
      return context_.show_message(QStringLiteral("▼ ") +
                                   sentence_of("desk.no-number", {text("field", name)}));
    }
  if (context_.book.isEmpty()) context_.book = context_.make_book();
  if (context_.book.isEmpty()) return context_.show_message(sentence_of("window.record-no-book"));
  const book::Book book = book::Book::open_read(context_.book.toStdString());
  RecordDialog dialog(
      *context_.shift, context_.book,
      [this, &book](const std::string& serial, const std::string& person, const std::string& reason) {
        return records(serial, person, reason, &book);
      },
      [this, &book](const std::string& serial) { return concerns(book, serial); }, this);
  dialog.set_serial(QString::fromStdString(context_.shift->serial));
  if (dialog.exec() != QDialog::Accepted) return;
  context_.shift->serial = dialog.serial();
  for (const auto& [name, value] : table_->entered())
    if (const auto* id = std::get_if<std::string>(&value)) context_.shift->at_table[name] = *id;
  context_.book_grew();
  context_.show_message(sentence_of(
      "window.recorded",
      {number("count", static_cast<double>(dialog.signed_count()), ""), text("serial", dialog.serial())}));
}

}  // namespace seamwright::desktop
