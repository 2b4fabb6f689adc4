// SPDX-License-Identifier: GPL-3.0-or-later
// The inspector's way from a weld to a signed judgement, and a new shop's first day: certificate, procedure, stock, ten welds, one of them
// rejected and welded anew. Every value that a person types is counted.
#include <QComboBox>
#include <QDialog>
#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QPushButton>

#include "app/desktop/band_strip.h"
#include "app/desktop/forms.h"
#include "app/desktop/inspect_desk.h"
#include "app/desktop/number_field.h"
#include "app/desktop/pass_clock.h"
#include "app/desktop/record_form.h"
#include "app/desktop/weld_desk.h"
#include "catalog/book/demo_book.h"
#include "catalog/book/records/names.h"
#include "catalog/book/records/inspection_record.h"
#include "catalog/book/records/weld_record.h"
#include "catalog/book/verify.h"
#include "catalog/files/begin.h"
#include "catalog/published/published_data.h"
#include "tests/app/desktop/window_driver.h"

namespace seamwright::desktop {

namespace {

using Decision = InspectDesk::Decision;

QLineEdit* line_named(const QWidget* in, const QString& name) {
  for (auto* line : in->findChildren<QLineEdit*>())
    if (line->accessibleName() == name) return line;
  return nullptr;
}

QPushButton* button_named(const QWidget* in, const QString& name) {
  for (auto* button : in->findChildren<QPushButton*>())
    if (button->text() == name) return button;
  return nullptr;
}

QString name_of(MessageId id) { return without_mnemonic(id); }

/// A hand on the keyboard that counts what it types.
struct Hand {
  int typed = 0;
  void type(QLineEdit* line, const QString& text) {
    QVERIFY(line && line->isEnabled());
    line->clear();
    QTest::keyClicks(line, text);
    QCOMPARE(line->text(), text);
    ++typed;
  }
  /// Works on the dialog that a click opens.
  void in_dialog(QPushButton* opens, const std::function<void(QWidget*)>& work) {
    QVERIFY(opens && opens->isEnabled());
    QTimer::singleShot(50, [&work] {
      QWidget* dialog = QApplication::activeModalWidget();
      if (dialog) work(dialog);
    });
    opens->click();
  }
};

struct DemoShop {
  Job job;
  QTemporaryDir folder;
  MainWindow window;
  DemoShop() {
    book::write_demo(book(), "test");
    window.show();
    window.open(job.folder());
    window.open(QString::fromStdString(book()));
  }
  std::string book() const { return folder.path().toStdString() + "/shop.book"; }
  InspectDesk* desk() {
    if (!wait_for([this] { return window.has_book() && !window.rater().is_busy(); })) return nullptr;
    window.show_desk(QStringLiteral("inspect"));
    return qobject_cast<InspectDesk*>(window.desk());
  }
};

/// Signs what a record dialog shows: who and with what where it asks.
void sign_in(QWidget* dialog, Hand& hand, const QString& serial, const QString& person, const QString& passphrase, const QString& reason = {}) {
  if (auto* line = line_named(dialog, name_of("window.serial")); line && line->isVisible() && line->text() != serial) hand.type(line, serial);
  if (auto* line = line_named(dialog, name_of("window.person")); line->text() != person) {
    hand.type(line, person);
    hand.type(line_named(dialog, name_of("window.passphrase")), passphrase);
  }
  QPushButton* sign = button_named(dialog, sentence_of("window.sign"));
  if (!sign->isEnabled() && !reason.isEmpty()) hand.type(line_named(dialog, name_of("desk.reason")), reason);
  QVERIFY(sign->isEnabled());
  for (auto* box : dialog->findChildren<QAbstractButton*>())
    if (box->isCheckable() && !box->isChecked()) box->click();  // the key stays open for the shift
  sign->click();
}

/// This is typed into the field of that label.
struct Typed {
  MessageId label;
  QString value;
};

/// A shop of an owner and three people with a frame of its own, on its first day.
struct FirstDay {
  QTemporaryDir place;
  std::string folder = place.path().toStdString() + "/trike", book_file = place.path().toStdString() + "/shop.book";
  QString passphrase = QStringLiteral("nine blue ladders sing"), day_text = QString::fromStdString(qualification::text_of(today()));
  QElapsedTimer clock;
  Hand hand;
  MainWindow window;
  QString told;  ///< what the form of the record said of it

