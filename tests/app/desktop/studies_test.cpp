// SPDX-License-Identifier: GPL-3.0-or-later
// The pages of studies, tables read into a design, a job begun, a book made: all in the real window.
#include <QCheckBox>
#include <QDialog>
#include <QLineEdit>
#include <QListWidget>
#include <QMenuBar>
#include <QRegularExpression>
#include <QSignalSpy>
#include <cmath>

#include "app/desktop/edit_table.h"
#include "app/desktop/form_panel.h"
#include "app/desktop/frame_view.h"
#include "app/desktop/rate_desk.h"
#include "app/desktop/record_dialog.h"
#include "app/desktop/strips.h"
#include "app/desktop/study_page.h"
#include "app/desktop/weld_desk.h"
#include "catalog/book/verify.h"
#include "reports/render/render.h"
#include "tests/app/desktop/window_driver.h"

namespace seamwright::desktop {

namespace {

struct Opened {
  Job job;
  MainWindow window;
  bool rated = false;
  Opened() {
    QObject::connect(&window.rater(), &Rater::finished, &window, [this] { rated = true; });
    window.show();
    window.open(job.folder());
  }
  ~Opened() {
    if (window.session())
      while (!window.session()->is_saved() && window.session()->undo_stack().canUndo())
        window.session()->undo_stack().undo();
    window.close();
  }
  bool ready() {
    return wait_for([this] { return rated && !window.rater().is_busy(); });
  }
  RateDesk& desk() { return *qobject_cast<RateDesk*>(window.desk()); }
  QString path(const char* name) const { return job.folder() + QLatin1Char('/') + QLatin1String(name); }
  // The study says this as text, worked out anew.
  QString worked(const char* id, int most_ms = 60000) {
    StudyPage* page = desk().page_of(QLatin1String(id));
    QSignalSpy ended(page, &StudyPage::ended);
    page->run_study();
    if (!wait_for([&] { return ended.count() > 0; }, most_ms) || !page->has_answer()) return {};
    return QString::fromStdString(reports::to_terminal(page->answer(), language(), {}));
  }
};

// Fills in a dialog that is about to open, and presses its button.
void when_asked(const QMap<QString, QString>& words, const QString& press,
                std::function<bool(QDialog*)> ready) {
  auto* timer = new QTimer(qApp);
  QObject::connect(timer, &QTimer::timeout, timer, [=] {
    auto* dialog = qobject_cast<QDialog*>(QApplication::activeModalWidget());
    if (!dialog || !ready(dialog)) return;
    timer->stop();
    timer->deleteLater();
    for (auto* line : dialog->findChildren<QLineEdit*>())
      if (words.contains(line->accessibleName())) line->setText(words[line->accessibleName()]);
    for (auto* box : dialog->findChildren<QCheckBox*>()) box->setChecked(true);
    // One that stays says why, and goes.
    QTimer::singleShot(15000, dialog, [dialog] {
      for (const auto* label : dialog->findChildren<QLabel*>()) qWarning("%s", qPrintable(label->text()));
      dialog->reject();
    });
    for (auto* button : dialog->findChildren<QPushButton*>())
      if (button->text() == press) button->click();
  });
  timer->start(20);
}

QString bare(MessageId id) { return sentence_of(id).remove(QLatin1Char('&')); }

}  // namespace

class StudiesTest : public QObject {
  Q_OBJECT
 private slots:
  void every_study_says_what_is_missing() {
    Opened o;
    QVERIFY(o.ready());
    for (const Study& study : studies()) {
      o.window.show_study(study.id);
      StudyPage* page = o.desk().page_of(QLatin1String(study.id));
      QVERIFY(page && page->isVisible());
      QVERIFY2(nameless(*page).isEmpty(), qPrintable(nameless(*page).join(QLatin1Char('\n'))));
      QVERIFY2(doubled_mnemonics(o.window).isEmpty(),
               qPrintable(doubled_mnemonics(o.window).join(QLatin1Char('\n'))));
      const bool asks =
          std::any_of(study.fields.begin(), study.fields.end(), [](const auto& f) { return f.needed; });
      if (!asks) continue;
      page->run_study();
      const auto labels = page->findChildren<QLabel*>();
      QVERIFY(std::any_of(labels.begin(), labels.end(), [&](const QLabel* l) {
        return l->isVisible() && l->text().startsWith(QStringLiteral("▼ "));
      }));
    }
  }

