// SPDX-License-Identifier: GPL-3.0-or-later
// The welder's way from a weld to a signed entry, and the auditor's from a number to a verified book.
#include <sqlite3.h>

#include <QCheckBox>
#include <QComboBox>
#include <QDialog>
#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTreeWidget>

#include "app/desktop/band_strip.h"
#include "app/desktop/forms.h"
#include "app/desktop/number_field.h"
#include "app/desktop/record_dialog.h"
#include "app/desktop/record_form.h"
#include "app/desktop/trace_desk.h"
#include "app/desktop/weld_desk.h"
#include "catalog/book/demo_book.h"
#include "catalog/book/verify.h"
#include "tests/app/desktop/window_driver.h"
#include "tests/catalog/book/one_more_field.h"

namespace seamwright::desktop {

namespace {

struct Shop {
  Job job;
  QTemporaryDir folder;
  MainWindow window;
  Shop() {
    book::write_demo(book(), "test");
    window.show();
    window.open(job.folder());
    window.open(QString::fromStdString(book()));
  }
  std::string book() const { return folder.path().toStdString() + "/shop.book"; }
  bool ready() {
    return wait_for([this] { return window.has_book() && !window.rater().is_busy(); });
  }
  QStringList words_of_strips() const {
    QStringList words;
    for (const BandStrip* s : window.findChildren<BandStrip*>())
      if (s->isVisible()) words << s->findChildren<QLabel*>().last()->text();
    return words;
  }
};

}  // namespace

class WeldTraceTest : public QObject {
  Q_OBJECT
 private slots:
  void the_welder_sees_types_and_signs() {
    Shop shop;
    QVERIFY(shop.ready());
    shop.window.show_desk(QStringLiteral("weld"));
    auto* desk = qobject_cast<WeldDesk*>(shop.window.desk());
    QVERIFY(desk);
    desk->choose(QStringLiteral("W41"));
    // The sheet of the demonstration allows 52 to 65 A, 9.5 to 11 V, 1.5 to 1.7 mm/s.
    QList<NumberField*> fields;
    for (BandStrip* s : shop.window.findChildren<BandStrip*>())
      if (s->field() && s->isVisible()) fields << s->field();
    QCOMPARE(fields.size(), 3);
    fields[0]->setValue(58);
    fields[1]->setValue(10.98);
    fields[2]->setValue(1.2);
    QCOMPARE(shop.words_of_strips(),
             QStringList({sentence_of("place.inside"), sentence_of("place.edge"),
                          sentence_of("place.outside"), sentence_of("place.outside")}));  // slow: too hot
    for (auto* box : desk->findChildren<NumberField*>())
      if (box->accessibleName() == sentence_of("desk.gap").remove(QLatin1Char('&')))
        box->setValue(0);  // none is a measure
    const std::int64_t before = book::Book::open_read(shop.book()).last_entry()->seq;
    QCOMPARE(sign_records(shop.book(), "W-A", book::demo_passphrase, nullptr, desk->records("OT-0004", "W-A"))
                 .count,
             std::size_t{1});
    const book::Book b = book::Book::open_read(shop.book());
    const book::Entry last = *b.last_entry();
    QCOMPARE(last.seq, before + 1);
    QCOMPARE(last.author, std::string("W-A"));
    QCOMPARE(last.payload["weld"].get<std::string>(), std::string("W41"));
    QCOMPARE(last.payload["procedure"].get<std::string>(), std::string("TIG-BRANCH"));
    QCOMPARE(last.payload["amperes"].get<double>(), 58.0);
    QCOMPARE(last.payload["gap_mm"].get<double>(), 0.0);
    QVERIFY(!last.payload.contains("purge_l_min"));
    QVERIFY(book::verify(b).problems.empty());
  }