  FirstDay() {
    files::NewJob wanted;
    wanted.name = "first";
    files::begin_job(folder, wanted, published::catalog());
    // People are admitted at the command line.
    const std::string words = passphrase.toStdString();
    book::Book b = book::Book::create(book_file, "O-1", "O", words, now_utc());
    const auto key = b.unlock("O-1", words);
    for (const auto& [id, role] : {std::pair("W-1", "welder"), std::pair("I-1", "inspector"), std::pair("E-1", "engineer")})
      b.admit_person("O-1", *key, id, id, role, words, now_utc());
    clock.start();
    window.show();
    window.open(QString::fromStdString(folder));
    window.open(QString::fromStdString(book_file));
  }
  bool opened() {
    return wait_for([this] { return window.has_book() && !window.rater().is_busy(); });
  }
  std::size_t count_of(const char* kind) const { return book::Book::open_read(book_file).current({book::mark::frame, "A-1"}, kind).size(); }

  // A dialog that signs closes by itself when the book has the entry.
  void sign(QPushButton* opens, const QString& serial, const QString& person, const QString& reason = {}) {
    hand.in_dialog(opens, [&](QWidget* dialog) {
      sign_in(dialog, hand, serial, person, passphrase, reason);
      wait_for([dialog] { return QApplication::activeModalWidget() != dialog; }, 20000);
    });
  }
  void enter(const char* kind, const std::vector<Typed>& values) {
    hand.in_dialog(button_named(window.desk(), sentence_of("desk.new-entry")), [&](QWidget* dialog) {
      auto* choice = dialog->findChild<QComboBox*>();
      choice->setCurrentIndex(choice->findData(QLatin1String(kind)));
      for (const auto& [label, value] : values) hand.type(named(dialog, label), value);
      sign(button_named(dialog, sentence_of("desk.new-entry-sign")), {}, QStringLiteral("E-1"));
    });
    QVERIFY2(!book::Book::open_read(book_file).last_entry()->kind.empty() && book::Book::open_read(book_file).last_entry()->kind == kind, kind);
  }
  // The field of the form in sight: one before it may wait to be deleted.
  static QLineEdit* named(const QWidget* in, MessageId label) {
    for (auto* line : in->findChildren<QLineEdit*>())
      if (line->accessibleName() == sentence_of(label) && line->isVisible()) return line;
    return nullptr;
  }
  void enter_stock() {
    window.show_desk(QStringLiteral("trace"));
    enter("machine", {{"field.id", QStringLiteral("M-1")}, {"field.name", QStringLiteral("TIG set")}});
    enter("calibration", {{"label.device", QStringLiteral("M-1")}, {"label.day", day_text}, {"label.until", QStringLiteral("2199-01-01")}});
    enter("filler", {{"field.id", QStringLiteral("F-1")}, {"label.designation", QStringLiteral("ER80S-D2")}});
    enter("gas", {{"field.id", QStringLiteral("G-1")}, {"label.designation", QStringLiteral("I1")}});
    enter("lot", {{"field.id", QStringLiteral("L-1")}, {"recall.by-heat", QStringLiteral("H-1")}});
    enter("frame", {{"label.serial", QStringLiteral("A-1")}, {"book.kind-design", QStringLiteral("first")}, {"field.revision", QStringLiteral("A")}});
  }
  void begin_certificate_and_procedure() {
    window.show_desk(QStringLiteral("weld"));
    hand.in_dialog(button_named(window.desk(), sentence_of("desk.new-certificate")), [&](QWidget* dialog) {
      for (const auto& [label, value] :
           {std::pair(MessageId("field.id"), QStringLiteral("C-1")), std::pair(MessageId("label.welder"), QStringLiteral("W-1")),
            std::pair(MessageId("label.designation"), QStringLiteral("ISO 9606-1 141 T BW FM1 S s2 D38 H-L045 ss nb")),
            std::pair(MessageId("label.tested"), day_text)})
        hand.type(named(dialog, label), value);
      button_named(dialog, sentence_of("start.enter"))->click();
    });
    hand.in_dialog(button_named(window.desk(), sentence_of("desk.new-procedure")), [&](QWidget* dialog) {
      hand.type(named(dialog, "field.id"), QStringLiteral("TIG-OWN"));
      hand.type(named(dialog, "field.name"), QStringLiteral("thin tube"));
      button_named(dialog, sentence_of("start.write"))->click();
    });
    QVERIFY(QFile::exists(QString::fromStdString(folder) + QStringLiteral("/procedures/tig-own.toml")));
  }
  // The piece was welded in the middle of the bands and found good by every examination.
  void enter_record(const QString& weld) {
    auto* desk = qobject_cast<WeldDesk*>(window.desk());
    QVERIFY(desk);
    desk->choose(weld);
    hand.in_dialog(button_named(desk, sentence_of("desk.new-record")), [&](QWidget* dialog) {
      for (const auto& [label, value] :
           {std::pair(MessageId("piece.signed-by"), "X"), std::pair(MessageId("item.heat-of-the-test-piece"), "H-1"),
            std::pair(MessageId("item.batch-of-the-filler"), "F-1"), std::pair(MessageId("item.witness"), "X"), std::pair(MessageId("piece.laboratory"), "L"),
            std::pair(MessageId("piece.hardness"), "210 305 320 240 310,5 318 215"), std::pair(MessageId("piece.undercut"), "0")})
        hand.type(line_named(dialog, name_of(label)), QLatin1String(value));
      for (const auto& [element, percent] : {std::pair("C", "0,255"), std::pair("Si", "0.25"), std::pair("Mn", "0.75"), std::pair("Cr", "1.05"), std::pair("Mo", "0.225")})
        hand.type(line_named(dialog, QLatin1String(element)), QLatin1String(percent));
      for (int pass = 1; pass <= 2; ++pass)
        for (const auto& [unit, value] : {std::pair("A", "62"), std::pair("V", "9,6"), std::pair("mm/s", "1.6")})
          hand.type(line_named(dialog, sentence_of("piece.pass", {number("run", pass, "")}) + QLatin1Char(' ') + QLatin1String(unit)), QLatin1String(value));
      for (auto* choice : dialog->findChildren<QComboBox*>()) {
        const QString name = choice->accessibleName();
        for (const MessageId method : {MessageId("item.visual-testing"), MessageId("piece.penetrant"), MessageId("piece.radiographic")})
          if (name == sentence_of(method)) choice->setCurrentIndex(choice->findData(QStringLiteral("accept")));
        for (const MessageId cut : {MessageId("piece.macro-crown"), MessageId("piece.macro-saddle")})
          if (name == sentence_of(cut)) choice->setCurrentIndex(choice->findData(QStringLiteral("fused")));
      }
      told = dialog->findChild<QPlainTextEdit*>()->toPlainText();
      button_named(dialog, sentence_of("piece.write"))->click();
    });
  }
  void set_table() {
    // Once for the shift.
    for (const auto& [label, value] : {std::pair(MessageId("desk.machine"), "M-1"), std::pair(MessageId("desk.filler"), "F-1"), std::pair(MessageId("desk.gas-batch"), "G-1")})
      hand.type(named(window.desk(), label), QLatin1String(value));
  }
  QStringList ten_welds() {
    QStringList welds;
    for (auto* list : window.desk()->findChildren<QListWidget*>())
      for (int i = 0; i < list->count() && welds.size() < 10; ++i) welds << list->item(i)->data(Qt::UserRole).toString();
    return welds;
  }
  void weld(const QString& weld) {
    auto* desk = qobject_cast<WeldDesk*>(window.desk());
    QVERIFY(desk);
    desk->choose(weld);
    QList<NumberField*> strips;
    for (BandStrip* s : desk->findChildren<BandStrip*>())
      if (s->field() && s->isVisible()) strips << s->field();
    QCOMPARE(strips.size(), 3);
    for (const auto& [field, value] : {std::pair(strips[0], "70"), std::pair(strips[1], "10.2"), std::pair(strips[2], "1.5")}) hand.type(field, QLatin1String(value));
    hand.type(named(desk, "desk.lots"), QStringLiteral("L-1"));
    // The procedure is preliminary: a reason is asked for, and sealed.
    sign(button_named(desk, sentence_of("window.record-weld")), QStringLiteral("A-1"), QStringLiteral("W-1"), QStringLiteral("pWPS, piece for the test rig"));
  }
  void inspect(const QString& weld, const char* undercut, MessageId decision) {
    auto* desk = qobject_cast<InspectDesk*>(window.desk());
    QVERIFY(desk);
    desk->choose(weld);
    hand.type(named(desk, "inspect.undercut"), QLatin1String(undercut));
    sign(button_named(desk, sentence_of(decision)), QStringLiteral("A-1"), QStringLiteral("I-1"));
  }
};

}  // namespace

class InspectDeskTest : public QObject {
  Q_OBJECT
 private slots:
  void the_inspector_sees_limits_types_and_signs() {
    DemoShop shop;
    InspectDesk* desk = shop.desk();
    QVERIFY(desk);
    desk->choose(QStringLiteral("W41"));
    auto* throat = qobject_cast<NumberField*>(line_named(desk, sentence_of("inspect.throat")));
    auto* undercut = qobject_cast<NumberField*>(line_named(desk, sentence_of("inspect.undercut")));
    QVERIFY(throat && undercut);
    QPushButton* accept = button_named(desk, sentence_of("inspect.accept"));
    // As drawn, and no undercut: accepted. A comma is as good as a point.
    throat->setText(QStringLiteral("2,0"));
    undercut->setText(QStringLiteral("0"));
    QVERIFY(accept->isEnabled());
    auto entries = desk->records(Decision::accept, "OT-0004", {});
    QCOMPARE(entries.size(), std::size_t{2});
    for (const book::NewEntry& e : entries) {
      QCOMPARE(e.payload["result"].get<std::string>(), std::string("accept"));
      QCOMPARE(e.payload["weld"].get<std::string>(), std::string("W41"));
    }
    // An undercut of half a wall is beyond every limit: it cannot be accepted, and what is rejected is recorded last.
    undercut->setText(QStringLiteral("0.9"));
    QVERIFY(!accept->isEnabled());
    entries = desk->records(Decision::reject, "OT-0004", {});
    QCOMPARE(entries.size(), std::size_t{2});
    QCOMPARE(entries.back().payload["imperfection"].get<std::string>(), std::string("5011"));
    QCOMPARE(entries.back().payload["result"].get<std::string>(), std::string("reject"));
    QCOMPARE(entries.front().payload["result"].get<std::string>(), std::string("accept"));
    // What is beyond its limit is never recorded as accepted, whatever is pressed.
    QCOMPARE(desk->records(Decision::accept, "OT-0004", {}).back().payload["result"].get<std::string>(), std::string("reject"));
    // A rejection without a value stands by itself.
    undercut->clear();
    throat->clear();
    entries = desk->records(Decision::reject, "OT-0004", {});
    QCOMPARE(entries.size(), std::size_t{1});
    QVERIFY(!entries[0].payload.contains("value_mm"));
    // Nothing measured stays when another weld is chosen.
    throat->setText(QStringLiteral("3"));
    desk->choose(QStringLiteral("W40"));
    QVERIFY(throat->text().isEmpty());
    // Left to the engineer: a nonconformity.
    line_named(desk, sentence_of("inspect.note"))->setText(QStringLiteral("crown uneven"));
    entries = desk->records(Decision::engineer, "OT-0004", {});
    QCOMPARE(entries.size(), std::size_t{1});
    QCOMPARE(entries[0].kind, std::string(book::kind::nonconformity));
    QCOMPARE(entries[0].payload["what"].get<std::string>(), std::string("crown uneven"));
  }