  void a_second_design_stands_beside_the_first() {
    Opened o;
    QVERIFY(o.ready());
    QByteArray thicker = o.job.bytes("design.toml");
    thicker.replace("diameter_mm = 60\nwall_mm = 3", "diameter_mm = 60\nwall_mm = 4");
    QVERIFY(thicker != o.job.bytes("design.toml"));
    o.job.put("second.toml", thicker);
    o.desk().page_of(QStringLiteral("second"))->set_field(QStringLiteral("design"), o.path("second.toml"));
    const QString said = o.worked("second");
    QVERIFY2(said.contains(QStringLiteral("tube[spine].wall_mm")), qPrintable(said));
    const StripsModel& model = o.window.findChild<Strips*>()->model_of_strips();
    const int row = model.row_of(QStringLiteral("W16"));
    QVERIFY(model.second_of(row));
    QVERIFY(model.second_of(row)->used < model.strip(row)->used);
    QVERIFY(model.index(row, StripsModel::strip_column)
                .data(Qt::AccessibleTextRole)
                .toString()
                .contains(QStringLiteral("Orchard trike")));
  }

  void studies_answer() {
    Opened o;
    QVERIFY(o.ready());
    QVERIFY(o.worked("influence", 300000).contains(QStringLiteral("km")));
    QVERIFY(o.worked("gauges").contains(QStringLiteral("microstrain")));
    const QString plan = o.worked("testplan");  // joints have no models yet here, so that it names no piece and says why
    QVERIFY2(plan.contains(QStringLiteral("no model of the joint")), qPrintable(plan));
    QVERIFY(plan.contains(QStringLiteral("A ride with gauges")));
    const QString tips = o.worked("stability");
    QVERIFY(tips.contains(QStringLiteral("m/s2")));
    StudyPage* stability = o.desk().page_of(QStringLiteral("stability"));
    const auto& blocks = stability->answer().blocks;
    QVERIFY(std::any_of(blocks.begin(), blocks.end(),
                        [](const auto& b) { return std::holds_alternative<reports::PictureBlock>(b); }));
    stability->write_to(o.path("tips.pdf"));
    QVERIFY(wait_for([&] { return o.job.bytes("tips.pdf").startsWith("%PDF"); }));
    o.desk().page_of(QStringLiteral("deck"))->set_field(QStringLiteral("deck"), o.path("frame.inp"));
    QVERIFY(!o.worked("deck").isEmpty());
    QVERIFY(o.job.bytes("frame.inp").contains("*BEAM SECTION"));
  }

  void a_sweep_a_ride_and_returns() {
    Opened o;
    QVERIFY(o.ready());
    o.job.put("walls.toml",
              "format = \"seamwright.sweep/1\"\n[[parameter]]\nplace = \"tube[rail].wall_mm\"\nvalues = [2, "
              "2.5]\n");
    StudyPage* sweep = o.desk().page_of(QStringLiteral("sweep"));
    sweep->set_field(QStringLiteral("sweep"), o.path("walls.toml"));
    sweep->set_field(QStringLiteral("csv"), o.path("walls.csv"));
    QVERIFY(!o.worked("sweep").isEmpty());
    QCOMPARE(o.job.bytes("walls.csv").count('\n'), 3);

    QByteArray table = "t [s],up [m/s2]\n";
    for (int i = 0; i < 4000; ++i)
      table += QByteArray::number(i * 0.01, 'f', 2) + "," +
               QByteArray::number(2 * std::sin(0.01 * i * 30) + std::sin(0.01 * i * 47), 'f', 5) + "\n";
    o.job.put("ride.csv", table);
    StudyPage* ride = o.desk().page_of(QStringLiteral("ride"));
    ride->set_field(QStringLiteral("recording"), o.path("ride.csv"));
    QVERIFY(o.worked("ride").contains(QStringLiteral("up")));
    ride->set_field(QStringLiteral("channel"), QStringLiteral("up [m/s2]"));
    ride->set_field(QStringLiteral("node"), QStringLiteral("BB"));
    QVERIFY(o.worked("ride").contains(QStringLiteral("BB")));

    o.job.put("back.toml", "format = \"seamwright.returns/1\"\n[[cracked]]\nweld = \"W16\"\nkm = 4000\n");
    o.desk().page_of(QStringLiteral("returns"))->set_field(QStringLiteral("returns"), o.path("back.toml"));
    QVERIFY(o.worked("returns").contains(QStringLiteral("W16")));
  }

  void faults_stay_on_the_page_and_work_stops() {
    Opened o;
    QVERIFY(o.ready());
    o.job.put("walls.toml",
              "format = \"seamwright.sweep/1\"\n[[parameter]]\nplace = \"tube[rail].wall_mm\"\n"
              "from = 1\nto = 3\nsteps = 500\n");
    StudyPage* sweep = o.desk().page_of(QStringLiteral("sweep"));
    sweep->set_field(QStringLiteral("sweep"), o.path("nowhere.toml"));
    sweep->set_field(QStringLiteral("csv"), o.path("walls.csv"));
    QVERIFY(o.worked("sweep").isEmpty());
    sweep->set_field(QStringLiteral("sweep"), o.path("walls.toml"));
    QSignalSpy ended(sweep, &StudyPage::ended);
    sweep->run_study();
    LoopWatch watch;
    QVERIFY(wait_for([&] { return QFile(o.path("walls.csv.part")).size() > 100; }));
    sweep->stop();
    QVERIFY(wait_for([&] { return ended.count() > 0; }, 10000));
    QVERIFY(!QFile::exists(o.path("walls.csv")));  // whole or not at all; what was done waits beside it
    QVERIFY(watch.turns() > 0);
  }