  void either_decimal_sign_is_the_same_reading_and_is_shown_first() {
    for (const reports::Language in : {reports::language_named("en"), reports::language_named("de")}) {
      set_language(in);
      NumberField field(0, 9999, QStringLiteral("mm"));
      for (const char* typed : {"1,6", "1.6"}) {
        field.setText(QLatin1String(typed));
        QCOMPARE(field.value().value_or(0), 1.6);
        QCOMPARE(field.reading()->text(), QStringLiteral("= ") + quantity(1.6, "mm", 10));
      }
      field.setText(QStringLiteral("10.9"));
      QCOMPARE(field.value().value_or(0), 10.9);
      for (const char* typed : {"1.234,5", "1,234.5", "1 234", "mm"}) {
        field.setText(QLatin1String(typed));
        QVERIFY(!field.value() && field.is_refused());
        QVERIFY(field.reading()->text().contains(sentence_of("field.no-number")));
      }
      field.setText(QStringLiteral("10000"));
      QVERIFY(field.is_refused());
      field.clear();
      QVERIFY(!field.value() && !field.is_refused());
      field.setValue(2.5);
      QCOMPARE(field.value().value_or(0), 2.5);
    }
    set_language(reports::language_named("en"));
  }

  void one_more_row_of_the_table_is_a_control_of_the_form() {
    RecordForm form(book::weld_with_one_more(), {book::field::gap_mm});
    NumberField* added = nullptr;
    for (NumberField* field : form.numbers()) {
      if (field->accessibleName() == without_mnemonic(book::one_more.control)) added = field;
      QVERIFY(field->accessibleName() != without_mnemonic("desk.gap"));  // shown elsewhere
    }
    QVERIFY(added);
    QVERIFY(form.entered().empty());
    added->setText(QStringLiteral("91"));  // beyond its range
    QVERIFY(added->is_refused() && form.entered().empty());
    added->setText(QStringLiteral("12,5"));
    book::Weld weld;
    book::enter(weld, form.entered());
    const book::NewEntry entry = book::weld_record(weld);
    QCOMPARE(entry.payload.size(), std::size_t{1});
    QCOMPARE(entry.payload[book::one_more.name].get<double>(), 12.5);
    form.clear();
    QVERIFY(form.entered().empty());
  }

  void every_type_of_field_has_its_control() {
    static constexpr const char* words[] = {"one", "two"};
    const std::vector<book::Field> fields{
        {.name = "a", .label = "field.id", .control = "field.id"},
        {.name = "b", .label = "field.id", .type = book::Type::texts, .control = "field.name"},
        {.name = "c", .label = "field.id", .type = book::Type::flag, .control = "field.note"},
        {.name = "d", .label = "field.id", .words = words, .control = "field.kind"},
        {.name = "e", .label = "field.id"}};
    RecordForm form({"any", "book.kind-note", "", "w", fields}, {});
    QVERIFY(form.entered().empty());
    const auto lines = form.findChildren<QLineEdit*>();
    QCOMPARE(lines.size(), 2);
    lines[0]->setText(QStringLiteral(" M-1 "));
    lines[1]->setText(QStringLiteral("L1  L2"));
    form.findChild<QCheckBox*>()->setChecked(true);
    form.findChild<QComboBox*>()->setCurrentIndex(2);
    const book::Values entered = form.entered();
    QCOMPARE(entered.size(), std::size_t{4});
    QCOMPARE(std::get<std::string>(entered.at("a")), std::string("M-1"));
    QCOMPARE(std::get<std::vector<std::string>>(entered.at("b")), (std::vector<std::string>{"L1", "L2"}));
    QVERIFY(std::get<bool>(entered.at("c")));
    QCOMPARE(std::get<std::string>(entered.at("d")), std::string("two"));
    form.clear();
    QVERIFY(form.entered().empty());
  }