  void what_speaks_against_it_is_said() {
    DemoShop shop;
    InspectDesk* desk = shop.desk();
    QVERIFY(desk);
    desk->choose(QStringLiteral("W41"));
    const book::Book b = book::Book::open_read(shop.book());
    const auto has = [&](Decision decision, const std::string& serial, MessageId id) {
      const auto all = desk->concerns(decision, b, serial);
      return std::any_of(all.begin(), all.end(), [&](const Message& m) { return m.id == id; });
    };
    QVERIFY(has(Decision::accept, "OT-9999", "desk.concern-frame"));
    QVERIFY(!has(Decision::accept, "OT-0004", "desk.concern-frame"));
    line_named(desk, sentence_of("inspect.tool"))->setText(QStringLiteral("no such gauge"));
    QVERIFY(has(Decision::accept, "OT-0004", "inspect.concern-tool"));
    line_named(desk, sentence_of("inspect.undercut"))->setText(QStringLiteral("0.9"));
    QVERIFY(has(Decision::accept, "OT-0004", "inspect.concern-limits"));
    QVERIFY(!has(Decision::reject, "OT-0004", "inspect.concern-limits"));
  }

  void a_number_without_its_size_is_not_lost_in_silence() {
    DemoShop shop;
    InspectDesk* desk = shop.desk();
    QVERIFY(desk);
    const auto blocked = [&] {
      bool opened = false;
      QTimer::singleShot(300, [&opened] {
        opened = QApplication::activeModalWidget() != nullptr;
        if (auto* dialog = qobject_cast<QDialog*>(QApplication::activeModalWidget())) dialog->reject();
      });
      button_named(desk, sentence_of("inspect.reject"))->click();
      QTest::qWait(600);
      return !opened;
    };
    auto* number = line_named(desk, sentence_of("inspect.other-number"));
    auto* size = line_named(desk, sentence_of("inspect.other-size"));
    QVERIFY(!blocked());
    number->setText(QStringLiteral("401"));
    QVERIFY(blocked());
    size->setText(QStringLiteral("1"));
    QVERIFY(!blocked());
    number->clear();
    QVERIFY(blocked());
    size->setText(QStringLiteral("one"));
    QVERIFY(blocked());
  }