  void tables_are_read_in_and_undone() {
    Opened o;
    QVERIFY(o.ready());
    const std::string before = o.window.session()->text(File::design);
    o.job.put("nodes.csv", "id;x_mm;y_mm;z_mm;mirror\nA.L;1550,5;280;330;true\nnew;100;0;400;\n");
    o.window.import_from(o.path("nodes.csv"));
    const std::string after = o.window.session()->text(File::design);
    QVERIFY(after.find("1550.5") != std::string::npos);
    QVERIFY(after.find("id = \"new\"") != std::string::npos);
    QVERIFY(o.window.session()->undo_stack().count() == 1);
    o.window.session()->undo_stack().undo();
    QCOMPARE(o.window.session()->text(File::design), before);
    o.job.put("bad.csv", "id,x_mm,y_mm,z_mm\nq,one,2,3\n");
    o.window.import_from(o.path("bad.csv"));
    QVERIFY(o.window.message().startsWith(QStringLiteral("▼ ")));
    QCOMPARE(o.window.session()->text(File::design), before);
  }

  void every_field_tells_what_it_is() {
    Opened o;
    QVERIFY(o.ready());
    for (const auto in : {reports::language_named("en"), reports::language_named("de")}) {
      set_language(in);
      int fields = 0;
      for (int section = 0; section < 4; ++section)
        for (const File file : both_files)
          for (const files::WrittenTable& t : o.window.session()->tables(file)) {
            TableModel model(*o.window.session(), file, t.name);
            for (int k = 0; k < static_cast<int>(t.keys.size()); ++k) {
              const QString about = model.about(model.is_many() ? model.index(0, k) : model.index(k, 0));
              QVERIFY2(about.size() > 8 && !about.contains(QLatin1String("about.")), qPrintable(about));
              ++fields;
            }
          }
      QVERIFY(fields > 300);
    }
    set_language(reports::language_named("en"));
    EditTable* tubes = o.window.findChild<FormPanel*>()->section(0)->table(File::design, "tube");
    const int column = [&] {
      for (int k = 0; k < tubes->table().columnCount(); ++k)
        if (tubes->table().headerData(k, Qt::Horizontal, Qt::UserRole).toString() == QLatin1String("wall_mm"))
          return k;
      return -1;
    }();
    QVERIFY(tubes->table().about(tubes->table().index(0, column)).contains(QStringLiteral("mm")));
  }

  void a_job_is_begun_from_measures() {
    Opened o;
    QVERIFY(o.ready());
    const QString folder = o.path("begun");
    when_asked({{bare("desk.new-name"), QStringLiteral("Mill trike")},
                {bare("desk.new-folder"), folder},
                {QStringLiteral("spine"), QStringLiteral("60x4")},
                 {bare("new.wheelbase"), QStringLiteral("1300")}},
               sentence_of("desk.make-job"), [](QDialog*) { return true; });
    o.rated = false;
    QAction* begin = nullptr;
    for (QAction* action : o.window.menuBar()->actions().first()->menu()->actions())
      if (action->text() == sentence_of("window.menu-new")) begin = action;
    QVERIFY(begin);
    begin->trigger();
    QVERIFY(QFile::exists(folder + QStringLiteral("/design.toml")));
    QVERIFY(o.ready());
    QCOMPARE(o.window.session()->name(), QStringLiteral("Mill trike"));
  }

  // Print by keys alone: the shortcut, a name typed into the dialog for files, Enter.
  void a_report_is_printed_by_keys() {
    Opened o;
    QVERIFY(o.ready());
    QApplication::setActiveWindow(&o.window);
    const QString path = o.path("by-keys.pdf");
    // The list that completes the name pops up at its own pace; Escape sends it away, Enter takes what was
    // typed.
    QTimer keys;
    bool typed = false;
    connect(&keys, &QTimer::timeout, &keys, [&] {
      if (QWidget* popup = QApplication::activePopupWidget()) return QTest::keyClick(popup, Qt::Key_Escape);
      QWidget* dialog = QApplication::activeModalWidget();
      QWidget* field = dialog ? dialog->focusWidget() : nullptr;
      if (!field) return;
      if (!typed) QTest::keyClicks(field, path);
      typed = true;
      if (!QApplication::activePopupWidget()) QTest::keyClick(field, Qt::Key_Return);
    });
    keys.start(100);
    for (QAction* action : o.window.menuBar()->actions().first()->menu()->actions())
      if (action->shortcut() == QKeySequence(QKeySequence::Print)) {
        action->trigger();
        break;
      }
    QVERIFY(wait_for([&] { return o.job.bytes("by-keys.pdf").startsWith("%PDF"); }));
  }