  void readings_do_not_stay_when_another_weld_is_chosen() {
    Shop shop;
    QVERIFY(shop.ready());
    shop.window.show_desk(QStringLiteral("weld"));
    auto* desk = qobject_cast<WeldDesk*>(shop.window.desk());
    desk->choose(QStringLiteral("W41"));
    for (NumberField* field : desk->findChildren<NumberField*>()) field->setText(QStringLiteral("1,6"));
    const book::NewEntry typed = desk->records("OT-0004", "W-A").at(0);
    QCOMPARE(typed.payload["amperes"].get<double>(), 1.6);
    QCOMPARE(typed.payload["purge_l_min"].get<double>(), 1.6);
    desk->choose(QStringLiteral("W40"));
    const book::NewEntry next = desk->records("OT-0004", "W-A").at(0);
    QCOMPARE(next.payload["weld"].get<std::string>(), std::string("W40"));
    for (const char* key : {"amperes", "volts", "speed_mm_s", "gap_mm", "purge_l_min"})
      QVERIFY2(!next.payload.contains(key), key);
  }

  void what_speaks_against_a_record_asks_for_a_reason() {
    Shop shop;
    QVERIFY(shop.ready());
    shop.window.show_desk(QStringLiteral("weld"));
    auto* desk = qobject_cast<WeldDesk*>(shop.window.desk());
    desk->choose(QStringLiteral("W41"));
    const book::Book b = book::Book::open_read(shop.book());
    const auto has = [&](const std::string& serial, MessageId id) {
      const auto all = desk->concerns(b, serial);
      return std::any_of(all.begin(), all.end(), [&](const Message& m) { return m.id == id; });
    };
    QVERIFY(!has("OT-0004", "desk.concern-frame"));
    QVERIFY(has("OT-9999", "desk.concern-frame"));
    QVERIFY(!has("OT-0004", "desk.concern-outside"));
    shop.window.findChildren<BandStrip*>()[0]->field()->setValue(90);
    QVERIFY(has("OT-0004", "desk.concern-outside"));
    // The dialog signs nothing before a reason stands there, and seals it.
    Shift shift;
    RecordDialog dialog(
        shift, QString::fromStdString(shop.book()),
        [desk](const std::string& serial, const std::string& person, const std::string& reason) {
          return desk->records(serial, person, reason);
        },
        [desk, &b](const std::string& serial) { return desk->concerns(b, serial); }, nullptr);
    const auto lines = dialog.findChildren<QLineEdit*>();
    const auto named = [&](MessageId id) {
      for (QLineEdit* l : lines)
        if (l->accessibleName() == sentence_of(id).remove(QLatin1Char('&'))) return l;
      return static_cast<QLineEdit*>(nullptr);
    };
    QPushButton* sign = nullptr;
    for (auto* button : dialog.findChildren<QPushButton*>())
      if (button->text() == sentence_of("window.sign")) sign = button;
    QVERIFY(sign && named("window.serial") && named("desk.reason"));
    named("window.serial")->setText(QStringLiteral("OT-9999"));
    QVERIFY(!sign->isEnabled());
    named("desk.reason")->setText(QStringLiteral("          "));
    QVERIFY(!sign->isEnabled());
    named("desk.reason")->setText(QStringLiteral("frame entered tomorrow"));
    QVERIFY(sign->isEnabled());
    QVERIFY(dialog.findChild<QPlainTextEdit*>()->toPlainText().contains(
        QStringLiteral("frame entered tomorrow")));
    // The record to sign is shown as it will be printed: labels and units, and no brackets of a file.
    const QString shown = dialog.findChild<QPlainTextEdit*>()->toPlainText();
    QVERIFY2(
        shown.contains(
            sentence_of("label.amperes") + QStringLiteral(": ") +
            quantity(90, "A", 9).replace(QChar(0xa0), QLatin1Char(' '))),  // as the toolkit gives its text
        qPrintable(shown));
    QVERIFY(shown.contains(sentence_of("book.kind-frame") + QStringLiteral(": OT-9999")));
    QVERIFY(!shown.contains(QLatin1Char('{')) && !shown.contains(QStringLiteral("amperes")));
  }