  void every_finding_left_to_the_engineer_has_an_id_of_its_own() {
    const auto id_at = [](const char* time) { return book::left_to_engineer("A-1", "W01", time, "x").payload["id"].get<std::string>(); };
    QVERIFY(id_at("2026-11-26T12:00:00Z") != id_at("2026-11-26T12:00:01Z"));
  }

  void a_weld_that_waits_for_its_repair_is_recorded_as_one() {
    DemoShop shop;
    QVERIFY(shop.desk());
    book::Book b = book::Book::open(shop.book());
    const auto signed_by = [&](const char* person, const book::NewEntry& e) {
      const auto key = b.unlock(person, book::demo_passphrase);
      b.append_all(person, *key, {e}, now_utc());
    };
    signed_by("I-1", book::left_to_engineer("OT-0004", "W41", "2026-11-26T12:00:00Z", "crown uneven"));
    const std::string id = b.current({book::mark::frame, "OT-0004"}, book::kind::nonconformity).back().text_of(book::field::id);
    shop.window.show_desk(QStringLiteral("weld"));
    auto* desk = qobject_cast<WeldDesk*>(shop.window.desk());
    QVERIFY(desk);
    desk->choose(QStringLiteral("W41"));
    // Not decided: a weld like any other.
    QCOMPARE(desk->records("OT-0004", "W-1", {}, &b).at(0).kind, std::string(book::kind::weld));
    signed_by("E-1", {book::kind::disposition, {{book::field::nonconformity, id}, {book::field::frame, "OT-0004"}, {book::field::decision, "repair"}, {book::field::reason, "grind and weld anew"}}, {}});
    const auto entries = desk->records("OT-0004", "W-1", {}, &b);
    QCOMPARE(entries.size(), std::size_t{1});
    QCOMPARE(entries[0].kind, std::string(book::kind::repair));
    QCOMPARE(entries[0].payload[book::field::nonconformity].get<std::string>(), id);
    // Another weld of the frame waits for nothing, nor does this one on another frame.
    QCOMPARE(desk->records("OT-0003", "W-1", {}, &b).at(0).kind, std::string(book::kind::weld));
    desk->choose(QStringLiteral("W40"));
    QCOMPARE(desk->records("OT-0004", "W-1", {}, &b).at(0).kind, std::string(book::kind::weld));
  }