  // A procedure before a run, without a weld of the frame: nothing of it can be recorded.
  void a_procedure_is_looked_at_on_its_own() {
    Opened o;
    QVERIFY(o.ready());
    o.window.show_desk(QStringLiteral("weld"));
    auto* desk = qobject_cast<WeldDesk*>(o.window.desk());
    auto* list = desk->findChild<QListWidget*>();
    list->setCurrentRow(list->count() - 1);
    QVERIFY(desk->records("MT-0001", "W").empty());
    QVERIFY(!desk->findChild<QPushButton*>(QStringLiteral("first"))->isEnabled());
    const auto labels = desk->findChildren<QLabel*>();
    QVERIFY(std::any_of(labels.begin(), labels.end(),
                        [&](const QLabel* l) { return l->text() == list->currentItem()->text(); }));
  }

  void place_and_panels_are_kept() {
    QSize size;
    {
      Opened o;
      QVERIFY(o.ready());
      o.window.resize(1222, 850);
      QTest::qWait(50);
      size = o.window.size();
      QCOMPARE(size.width(), 1222);
    }
    Opened again;
    QVERIFY(again.ready());
    QCOMPARE(again.window.size(), size);
  }

  // Notebooks of a workshop show 1280 points across.
  void it_fits_a_narrow_screen() {
    for (const char* code : {"en", "de"}) {
      set_language(reports::language_named(code));
      Opened o;
      QVERIFY(o.ready());
      QVERIFY2(o.window.minimumSizeHint().width() <= 1280, qPrintable(QString::number(o.window.minimumSizeHint().width())));
      QVERIFY2(o.window.minimumSizeHint().height() <= 700, qPrintable(QString::number(o.window.minimumSizeHint().height())));
    }
    set_language(reports::language_named("en"));
  }

  // Recording without a book offers to make one; then the weld is signed, and the next without a passphrase.
  void a_weld_makes_its_book_and_is_signed() {
    Opened o;
    QVERIFY(o.ready());
    o.window.show_desk(QStringLiteral("weld"));
    auto* desk = qobject_cast<WeldDesk*>(o.window.desk());
    desk->choose(QStringLiteral("W16"));
    const QString file = o.path("shop.book"), words = QStringLiteral("a long enough phrase"),
                  why = QStringLiteral("The frame is entered this evening.");
    when_asked({{bare("desk.book-file"), file},
                {bare("desk.owner"), QStringLiteral("O")},
                {bare("desk.stamp"), QStringLiteral("O1")},
                {bare("window.passphrase"), words},
                {bare("desk.again"), words}},
               sentence_of("desk.make-book"),
               [](QDialog* d) { return d->windowTitle() == bare("desk.new-book"); });
    when_asked({{bare("window.serial"), QStringLiteral("MT-0001")},
                {bare("window.person"), QStringLiteral("O")},
                {bare("desk.reason"), why},
                {bare("window.passphrase"), words}},
               sentence_of("window.sign"),
               [](QDialog* d) { return qobject_cast<RecordDialog*>(d) != nullptr; });
    desk->findChild<QPushButton*>(QStringLiteral("first"))->click();
    QVERIFY2(QFile::exists(file), "no book was made");
    {
      const book::Book b = book::Book::open_read(file.toStdString());
      QCOMPARE(b.last_entry()->kind, std::string("weld"));
      QCOMPARE(b.last_entry()->payload["weld"].get<std::string>(), std::string("W16"));
    }
    when_asked({{bare("window.serial"), QStringLiteral("MT-0002")},
                {bare("desk.reason"), why},
                {bare("window.passphrase"), QString()}},
               sentence_of("window.sign"),
               [](QDialog* d) { return qobject_cast<RecordDialog*>(d) != nullptr; });
    desk->findChild<QPushButton*>(QStringLiteral("first"))->click();
    const book::Book b = book::Book::open_read(file.toStdString());
    QCOMPARE(b.last_entry()->payload["frame"].get<std::string>(), std::string("MT-0002"));
    QVERIFY(book::verify(b).problems.empty());
  }
};

}  // namespace seamwright::desktop

int main(int argc, char** argv) {
  seamwright::desktop::Home home;
  QApplication application(argc, argv);
  seamwright::desktop::set_up(application);
  seamwright::desktop::StudiesTest test;
  return QTest::qExec(&test, argc, argv);
}

#include "studies_test.moc"