  void a_wrong_passphrase_and_a_locked_book_leave_nothing() {
    Shop shop;
    QVERIFY(shop.ready());
    shop.window.show_desk(QStringLiteral("weld"));
    auto* desk = qobject_cast<WeldDesk*>(shop.window.desk());
    const std::string head = book::Book::open_read(shop.book()).head();
    const auto fault_of = [&](const std::string& passphrase) {
      try {
        sign_records(shop.book(), "W-A", passphrase, nullptr, desk->records("OT-0004", "W-A"));
      } catch (const Fault& fault) {
        return std::string(fault.what());
      }
      return std::string();
    };
    QCOMPARE(fault_of("wrong"), std::string("book.wrong-passphrase"));
    sqlite3* other = nullptr;
    QCOMPARE(sqlite3_open(shop.book().c_str(), &other), SQLITE_OK);
    QCOMPARE(sqlite3_exec(other, "BEGIN IMMEDIATE", nullptr, nullptr, nullptr), SQLITE_OK);
    QCOMPARE(fault_of(book::demo_passphrase), std::string("book.busy"));
    sqlite3_exec(other, "ROLLBACK", nullptr, nullptr, nullptr);
    sqlite3_close(other);
    QCOMPARE(book::Book::open_read(shop.book()).head(), head);
  }

  void the_auditor_finds_reads_and_verifies() {
    Shop shop;
    QVERIFY(shop.ready());
    shop.window.show_desk(QStringLiteral("trace"));
    auto* desk = qobject_cast<TraceDesk*>(shop.window.desk());
    QVERIFY(desk);
    desk->look_up(QStringLiteral("OT-0002"));
    auto* story = shop.window.findChild<QTreeWidget*>();
    QVERIFY(story->topLevelItemCount() > 100);
    auto* entry = desk->findChild<QPlainTextEdit*>();
    QVERIFY(entry->toPlainText().contains(sentence_of("window.entry-signature")));
    desk->look_up(QString::fromLatin1(book::demo_heat));
    QVERIFY(story->topLevelItemCount() > 0);
    desk->look_up(QStringLiteral("no such thing"));
    QCOMPARE(story->topLevelItemCount(), 0);
    const auto chain_says = [&](const QString& word) {
      return wait_for(
          [&] {
            for (const QLabel* l : desk->findChildren<QLabel*>())
              if (l->text().startsWith(word)) return true;
            return false;
          },
          30000);
    };
    desk->verify();
    QVERIFY(chain_says(cell_text(reports::State{"intact"})));
    // A head from paper that the book never had.
    desk->findChild<QLineEdit*>(QStringLiteral("head"))->setText(QStringLiteral("3:00000000000000000000000000000000"));
    desk->verify();
    QVERIFY(chain_says(cell_text(reports::State{"broken"})));
  }

  void without_a_job_or_book_the_desks_say_what_to_do() {
    MainWindow window;
    window.show();
    window.show_desk(QStringLiteral("weld"));
    QVERIFY(!window.desk());
    QCOMPARE(window.message(), sentence_of("window.desk-needs-job"));
    window.show_desk(QStringLiteral("trace"));
    QVERIFY(window.desk());
    bool told = false;
    for (const QLabel* l : window.desk()->findChildren<QLabel*>())
      told = told || l->text() == sentence_of("window.story-no-book");
    QVERIFY(told);
  }

  void every_control_has_a_name_in_both_languages() {
    for (const auto in : {reports::language_named("de"), reports::language_named("en")}) {
      set_language(in);
      Shop shop;
      QVERIFY(shop.ready());
      for (const char* desk : {"weld", "inspect", "trace", "rate"}) {
        shop.window.show_desk(QLatin1String(desk));
        QTest::qWait(50);
        QCOMPARE(nameless(shop.window).join('\n'), QString());
        QCOMPARE(doubled_mnemonics(shop.window).join('\n'), QString());
      }
    }
  }
};

}  // namespace seamwright::desktop

int main(int argc, char** argv) {
  const seamwright::desktop::Home home;
  QApplication application(argc, argv);
  seamwright::desktop::set_up(application);
  seamwright::desktop::WeldTraceTest test;
  return QTest::qExec(&test, argc, argv);
}

#include "weld_trace_test.moc"