  void a_stopwatch_gives_the_speed() {
    PassClock clock;
    double speed = 0;
    QObject::connect(&clock, &PassClock::measured, [&](double v) { speed = v; });
    clock.set_length(90);
    clock.toggle();
    QTest::qWait(700);
    clock.toggle();
    QVERIFY(clock.seconds() >= 0.7);
    QCOMPARE(speed, 90 / clock.seconds());
    // Struck twice by mistake: no pass.
    speed = 0;
    clock.toggle();
    clock.toggle();
    QCOMPARE(speed, 0.0);
    // A length that was typed stays.
    clock.length()->setText(QStringLiteral("45,5"));
    clock.set_length(90);
    QCOMPARE(clock.length()->value().value_or(0), 45.5);
  }

  void a_new_shops_first_day() {
    FirstDay day;
    QVERIFY(day.opened());
    day.enter_stock();
    const int for_stock = day.hand.typed;
    day.begin_certificate_and_procedure();
    const int to_first_sheet = day.hand.typed - for_stock;
    QVERIFY2(to_first_sheet <= 40, qPrintable(QString::number(to_first_sheet)));
    const QStringList welds = day.ten_welds();
    QCOMPARE(welds.size(), 10);
    day.enter_record(welds[0]);
    QVERIFY2(day.told.startsWith(cell_text(reports::State{"within"})), qPrintable(day.told));
    day.set_table();
    for (const QString& weld : welds) day.weld(weld);
    QCOMPARE(day.count_of(book::kind::weld), std::size_t{10});
    const int for_welds = day.hand.typed - for_stock - to_first_sheet;
    // The inspector: nine accepted, one with an undercut rejected, welded anew and seen again.
    day.window.show_desk(QStringLiteral("inspect"));
    for (const QString& weld : welds) day.inspect(weld, weld == welds[4] ? "1.2" : "0", weld == welds[4] ? MessageId("inspect.reject") : "inspect.accept");
    QCOMPARE(day.count_of(book::kind::inspection), std::size_t{10});
    day.window.show_desk(QStringLiteral("weld"));
    QCOMPARE(line_named(day.window.desk(), sentence_of("desk.machine"))->text(), QStringLiteral("M-1"));  // it still stands at the table
    day.weld(welds[4]);
    QCOMPARE(day.count_of(book::kind::weld), std::size_t{11});
    day.window.show_desk(QStringLiteral("inspect"));
    day.inspect(welds[4], "0", "inspect.accept");
    const book::Book b = book::Book::open_read(day.book_file);
    QVERIFY(book::verify(b).problems.empty());
    const auto inspections = b.current({book::mark::frame, "A-1"}, book::kind::inspection);
    QCOMPARE(inspections.size(), std::size_t{11});
    QCOMPARE(inspections.back().text_of(book::field::result), std::string("accept"));
    qInfo("typed: %d for stock and machine, %d to the first sheet, %d for ten welds, %d in all; %.0f s", for_stock, to_first_sheet, for_welds,
          day.hand.typed, static_cast<double>(day.clock.elapsed()) / 1000);
  }
};

}  // namespace seamwright::desktop

int main(int argc, char** argv) {
  const seamwright::desktop::Home home;
  QApplication application(argc, argv);
  seamwright::desktop::set_up(application);
  seamwright::desktop::InspectDeskTest test;
  return QTest::qExec(&test, argc, argv);
}

#include "inspect_desk_test.moc"
